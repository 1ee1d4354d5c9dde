package choose

import (
	"fmt"

	"example.org/levelhead/units"
)

// words are what fields are called in errors.
var words = units.FieldNames{
	"rig": "machine", "Arms": "arms", "Arms[]": "arms: entry %d", "Teeth": "teeth", "Balls": "balls", "Balls[]": "balls: entry %d",
	"Links": "links", "Links[]": "links: entry %d", "Horns": "pitch horns", "Horns[]": "pitch horns: entry %d",
	"BeyondLimit": "beyond limit", "Objectives": "objectives", "Objectives[]": "objectives: entry %d",
}

// refuse returns the error of a field of Owned, Candidate or Options, or of the argument rig.
func refuse(field, reason string, args ...any) *units.FieldError {
	e := words.Refuse(field, reason, args...)
	e.Words = "choose: " + e.Words
	return e
}

// CountError reports more combinations than are allowed.
type CountError struct {
	Count float64 // a whole number, which may be beyond any integer type
	Most  int
}

func (e *CountError) Error() string {
	return fmt.Sprintf("choose: %.0f combinations are too many: shorten the lists to %d or fewer", e.Count, e.Most)
}

// ObjectiveError reports an objective that the machine file does not give figures for.
type ObjectiveError struct {
	Objective Objective
	Reason    string
}

func (e *ObjectiveError) Error() string {
	return fmt.Sprintf("choose: %v cannot be an objective: %s", e.Objective, e.Reason)
}

// LimitError reports a candidate beyond one of the machine file's limits.
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

// beyond returns the error of a value that is beyond its limit. Figures are rounded for
// reading, but never to nothing.
func beyond[Q interface {
	units.Quantity
	fmt.Stringer
}](what, mode string, value, limit Q, whose string) error {
	rounded := func(q Q) Q {
		if r := units.Round(q, 2); r != 0 {
			return r
		}
		return q
	}
	return &LimitError{what, mode, rounded(value), limit, rounded(max(value-limit, limit-value)), whose}
}

// PulseError reports a servo that would have to go beyond its pulse limit at some position
// of the sticks, mostly at their corners.
type PulseError struct {
	Mode    string           // the flight mode
	Beyond  units.PulseWidth // by which the servo would have to go beyond its limit
	Allowed units.PulseWidth // of that, see Options.BeyondLimit
}

func (e *PulseError) Error() string {
	text := fmt.Sprintf("mode %q: a servo would need %v more than its pulse limit", e.Mode, e.Beyond)
	if e.Allowed > 0 {
		text += fmt.Sprintf("; you allow %v", e.Allowed)
	}
	return text
}

// ServoError reports why the arm of a servo cannot be set.
type ServoError struct {
	Servo string
	Err   error
}

func (e *ServoError) Error() string {
	return fmt.Sprintf("servo %s: %v", e.Servo, e.Err)
}

func (e *ServoError) Unwrap() error { return e.Err }

// SquareError reports an arm that no link can meet at a right angle. The ball on the plate
// is no farther from the servo's shaft than the arm is long.
type SquareError struct {
	Arm   units.Length
	Reach units.Length // from shaft to ball
}

func (e *SquareError) Error() string {
	return fmt.Sprintf("an arm of %.4g mm is %.4g mm too long: to stand square to its link it must be shorter than %.4g mm",
		e.Arm.Millimetres(), (e.Arm - e.Reach).Millimetres(), e.Reach.Millimetres())
}
