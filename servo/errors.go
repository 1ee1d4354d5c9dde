package servo

import (
	"fmt"

	"example.org/levelhead/units"
)

// FieldError reports a field of a Servo, a Rating, a Spline or a load that cannot be, as in
//
//	throw must be more than 0 µs, not -3 µs
type FieldError struct {
	Field  string // in words, such as "throw", "low end point" or "rating point 2"
	Reason string // what it must be, and what it is
}

func (e *FieldError) Error() string { return e.Field + " " + e.Reason }

// RangeError reports an arm angle that the servo cannot go to, because its
// pulse would lie outside the pulse limits.
type RangeError struct {
	Arm    units.Angle      // the angle asked for
	Excess units.PulseWidth // by how much its pulse passes the limit: negative under Min, positive over Max
}

func (e *RangeError) Error() string {
	side, excess := "longer than the longest", e.Excess
	if excess < 0 {
		side, excess = "shorter than the shortest", -excess
	}
	return fmt.Sprintf("an arm angle of %v needs a pulse %v %s that is allowed", e.Arm, excess, side)
}

// DeadCentreError reports that a link lies along its arm, or square to the
// plane the arm turns in, so that the shaft feels nothing of the link's force.
type DeadCentreError struct {
	Lever units.Length // what is left of the lever: less than 1e-9 of the arm
}

func (e *DeadCentreError) Error() string {
	return fmt.Sprintf("the arm is at a dead centre, where the link's lever about the shaft is %.3g mm; turn the arm or move the link", e.Lever.Millimetres())
}
