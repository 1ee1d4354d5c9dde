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
	// ball returns where the driven ball stands at an output, its derivative
	// over the output, and the length of that derivative for which the link is
	// square to the motion.
	ball(out float64) (at, slope r3.Vec, square float64)
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

// newClosure finds the branch and the travel from neutral, arm angle 0.
func newClosure(arm Arm, f follower, out Kind) (closure, error) {
	c := closure{arm: arm, follow: f, outKind: out}
	s, ok := c.stand(0)
	if !ok {
		return c, &SpecError{"Link", "does not reach the driven ball at neutral"}
	}
	c.neutral = s
	if !(math.Abs(s.lever) > dead) || !(math.Abs(s.give) > dead) {
		return c, &SpecError{"Neutral", "the linkage stands at a dead centre"}
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

// dead is the lever, as a part of its arm, below which a neutral position counts as a
// dead centre, and below which both levers together end the travel: 0.06° from it.
const dead = 1e-3

// standing is where a closure stands at one input.
type standing struct {
	Stance
	out   float64
	lever float64 // of the link about the driving shaft, over the arm's radius: the sine of their angle
	give  float64 // of the link on the driven ball, over the motion's own length: likewise
	slope float64
	// perLink is the derivative of the output over the link's length.
	perLink float64
}

// stand solves the closure at an arm angle.
func (c *closure) stand(q float64) (standing, bool) {
	at, _ := c.arm.Ball(units.Angle(q))
	out, ok := c.follow.follow(at.Vec())
	if !ok {
		return standing{}, false
	}
	to, perOut, square := c.follow.ball(out)
	// Both ends of the link move alike along it: w.(A' dq - B' dy) = 0.
	s := c.arm.Stance(units.Angle(q), PointOf(to))
	lever, give := float64(s.Lever), r3.Dot(r3.Vec(s.Along), perOut)
	return standing{s, c.unwrapped(q, out), lever / c.arm.radius, give / square, lever / give, -1 / give}, true
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

// end follows the closure from neutral in one sense to its first dead centre, and
// closes in on it.
func (c *closure) end(sense float64) (float64, Stop) {
	const (
		longest  = 1. / 128 // rad
		shortest = 1e-6
		growth   = 16 // strides to neutral, where a dead centre may be near
	)
	before, works := 0., 0.
	for works < math.Pi {
		next := math.Min(works+math.Min(longest, math.Max(shortest, works/growth)), math.Pi)
		if c.nothing(sense*next) && c.nothing(sense*(next+longest)) {
			// Nothing from here on, as where an arm and a link of one length
			// fold onto each other and then turn as one.
			return sense * next, c.smaller(sense * next)
		}
		if stop, ended := c.stops(sense * next); ended {
			return c.bisect(sense, works, next, stop)
		}
		// A dead centre at which the levers touch zero and do not change sign,
		// as where a parallelogram folds flat, shows as a dip between strides.
		if works > 0 && c.least(sense*works) <= math.Min(c.least(sense*before), c.least(sense*next)) {
			if at, stop, ended := c.dip(sense, before, next); ended {
				return at, stop
			}
		}
		before, works = works, next
	}
	return sense * math.Pi, Unbounded
}

// bisect closes in on the first arm angle that fails.
func (c *closure) bisect(sense, works, fails float64, stop Stop) (float64, Stop) {
	for mid := (works + fails) / 2; mid > works && mid < fails; mid = (works + fails) / 2 {
		if s, ended := c.stops(sense * mid); ended {
			fails, stop = mid, s
		} else {
			works = mid
		}
	}
	return sense * works, stop
}

// beforeFold draws an end of the travel back from where a linkage folds flat: there
// both levers vanish together, or one vanishes for good, and what comes out hangs on
// rounding some way before.
func (c *closure) beforeFold(end float64, stop Stop) (float64, Stop) {
	const near = 1e-5 // rad
	if stop == Unbounded {
		return end, stop
	}
	s, ok := c.stand(end - math.Copysign(near, end))
	both := ok && math.Abs(s.lever) < dead && math.Abs(s.give) < dead
	if !both && c.least(end-math.Copysign(near, end)) > near/100 {
		return end, stop
	}
	fails, works := end, end
	for back := near; c.least(works) <= dead; back *= 2 {
		if back >= math.Abs(end) {
			return end, stop
		}
		works = end - math.Copysign(back, end)
	}
	for mid := (works + fails) / 2; mid != works && mid != fails; mid = (works + fails) / 2 {
		if c.least(mid) <= dead {
			fails = mid
		} else {
			works = mid
		}
	}
	return works, stop
}

// dip looks for the least lever between two arm angles, by golden section, and
// tells whether it is a dead centre.
func (c *closure) dip(sense, lo, hi float64) (at float64, stop Stop, ended bool) {
	const (
		golden = 0.6180339887498949
		flat   = 1e-6 // of the levers, over their arms: nothing, to rounding
	)
	for hi-lo > 1e-12 {
		a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
		if c.least(sense*a) < c.least(sense*b) {
			hi = b
		} else {
			lo = a
		}
	}
	if c.least(sense*lo) > flat {
		return 0, Unbounded, false
	}
	return sense * lo, c.smaller(sense * lo), true
}

// smaller returns the stop whose lever is the smaller at an arm angle.
func (c *closure) smaller(q float64) Stop {
	if s, ok := c.stand(q); ok && math.Abs(s.lever) < math.Abs(s.give) {
		return InputInLine
	}
	return OutputInLine
}

// nothing reports whether the link reaches at an arm angle and a lever is nothing
// there, to rounding.
func (c *closure) nothing(q float64) bool {
	s, ok := c.stand(q)
	return ok && math.Min(math.Abs(s.lever), math.Abs(s.give)) <= 1e-7
}

// least returns the smaller of the two levers at an arm angle, as amounts.
func (c *closure) least(q float64) float64 {
	s, ok := c.stand(q)
	if !ok {
		return 0
	}
	return math.Min(math.Abs(s.lever), math.Abs(s.give))
}

// stops tells whether the travel has ended at an arm angle, and what ended it.
func (c *closure) stops(q float64) (stop Stop, ended bool) {
	s, ok := c.stand(q)
	if !ok {
		return OutputInLine, true
	}
	return c.lost(s)
}

// lost tells whether a standing has lost one of neutral's levers, and which.
func (c *closure) lost(s standing) (stop Stop, ended bool) {
	switch {
	case s.give*c.neutral.give <= 0:
		return OutputInLine, true
	case s.lever*c.neutral.lever <= 0:
		return InputInLine, true
	}
	return Unbounded, false
}

// lastInput returns the last arm angle on the way to an end of the travel at which
// the linkage works, and the output there.
func (c *closure) lastInput(end float64) (in, out float64) {
	in = math.Nextafter(end, 0)
	for step := math.Abs(end - in); ; step *= 2 {
		if s, ok := c.stand(in); ok {
			if _, ended := c.lost(s); !ended {
				return in, s.out
			}
		}
		if step > math.Abs(end) {
			return 0, c.neutral.out
		}
		in = end - math.Copysign(step, end)
	}
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
	return Motion{
		Out:          s.out,
		Slope:        s.slope,
		Input:        betweenLines(s.lever),
		Transmission: betweenLines(s.give),
		OffSquare:    s.OffSquare,
		Cone:         s.Cone,
	}, nil
}

// betweenLines returns the angle between two lines, 0 to 90°, from its sine.
func betweenLines(sine float64) units.Angle {
	return units.Angle(math.Asin(math.Min(math.Abs(sine), 1)))
}

// Back implements Linkage.
func (c *closure) Back(out float64) (float64, error) {
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
