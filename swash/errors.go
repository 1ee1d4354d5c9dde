package swash

import (
	"fmt"

	"example.org/levelhead/units"
)

// words are the fields and arguments as the text of an error has them, where those are not
// the fields themselves.
var words = units.FieldNames{
	"Legs[].Ball": "servo %d: Ball", "Legs[].Stiffness": "servo %d: Stiffness",
	"m": "mechanism", "toward": "Toward",

	"arms": "arms:", "arms[]": "arm %d:", "commands": "commands:", "commands[]": "command %d:", "demand": "demand:",
	"directions": "directions:", "dst": "dst:",
}

// refuse returns the *units.FieldError of a field or argument, as in
//
//	swash: servo 2: Ball must have a radius of more than 0 mm, not -3 mm
func refuse(field, reason string, args ...any) error {
	return units.In("", "swash: ", words.Refuse(field, reason, args...))
}

// refuseIndex is refuse of an index i that is not one of the n things called so.
func refuseIndex(called string, i, n int) error {
	words := "swash: " + called
	if i >= 0 {
		words = fmt.Sprintf("swash: servo %d: %s", i+1, called)
	}
	return &units.FieldError{Field: "i", Words: words, Reason: fmt.Sprintf("must be one of the %d there are", n)}
}

// LegError reports what stops one leg in a pose or at its arm angle. Its text calls the leg
// by its servo, counted from 1.
type LegError struct {
	Leg int   // which leg, from 0, in the order of the servos; of BellCranks, which function
	Err error // a *linkage.ReachError, a *linkage.TravelError, a *DeadCentreError or a *servo.RangeError
}

func (e *LegError) Error() string { return fmt.Sprintf("swash: servo %d: %v", e.Leg+1, e.Err) }

func (e *LegError) Unwrap() error { return e.Err }

// DeadCentreError reports an arm in line with its link, or past that: the arm no longer moves
// what its link drives, or moves it the wrong way.
type DeadCentreError struct {
	// Margin is the lever of the link about the shaft over the arm's radius: 0 is the
	// dead centre, and it is negative past that.
	Margin float64
}

func (e *DeadCentreError) Error() string {
	if e.Margin < 0 {
		return fmt.Sprintf("the arm is past its dead centre, with a lever of %.3g %% of its radius on the wrong side; use less travel or a longer arm", -100*e.Margin)
	}
	return fmt.Sprintf("the arm is at its dead centre, with a lever of %.3g %% of its radius; use less travel or a longer arm", 100*e.Margin)
}

// SingularError reports a pose in which the arms do not hold the plate: it
// could move without any of them moving.
type SingularError struct {
	// Margin is how firmly the legs hold the plate, by the determinant of their equations,
	// over that at neutral: 1 at neutral, 0 at the singular pose, negative past it. Where
	// strained links push the plate out of its place, it counts the strains.
	Margin float64
}

func (e *SingularError) Error() string {
	return fmt.Sprintf("swash: the servo links do not hold the swashplate here, with %.3g %% of their hold at neutral; use less travel", 100*e.Margin)
}

// TiltError reports arm angles that tilt the plate by more than 45°: more than any ball
// joint on a mast allows, and as far as Pose follows a plate.
type TiltError struct {
	Tilt units.Angle // where Pose followed the arms to, from level
}

func (e *TiltError) Error() string {
	return fmt.Sprintf("swash: the arms tilt the swashplate by %.4g°, and it must stay within 45°; turn the arms less", e.Tilt.Degrees())
}

// NoPoseError reports arm angles for which Pose found no pose on the way from
// neutral to them.
type NoPoseError struct {
	Leg    int          // the leg with the largest misfit, from 0
	Misfit units.Length // by how much its link misses, positive where the link is too short
}

func (e *NoPoseError) Error() string {
	side, misfit := "short", e.Misfit.Millimetres()
	if misfit < 0 {
		side, misfit = "long", -misfit
	}
	if !(misfit >= 0.001) {
		return fmt.Sprintf("swash: the swashplate cannot stand at these arm angles: no pose was found, and the link of servo %d fits worst; turn the arms less", e.Leg+1)
	}
	return fmt.Sprintf("swash: the swashplate cannot stand at these arm angles: the link of servo %d is too %s by %.4g mm; turn the arms less", e.Leg+1, side, misfit)
}

var errNoPlate = refuse("plate", "is empty; make it with NewPlate")
