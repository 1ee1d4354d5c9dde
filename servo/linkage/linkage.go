package linkage

import (
	"math"

	"example.org/levelhead/units"
)

// Kind is what a number at one end of a linkage means.
type Kind int

// The kinds, with the units of their numbers.
const (
	Angle  Kind = iota // radians
	Length             // metres
)

// String returns "angle" or "length".
func (k Kind) String() string {
	if k == Length {
		return "length"
	}
	return "angle"
}

// Linkage is a geometry type: what one input moves. One number goes in, such as a
// servo arm's angle, and one comes out, such as the height of a ball or the angle
// of another arm. It must hold these laws, which package linkagetest checks:
//
//  1. Back after Move is the identity, within the travel.
//  2. Slope is the derivative of Out.
//  3. Out is continuous and strictly monotone within the travel, which holds 0,
//     the neutral input.
//  4. Outside the travel, and for NaN and infinities, Move and Back return an
//     error and no number.
//  5. Within the travel no result is NaN or infinite, and both angles of Motion
//     are above 0 and at most 90°.
//  6. Move and Back allocate nothing, except to report an error.
//  7. A linkage is constant: its kinds are of those declared, and the same
//     question has the same answer each time.
//  8. The travel's stops are true. Towards an end with InputInLine Input goes to nothing,
//     and Transmission does with OutputInLine. Towards one that is Unbounded Slope neither
//     vanishes nor grows without bound.
//  9. Of a linkage that is Placed, the distance between the ends is the same all the way,
//     and their slopes are the derivatives. LinkSlopes of one that is Linked too agrees.
type Linkage interface {
	// Kinds tells whether an angle or a length goes in, and which comes out.
	Kinds() (in, out Kind)
	// Move returns the output and its slope at an input. The error is a *TravelError.
	Move(in float64) (Motion, error)
	// Back returns the input that gives an output, on the neutral branch. The
	// error is a *TravelError.
	Back(out float64) (float64, error)
	// Travel returns the open interval of inputs, around 0, within which Move answers.
	Travel() Travel
}

// Motion is where a linkage stands at one input.
type Motion struct {
	Out   float64 // radians or metres, as Kinds says
	Slope float64 // derivative of Out over the input, with the sign of that at neutral
	// Input is how far the driving arm is from its dead centre, above 0 and up to 90°,
	// which is best. Its sine is the lever of the link about the shaft over the arm's
	// radius. In a plane it is the angle between arm and link. Transmission is the same
	// at the other end, between the link and what it drives. In a chain each is the
	// least of all members.
	Input, Transmission units.Angle
	// OffSquare and BallLinkAngle are those of the first arm to its link, as in Stance.
	// Both are 0 where there is no arm.
	OffSquare, BallLinkAngle units.Angle
}

// Advantage returns the mechanical advantage: the force or torque at the output
// for one at the input, without friction. It is the inverse of the slope, by
// virtual work.
func (m Motion) Advantage() float64 { return 1 / m.Slope }

// Stop is what ends a linkage's travel.
type Stop int

// The stops.
const (
	// Unbounded is no end: the linkage works all round, and its travel is cut
	// half a turn of the input from neutral, or never.
	Unbounded Stop = iota
	// InputInLine is a dead centre where the driving arm comes in line with
	// its link: the output stands still there, and then turns back.
	InputInLine
	// OutputInLine is a dead centre where the driven arm comes in line with
	// the link, or the link square to the slider: the output could go either
	// way there, and there is none beyond.
	OutputInLine
)

// String says what ends the travel in words, such as "driving arm in line with its link".
func (s Stop) String() string {
	switch s {
	case InputInLine:
		return "driving arm in line with its link"
	case OutputInLine:
		return "link in line with what it drives"
	}
	return "unbounded"
}

// Travel is the open interval of inputs, around the neutral input 0, within which
// a linkage works. The ends themselves are dead centres: stay a little inside them.
type Travel struct {
	Low, High     float64 // inputs, in radians or metres as Kinds says; Low is negative and High positive
	AtLow, AtHigh Stop    // what ends the travel there
}

// Holds reports whether an input lies within the travel.
func (t Travel) Holds(in float64) bool { return in > t.Low && in < t.High }

// Clamp returns the input within the travel that is nearest to in: the last one before an end,
// for one at that end or beyond it. NaN stays NaN. It is for what rounding puts on an end.
func (t Travel) Clamp(in float64) float64 {
	switch {
	case in >= t.High:
		return math.Nextafter(t.High, t.Low)
	case in <= t.Low:
		return math.Nextafter(t.Low, t.High)
	}
	return in
}

// check reports an input outside the travel.
func (t Travel) check(in float64) error {
	switch {
	case t.Holds(in):
		return nil
	case in >= t.High:
		return &TravelError{In: in, Excess: in - t.High, Stop: t.AtHigh}
	case in <= t.Low:
		return &TravelError{In: in, Excess: in - t.Low, Stop: t.AtLow}
	}
	return &TravelError{In: in, Excess: math.NaN()}
}

// checkOutput reports an output outside those that the travel gives, from atLow to
// atHigh at its ends.
func (t Travel) checkOutput(out, atLow, atHigh float64) error {
	if out >= math.Min(atLow, atHigh) && out <= math.Max(atLow, atHigh) {
		return nil
	}
	return t.outputError(out, atLow, atHigh)
}

// outputError reports an output at or beyond the nearer end of the range.
func (t Travel) outputError(out, atLow, atHigh float64) error {
	end, stop := atHigh, t.AtHigh
	if math.Abs(out-atLow) < math.Abs(out-atHigh) {
		end, stop = atLow, t.AtLow
	}
	return &TravelError{In: math.NaN(), Out: out, Excess: out - end, Stop: stop}
}

// Linked is a Linkage that has links whose lengths move its output. Play in a ball link and
// turns of a link end act as such a change of length.
type Linked interface {
	Linkage
	// LinkSlopes appends to dst the derivative of the output over the length of
	// each link, first to last, at an input: in rad/m or m/m. The error is a
	// *TravelError.
	LinkSlopes(dst []float64, in float64) ([]float64, error)
}

// The geometry types of this package.
var (
	_ Linked  = (*ArmToLine)(nil)
	_ Placed  = (*ArmToLine)(nil)
	_ Linked  = (*ArmToArm)(nil)
	_ Placed  = (*ArmToArm)(nil)
	_ Linkage = (*Lever)(nil)
	_ Linked  = (*Chain)(nil)
)
