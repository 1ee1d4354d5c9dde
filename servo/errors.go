package servo

import (
	"fmt"

	"example.org/levelhead/units"
)

// FieldError reports a field of a Servo, a Spline or a load that makes no sense.
type FieldError struct {
	Field  string
	Reason string
}

func (e *FieldError) Error() string { return "servo: " + e.Field + ": " + e.Reason }

// RangeError reports an arm angle that the servo cannot go to, because its
// pulse would lie outside the pulse limits.
type RangeError struct {
	Arm    units.Angle      // the angle asked for
	Excess units.PulseWidth // by how much its pulse passes the limit: below 0 under Min, above 0 over Max
}

func (e *RangeError) Error() string {
	side := "above the longest"
	excess := e.Excess
	if excess < 0 {
		side, excess = "below the shortest", -excess
	}
	return fmt.Sprintf("servo: arm angle %v needs a pulse %v %s allowed", e.Arm, excess, side)
}

// DeadCentreError reports that a link lies along its arm, or square to the
// plane the arm turns in, so that the shaft feels nothing of the link's force.
type DeadCentreError struct {
	Lever units.Length // what is left of the lever, next to nothing
}

func (e *DeadCentreError) Error() string {
	return fmt.Sprintf("servo: dead centre: the link's lever about the shaft is %.3g mm", e.Lever.Millimetres())
}
