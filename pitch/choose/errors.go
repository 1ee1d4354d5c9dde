package choose

import (
	"fmt"
	"strings"

	"example.org/levelhead/units"
)

// InputError reports what is wrong with a list of parts, a candidate or an option.
type InputError struct {
	Field  string // such as "arms"
	Index  int    // in a list, from 0; -1 is the field as a whole
	Reason string
}

func (e *InputError) Error() string {
	if e.Index < 0 {
		return fmt.Sprintf("choose: %s: %s", e.Field, e.Reason)
	}
	return fmt.Sprintf("choose: %s, number %d: %s", e.Field, e.Index+1, e.Reason)
}

// CountError reports more combinations than are allowed.
type CountError struct {
	Count float64 // a whole number, which may be beyond any integer type
	Most  int
}

func (e *CountError) Error() string {
	return fmt.Sprintf("choose: %.0f combinations, more than the %d allowed: shorten the lists", e.Count, e.Most)
}

// ObjectiveError reports an objective that cannot be looked at.
type ObjectiveError struct {
	Objective Objective
	Reason    string
}

func (e *ObjectiveError) Error() string { return fmt.Sprintf("choose: %v: %s", e.Objective, e.Reason) }

// LimitError is a candidate beyond a limit.
type LimitError struct {
	What   string // such as "collective rate"
	Mode   string // the flight mode
	Value  fmt.Stringer
	Limit  fmt.Stringer
	Beyond fmt.Stringer // by how much, as an amount
	Whose  string       // the limit in words, such as "our limit 25°; the maker's manual decides"
}

func (e *LimitError) Error() string {
	return fmt.Sprintf("mode %q: %s is %v, beyond the limit by %v (%s)", e.Mode, e.What, e.Value, e.Beyond, e.Whose)
}

// beyond is the error of a value that is beyond its limit.
func beyond[Q interface {
	units.Quantity
	fmt.Stringer
}](what, mode string, value, limit Q, whose string) error {
	return &LimitError{what, mode, value, limit, max(value-limit, limit-value), whose}
}

// ServoError is what keeps a servo's arm from being set.
type ServoError struct {
	Servo string
	Err   error
}

func (e *ServoError) Error() string {
	return fmt.Sprintf("servo %s: %s", e.Servo, strings.TrimPrefix(e.Err.Error(), "servo: "))
}

func (e *ServoError) Unwrap() error { return e.Err }

// SquareError reports an arm that cannot stand square to a link, however long: its
// ball on the plate is no farther from the shaft than the arm is long.
type SquareError struct {
	Arm   units.Length
	Reach units.Length // from shaft to ball
}

func (e *SquareError) Error() string {
	return fmt.Sprintf("an arm of %.4g mm is %.4g mm too long to stand square to its link: the ball is %.4g mm from the shaft",
		e.Arm.Millimetres(), (e.Arm - e.Reach).Millimetres(), e.Reach.Millimetres())
}
