package units

import (
	"errors"
	"fmt"
	"strings"
)

// Causes of a [ParseError], for [errors.Is]. The text of the ParseError says what to
// write instead.
var (
	ErrNoNumber    = errors.New("does not begin with a number")
	ErrComma       = errors.New("has a comma in the number")
	ErrNoUnit      = errors.New("has no unit")
	ErrUnknownUnit = errors.New("has a number, and then no unit that fits")
	ErrZeroDivisor = errors.New("divides by zero")
	ErrOverflow    = errors.New("is too large for a float64")
)

// A ParseError says which text is not a quantity, why, and what to write instead, as in
//
//	length "12" needs a unit, such as "12 mm" (or cm, m, in, ft)
type ParseError struct {
	Text     string   // the whole text
	Quantity string   // the quantity sought, such as "angle"
	Units    []string // the symbols of the units that would fit; the first is the one to suggest
	Err      error    // the cause, one of those above
}

func (e *ParseError) Error() string {
	var unit, others string
	if len(e.Units) > 0 {
		unit = e.Units[0]
	}
	if len(e.Units) > 1 {
		others = " (or " + strings.Join(e.Units[1:], ", ") + ")"
	}
	what := fmt.Sprintf("%s %q", e.Quantity, e.Text)
	switch {
	case errors.Is(e.Err, ErrNoNumber):
		return fmt.Sprintf("%s must begin with a number; write for example %q%s", what, join("12.5", unit), others)
	case errors.Is(e.Err, ErrComma):
		return fmt.Sprintf("%s has a comma; write a decimal point, such as %q, and do not group digits", what, join("12.5", unit))
	case errors.Is(e.Err, ErrNoUnit):
		return fmt.Sprintf("%s needs a unit, such as %q%s", what, join(strings.TrimSpace(e.Text), unit), others)
	case errors.Is(e.Err, ErrUnknownUnit):
		return fmt.Sprintf("%s must be a number and then one of the units %s", what, strings.Join(e.Units, ", "))
	case errors.Is(e.Err, ErrZeroDivisor):
		return what + " divides by zero; write another number in its place"
	case errors.Is(e.Err, ErrOverflow):
		return what + " is too large to calculate with; write a smaller number"
	}
	return fmt.Sprintf("%s: %v", what, e.Err)
}

// Unwrap returns the cause.
func (e *ParseError) Unwrap() error { return e.Err }

// A NotFiniteError is returned by the MarshalText methods for NaN and infinities, which
// no text that [Parse] reads could give back.
type NotFiniteError struct {
	Quantity string  // such as "angle"
	Value    float64 // NaN or an infinity
}

func (e *NotFiniteError) Error() string {
	return fmt.Sprintf("%s %v cannot be written; it must be a finite number", e.Quantity, e.Value)
}
