package swash

import (
	"fmt"

	"example.org/levelhead/units"
)

// SpecError reports a part of a description that cannot be built.
type SpecError struct {
	Leg    int    // which leg, from 0; -1 where no single leg is at fault
	Field  string // the field of the description
	Reason string // what is wrong with it, with the amount
	Err    error  // the cause, where another package found it
}

func (e *SpecError) Error() string {
	where := e.Field
	if e.Leg >= 0 {
		where = fmt.Sprintf("leg %d: %s", e.Leg+1, e.Field)
	}
	return "swash: " + where + ": " + e.Reason
}

func (e *SpecError) Unwrap() error { return e.Err }

// LegError reports what stops one leg in a pose or at its arm angle.
type LegError struct {
	Leg int   // which leg, from 0
	Err error // a *linkage.ReachError, a *DeadCentreError, a *servo.RangeError or a *ConeError
}

func (e *LegError) Error() string { return fmt.Sprintf("swash: leg %d: %v", e.Leg+1, e.Err) }

func (e *LegError) Unwrap() error { return e.Err }

// DeadCentreError reports a leg whose arm stands in line with its link, or
// past that: the arm no longer moves the plate, or moves it the wrong way.
type DeadCentreError struct {
	// Margin is the lever of the link about the shaft over the arm's radius:
	// 1 is square, 0 the dead centre, below 0 past it.
	Margin float64
}

func (e *DeadCentreError) Error() string {
	if e.Margin < 0 {
		return fmt.Sprintf("past its dead centre: lever %.3g of the arm", e.Margin)
	}
	return fmt.Sprintf("at its dead centre: lever %.3g of the arm", e.Margin)
}

// SingularError reports a pose in which the arms do not hold the plate: it
// could move without any of them moving.
type SingularError struct {
	// Margin is the determinant of the legs' hold on the plate over that at
	// neutral: 1 at neutral, 0 at the singular pose, below 0 past it. Where
	// strained links push the plate out of their hold, it is that with the strains.
	Margin float64
}

func (e *SingularError) Error() string {
	return fmt.Sprintf("swash: the legs do not hold the plate: determinant %.3g of that at neutral", e.Margin)
}

// TiltError reports arm angles that tilt the plate by more than 45°: more than any ball
// joint on a mast allows, and as far as a plate is followed.
type TiltError struct {
	Tilt units.Angle // where the arms were followed to
}

func (e *TiltError) Error() string {
	return fmt.Sprintf("swash: the plate tilts by %.4g°, more than the 45° to which it is followed", e.Tilt.Degrees())
}

// NoPoseError reports arm angles for which no pose was found on the way from
// neutral to them.
type NoPoseError struct {
	Leg    int          // the leg with the largest misfit, from 0
	Misfit units.Length // by how much its link misses, above 0 where the link is too short
}

func (e *NoPoseError) Error() string {
	return fmt.Sprintf("swash: no pose: leg %d misses by %.4g mm", e.Leg+1, e.Misfit.Millimetres())
}

// InputError reports a number that is not finite, or a slice of the wrong length.
type InputError struct {
	Field  string
	Reason string
}

func (e *InputError) Error() string { return "swash: " + e.Field + ": " + e.Reason }
