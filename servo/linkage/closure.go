package linkage

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// follower is what an arm's link drives: a ball on a straight line, or on
// another arm.
type follower interface {
	// follow returns the output at which the link reaches from an arm's ball,
	// on the follower's branch.
	follow(from r3.Vec) (out float64, ok bool)
	// miss returns by how much the link does not reach from there.
	miss(from r3.Vec) error
	// ball returns where the driven ball stands at an output, its derivative
	// over the output, and the length of that derivative for which the link is
	// square to the motion.
	ball(out float64) (at, slope r3.Vec, square float64)
	// end returns the driven ball as an end of the link.
	end(out float64) End
}

// closure is an arm whose link drives a follower: all that the geometry types of
// one arm and one link have in common. The link belongs to the arm.
type closure struct {
	arm    Arm
	follow follower
	branch Branch // of the arm, towards the driven ball
	travel Travel
	// lowest and highest are the last inputs within the travel, and atLow and
	// atHigh their outputs.
	lowest, highest float64
	atLow, atHigh   float64
	outKind         Kind
	neutral         standing // at arm angle 0, once it is found
}

// newClosure finds the branch and the travel from neutral, arm angle 0. The error is of
// the ArmSpec, or of its Link.
func newClosure(arm Arm, f follower, out Kind) (closure, error) {
	c := closure{arm: arm, follow: f, outKind: out}
	s, ok := c.stand(0)
	if !ok {
		at, _ := arm.Ball(0)
		miss := f.miss(at.Vec())
		e := words.Refuse("Link", "must fit at neutral: %v", miss)
		e.Err = miss
		return c, e
	}
	c.neutral = s
	if !(math.Abs(s.lever) > dead) || !(math.Abs(s.transmission) > dead) {
		return c, &units.FieldError{Words: "Neutral", Reason: "must not be a dead centre; turn the arm or change the link"}
	}
	c.branch = Ahead
	if s.lever < 0 {
		c.branch = Behind
	}
	c.travel.High, c.travel.AtHigh = c.beforeFold(c.end(1))
	c.travel.Low, c.travel.AtLow = c.beforeFold(c.end(-1))
	// The ends themselves may just fail: their outputs are taken from inside.
	c.highest, c.atHigh = c.lastInput(c.travel.High)
	c.lowest, c.atLow = c.lastInput(c.travel.Low)
	return c, nil
}

// standing is where a closure stands at one input.
type standing struct {
	Stance       // without its angles
	out          float64
	lever        float64 // of the link about the driving shaft, over the arm's radius; in a plane the sine of their angle
	transmission float64 // of the link on the driven ball, over the motion's own length: likewise
	slope        float64
	// perLink is the derivative of the output over the link's length.
	perLink float64
}

// stand solves the closure at an arm angle.
func (c *closure) stand(q float64) (standing, bool) {
	at, perIn := c.arm.Ball(units.Angle(q))
	out, ok := c.follow.follow(at.Vec())
	if !ok {
		return standing{}, false
	}
	to, perOut, square := c.follow.ball(out)
	// Both ends of the link move alike along it: w.(A' dq - B' dy) = 0.
	s := c.arm.stance(at, perIn, to)
	lever, transmission := float64(s.Lever), r3.Dot(r3.Vec(s.Along), perOut)
	return standing{s, c.unwrapped(q, out), lever / c.arm.radius, transmission / square, lever / transmission, -1 / transmission}, true
}

// unwrapped adds a whole turn to an output angle that has gone past half a turn
// from neutral and comes back from the other side: the output is monotone.
func (c *closure) unwrapped(q, out float64) float64 {
	const rounding = 1e-6 // far above that of the output near neutral
	sense := math.Copysign(1, q*c.neutral.slope)
	if c.outKind == Angle && q != 0 && (out-c.neutral.out)*sense < -rounding {
		return out + sense*2*math.Pi
	}
	return out
}

// Kinds implements Linkage.
func (c *closure) Kinds() (in, out Kind) { return Angle, c.outKind }

// Travel implements Linkage.
func (c *closure) Travel() Travel { return c.travel }

// within solves the closure at an input within its travel. In the last few bits
// before an end, where a lever is nothing to rounding, it refuses.
func (c *closure) within(in float64) (standing, error) {
	if err := c.travel.check(in); err != nil {
		return standing{}, err
	}
	stop, ended := OutputInLine, true
	s, ok := c.stand(in)
	if ok {
		stop, ended = c.lost(s)
	}
	if !ended {
		return s, nil
	}
	end := c.travel.High
	if in < 0 {
		end = c.travel.Low
	}
	return standing{}, &TravelError{In: in, Excess: in - end, Stop: stop}
}

// Move implements Linkage.
func (c *closure) Move(in float64) (Motion, error) {
	s, err := c.within(in)
	if err != nil {
		return Motion{}, err
	}
	c.arm.angles(&s.Stance)
	return Motion{
		Out:           s.out,
		Slope:         s.slope,
		Input:         betweenLines(s.lever),
		Transmission:  betweenLines(s.transmission),
		OffSquare:     s.OffSquare,
		BallLinkAngle: s.BallLinkAngle,
	}, nil
}

// betweenLines returns the angle between two lines, 0 to 90°, from its sine.
func betweenLines(sine float64) units.Angle {
	return units.Angle(math.Asin(math.Min(math.Abs(sine), 1)))
}

// Back implements Linkage.
func (c *closure) Back(out float64) (float64, error) {
	if c.follow == nil {
		return 0, errEmpty
	}
	if err := c.travel.checkOutput(out, c.atLow, c.atHigh); err != nil {
		return 0, err
	}
	to, _, _ := c.follow.ball(out)
	q, err := c.arm.AngleTo(PointOf(to), c.branch)
	if err != nil || !c.travel.Holds(float64(q)) {
		// Within rounding of an end, where the input hangs on the output's last
		// digits: the last input there is as near as any.
		if math.Abs(out-c.atLow) < math.Abs(out-c.atHigh) {
			return c.lowest, nil
		}
		return c.highest, nil
	}
	return float64(q), nil
}

// LinkSlopes implements Linked.
func (c *closure) LinkSlopes(dst []float64, in float64) ([]float64, error) {
	s, err := c.within(in)
	if err != nil {
		return dst, err
	}
	return append(dst, s.perLink), nil
}
