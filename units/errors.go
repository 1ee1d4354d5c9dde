package units

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Causes of a [ParseError].
var (
	ErrNoNumber    = errors.New("does not begin with a number")
	ErrComma       = errors.New("has a comma in the number; write a decimal point and do not group digits")
	ErrNoUnit      = errors.New("has no unit")
	ErrUnknownUnit = errors.New("has a number, but then not a unit that fits")
	ErrZeroDivisor = errors.New("divides by zero")
	ErrOverflow    = errors.New("is too large for a float64")
)

// A ParseError says which text is not a quantity, and why.
type ParseError struct {
	Text     string   // the whole text
	Quantity string   // the quantity sought, such as "angle"
	Units    []string // the symbols of the units that would fit
	Err      error    // the cause, one of those above
}

func (e *ParseError) Error() string {
	return fmt.Sprintf("units: %s %s %v (units that fit: %s)",
		e.Quantity, strconv.Quote(e.Text), e.Err, strings.Join(e.Units, ", "))
}

// Unwrap returns the cause.
func (e *ParseError) Unwrap() error { return e.Err }

// A NotFiniteError is returned by the MarshalText methods for NaN and
// infinities.
type NotFiniteError struct {
	Quantity string  // such as "angle"
	Value    float64 // NaN or an infinity
}

func (e *NotFiniteError) Error() string {
	return fmt.Sprintf("units: %s %v is not finite and has no text", e.Quantity, e.Value)
}
