package linkage

import (
	"math"
)

// dead is the lever, as a part of its arm, below which a neutral position counts as a
// dead centre, and below which both levers together end the travel: 0.06° from it.
const dead = 1e-3

// end follows the closure from neutral in one sense to its first dead centre, and
// closes in on it.
func (c *closure) end(sense float64) (float64, Stop) {
	const (
		longest  = 1. / 128 // rad
		shortest = 1e-6
		growth   = 16 // strides to neutral, where a dead centre may be near
	)
	before, works := 0., 0.
	leastBefore, leastWorks := c.least(0), c.least(0)
	for works < math.Pi {
		next := math.Min(works+math.Min(longest, math.Max(shortest, works/growth)), math.Pi)
		s, ok := c.stand(sense * next)
		if ok && s.nothing() && c.nothing(sense*(next+longest)) {
			// Nothing from here on, as where an arm and a link of one length
			// fold onto each other and then turn as one.
			return sense * next, c.smaller(sense * next)
		}
		stop, ended := OutputInLine, true
		if ok {
			stop, ended = c.lost(s)
		}
		if ended {
			return c.bisect(sense, works, next, stop)
		}
		// A dead centre at which the levers touch zero and do not change sign,
		// as where a parallelogram folds flat, shows as a dip between strides.
		if works > 0 && leastWorks <= math.Min(leastBefore, s.least()) {
			if at, stop, ended := c.dip(sense, before, next); ended {
				return at, stop
			}
		}
		before, works = works, next
		leastBefore, leastWorks = leastWorks, s.least()
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
	both := ok && math.Abs(s.lever) < dead && math.Abs(s.transmission) < dead
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
// tells whether it is a dead centre. Where that ends a stretch in which the travel is
// lost already, the end is where the stretch begins.
func (c *closure) dip(sense, lo, hi float64) (at float64, stop Stop, ended bool) {
	const (
		golden = 0.6180339887498949
		flat   = 1e-6 // of the levers, over their arms: nothing, to rounding
	)
	works := lo
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
	for rest := lo - works; rest > 1e-9; rest /= 2 {
		if stop, ended := c.stops(sense * (lo - rest)); ended {
			at, stop = c.bisect(sense, works, lo-rest, stop)
			return at, stop, true
		}
		works = lo - rest
	}
	return sense * lo, c.smaller(sense * lo), true
}

// smaller returns the stop whose lever is the smaller at an arm angle.
func (c *closure) smaller(q float64) Stop {
	if s, ok := c.stand(q); ok && math.Abs(s.lever) < math.Abs(s.transmission) {
		return InputInLine
	}
	return OutputInLine
}

// nothing reports whether the link reaches at an arm angle and a lever is nothing
// there, to rounding.
func (c *closure) nothing(q float64) bool {
	s, ok := c.stand(q)
	return ok && s.nothing()
}

func (s *standing) nothing() bool { return s.least() <= 1e-7 }

// least returns the smaller of the two levers, as amounts.
func (s *standing) least() float64 { return math.Min(math.Abs(s.lever), math.Abs(s.transmission)) }

// least returns that of an arm angle; where the link does not reach it is nothing.
func (c *closure) least(q float64) float64 {
	s, ok := c.stand(q)
	if !ok {
		return 0
	}
	return s.least()
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
	case s.transmission*c.neutral.transmission <= 0:
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
