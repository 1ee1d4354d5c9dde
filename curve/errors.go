package curve

import (
	"fmt"
	"math"
)

// FitError reports points that are sound by themselves but so unevenly spaced
// that the cubic through them is lost to rounding.
type FitError struct {
	Kind    Kind
	Segment int     // from point Segment to the next one, counted from 0; -1 where the whole fit failed
	Misfit  float64 // by how much the segment misses the point at its right end; NaN or infinite where it has no value
	Err     error   // the cause, where the linear solver reported one
}

func (e *FitError) Error() string {
	if e.Segment < 0 {
		return fmt.Sprintf("the points are too unevenly spaced for a curve of kind %v (%v); use another kind or move points apart", e.Kind, e.Err)
	}
	return fmt.Sprintf("the points are too unevenly spaced for a curve of kind %v, which misses point %d by %.3g; use another kind or move points apart",
		e.Kind, e.Segment+2, e.Misfit)
}

func (e *FitError) Unwrap() error { return e.Err }

// NotMonotoneError reports a curve that has no inverse, because it turns back
// or stands still on the way from its first point to its last.
type NotMonotoneError struct {
	Segment int     // the first such segment, from point Segment to the next one, counted from 0
	Back    float64 // how far Y runs back along it, 0 where it is flat
}

func (e *NotMonotoneError) Error() string {
	if e.Back == 0 {
		return fmt.Sprintf("the curve has no inverse, because it is level from point %d to point %d; let it rise or fall all the way", e.Segment+1, e.Segment+2)
	}
	return fmt.Sprintf("the curve has no inverse, because it turns back by %.3g between point %d and point %d; let it rise or fall all the way",
		e.Back, e.Segment+1, e.Segment+2)
}

// RangeError reports a number outside the closed range from Lo to Hi, or one
// that is not a number.
type RangeError struct {
	Name   string // what the number is, such as "y" or "expo"
	Value  float64
	Lo, Hi float64
}

// Excess returns by how much the value passes the range: negative under Lo,
// positive over Hi, NaN for a NaN.
func (e *RangeError) Excess() float64 {
	if e.Value < e.Lo {
		return e.Value - e.Lo
	}
	return e.Value - e.Hi
}

func (e *RangeError) Error() string {
	switch excess := e.Excess(); {
	case excess < 0:
		return fmt.Sprintf("%s must be from %g to %g, not %g: it is %.3g too low", e.Name, e.Lo, e.Hi, e.Value, -excess)
	case excess > 0:
		return fmt.Sprintf("%s must be from %g to %g, not %g: it is %.3g too high", e.Name, e.Lo, e.Hi, e.Value, excess)
	}
	return fmt.Sprintf("%s must be a number from %g to %g, not %g", e.Name, e.Lo, e.Hi, e.Value)
}

// NotFiniteError reports a number that is NaN or infinite.
type NotFiniteError struct {
	Name  string // what the number is: "y", "lo", "hi", or "f(0.5)"
	Value float64
}

func (e *NotFiniteError) Error() string {
	return fmt.Sprintf("%s must be a finite number, not %g", e.Name, e.Value)
}

// BracketError reports that a function's values at the two ends of a search do
// not lie on either side of the wanted one.
type BracketError struct {
	Y          float64 // the wanted value
	Lo, Hi     float64 // the ends of the search
	AtLo, AtHi float64 // the values there
}

func (e *BracketError) Error() string {
	return fmt.Sprintf("f(%g) = %g and f(%g) = %g must lie on either side of %g; move the ends of the search", e.Lo, e.AtLo, e.Hi, e.AtHi, e.Y)
}

// checkRange returns a *RangeError unless v is a number from lo to hi.
func checkRange(name string, v, lo, hi float64) error {
	if v >= lo && v <= hi {
		return nil
	}
	return &RangeError{Name: name, Value: v, Lo: lo, Hi: hi}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
