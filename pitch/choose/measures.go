package choose

import (
	"math"

	"example.org/levelhead/units"
)

// Measures are what a machine does, at worst over all its flight modes. They are
// rounded to a millionth of the unit they are written in, as a setup.Sheet is.
type Measures struct {
	Tilt units.Angle // of the plate under collective alone
	// Step is by how much the pitch of the blade under the gauge changes where all
	// servos move by one radio pulse step towards more collective, where the
	// collective stick is coarsest.
	Step units.Angle
	// Deadband is by how much that pitch can be off to either side, all servos at the
	// same end of their deadbands; 0 where a servo has no rating.
	Deadband      units.Angle
	Rate          units.Ratio      // largest of the rates, as an amount
	Use           units.Ratio      // of the way from neutral to the nearer pulse limit, by the servo that works most
	BeyondLimit   units.PulseWidth // beyond a pulse limit, as an amount
	DeadCentre    units.Angle      // least angle between an arm or a horn and its link
	BallLinkAngle units.Angle      // of a ball link on an arm, out of the arm's plane
	// Error is how far a target is missed with the radio's steps; in a mode without
	// targets, how far the pitch is from what the machine gives now. Of cyclic it takes
	// the amplitude alone: unlike arms may turn its direction by a few degrees.
	Error units.Angle
	// Loaded reports that Load and Stroke are known: the machine file has a rotor,
	// ratings of all servos, and a rotor speed in one mode at least.
	Loaded bool
	Load   units.Ratio // of a servo, as part of its stall torque
	Stroke units.Time  // of the collective stick, against the largest load
}

// Resolution is what the blade's pitch cannot be set finer than: a radio step, or the
// deadband from end to end.
func (m *Measures) Resolution() units.Angle { return max(m.Step, 2*m.Deadband) }

// worst takes over from o what is worse there.
func (m *Measures) worst(o *Measures) {
	m.Tilt, m.Step, m.Deadband = max(m.Tilt, o.Tilt), max(m.Step, o.Step), max(m.Deadband, o.Deadband)
	m.Rate, m.Use, m.BeyondLimit = max(m.Rate, o.Rate), max(m.Use, o.Use), max(m.BeyondLimit, o.BeyondLimit)
	m.DeadCentre, m.BallLinkAngle, m.Error = min(m.DeadCentre, o.DeadCentre), max(m.BallLinkAngle, o.BallLinkAngle), max(m.Error, o.Error)
	m.Loaded, m.Load, m.Stroke = m.Loaded || o.Loaded, max(m.Load, o.Load), max(m.Stroke, o.Stroke)
}

func (m *Measures) round() {
	for _, a := range []*units.Angle{&m.Tilt, &m.Step, &m.Deadband, &m.DeadCentre, &m.BallLinkAngle, &m.Error} {
		*a = units.Round(*a, decimals)
	}
	for _, r := range []*units.Ratio{&m.Rate, &m.Use, &m.Load} {
		*r = units.Round(*r, decimals)
	}
	m.BeyondLimit, m.Stroke = units.Round(m.BeyondLimit, decimals), units.Round(m.Stroke, decimals)
}

const decimals = 6

// none is what is measured of nothing.
var none = Measures{DeadCentre: math.Pi / 2}
