package choose

import (
	"math"

	"example.org/levelhead/units"
)

// Measures are what a machine does, each the worst of all its flight modes. They are rounded
// to a millionth of the unit they are written in, as a sheet.Sheet is.
type Measures struct {
	Tilt units.Angle `json:"tilt"` // the largest tilt of the plate under collective alone
	// Step is by how much the pitch of the blade under the gauge changes when all servos
	// move by one radio pulse step towards more collective. It is taken where the
	// collective stick is coarsest.
	Step units.Angle `json:"coarsest_step"`
	// Deadband is by how much that pitch can be off to either side, with all servos at the
	// same end of their deadbands. It is 0 if a servo has no rating.
	Deadband      units.Angle      `json:"deadband,omitempty"`
	Rate          units.Ratio      `json:"rate"`              // the largest collective, right cyclic or forward cyclic rate, as an amount
	Use           units.Ratio      `json:"use"`               // share of the way from neutral to the nearer pulse limit, of the servo that uses most
	BeyondLimit   units.PulseWidth `json:"most_beyond_limit"` // by which a servo would have to go beyond its pulse limit, as an amount
	DeadCentre    units.Angle      `json:"dead_centre"`       // least angle from a dead centre, of an arm or a pitch horn and its link
	BallLinkAngle units.Angle      `json:"ball_link_angle"`   // largest angle of a ball link on an arm, out of the arm's plane
	// Error is how far the pitch is from a target, with the radio's steps. In a mode
	// without targets it is how far the pitch is from what the machine gives now. Of cyclic
	// only the amplitude counts: unlike arms can turn its direction by a few degrees.
	Error units.Angle `json:"pitch_error"`
	// Loaded reports that Load and Stroke are known. For that the machine file needs a
	// rotor, ratings of all servos, and a rotor speed in at least one mode.
	Loaded bool        `json:"loaded"`
	Load   units.Ratio `json:"load" plain:"with=Loaded"`   // largest load of a servo, as a share of its stall torque
	Stroke units.Time  `json:"stroke" plain:"with=Loaded"` // time that the slowest servo takes for full collective, against its largest load
}

// Resolution returns the smallest amount to which the blade's pitch can be set: the radio
// step or, if that is larger, the deadband from end to end.
func (m *Measures) Resolution() units.Angle { return max(m.Step, 2*m.Deadband) }

// worst keeps of each figure the worse one, its own or that of o.
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

// none are the measures before anything is measured.
var none = Measures{DeadCentre: math.Pi / 2}
