package servo

import (
	"fmt"

	"example.org/levelhead/units"
)

// words are the fields and arguments as the text of an error has them.
var words = units.FieldNames{
	"Neutral": "neutral", "Throw": "throw", "Travel": "travel", "Mount": "mount", "SubTrim": "sub-trim",
	"Low": "low end point", "High": "high end point", "Step": "step", "Min": "shortest pulse", "Max": "longest pulse",

	"Points": "rating", "Points[]": "rating point %d", "Deadband": "deadband", "FullTorqueAt": "full torque at", "Frame": "frame",

	"arm": "arm angle", "v": "voltage", "stall": "stall torque", "radius": "arm radius", "off": "off-square angle",
}

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
