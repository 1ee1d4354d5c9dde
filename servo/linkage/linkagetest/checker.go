package linkagetest

import (
	"math"
	"slices"

	"example.org/levelhead/servo/linkage"
)

// The package doc gives the reasons of these.
const (
	little         = 1. / 8192 // of a side of the travel, left free at its end
	rounding       = 1e-12     // of an output or input, over its scale
	slopeTolerance = 1e-6      // relative
	estimates      = 10        // of the extrapolation's own error
	jump           = 1e-6      // of the output's scale, between inputs that are neighbours
	endTolerance   = 1e-6      // of an end's place, over its scale

	nearest  = 1. / (1 << 40) // of a side of the travel: as near to its end as stops are looked at
	nothing  = 0.01           // rad: an angle at a dead centre
	rootOf   = 10             // rad: of the root of the part that is left of a side
	gone     = 1e-6           // of the slope's scale
	distance = 4              // of the slope's scale, times the part that is left of a side
)

// checker is one linkage on trial.
type checker struct {
	linkage linkage.Linkage
	in, out linkage.Kind
	travel  linkage.Travel
	neutral linkage.Motion
	works   bool // at neutral: without that there is nothing more to check

	low, high         float64 // inputs that are sampled
	atLow, atHigh     float64 // outputs as near to the travel's ends as there are any
	inScale, outScale float64

	seen   map[string]*LawError
	broken []error
}

// newChecker finds what a linkage says of itself, its scales and its range.
func newChecker(l linkage.Linkage) *checker {
	c := &checker{linkage: l, travel: l.Travel(), seen: map[string]*LawError{}}
	c.in, c.out = l.Kinds()
	for _, k := range []linkage.Kind{c.in, c.out} {
		if k != linkage.Angle && k != linkage.Length {
			c.fail(7, float64(k), "Kinds tells of a kind that is not declared")
		}
	}
	if !c.travel.Holds(0) {
		c.fail(3, 0, "the travel from %.6g to %.6g does not hold 0", c.travel.Low, c.travel.High)
		return c
	}
	if c.neutral, c.works = c.answer(0); !c.works {
		return c
	}
	window := 1. // metre
	if c.in == linkage.Angle {
		window = 2 * math.Pi
	}
	c.low = max(c.travel.Low*(1-little), -window)
	c.high = min(c.travel.High*(1-little), window)
	c.atLow, c.atHigh = c.outputNear(c.travel.Low), c.outputNear(c.travel.High)

	c.inScale = max(c.high, -c.low)
	if c.in == linkage.Angle {
		c.inScale = max(c.inScale, 1)
	}
	c.outScale = max(math.Abs(c.neutral.Out), math.Abs(c.neutral.Slope)*c.inScale)
	for _, in := range []float64{c.low, c.high} {
		if m, ok := c.answer(in); ok {
			c.outScale = max(c.outScale, math.Abs(m.Out))
		}
	}
	if c.out == linkage.Angle {
		c.outScale = max(c.outScale, 1)
	}
	return c
}

// outputNear returns the output at the nearest input to an end of the travel that
// has one.
func (c *checker) outputNear(end float64) float64 {
	out := c.neutral.Out
	for part := 0.5; ; part /= 2 {
		in := end * (1 - part)
		if math.IsInf(end, 0) {
			in = math.Copysign(math.MaxFloat64, end) * (1 - part)
		}
		if in == end || part < 1e-17 {
			return out
		}
		if m, err := c.linkage.Move(in); err == nil {
			out = m.Out
		}
	}
}

// answer returns the motion at an input that must have one.
func (c *checker) answer(in float64) (linkage.Motion, bool) {
	m, err := c.linkage.Move(in)
	if err != nil {
		c.fail(5, in, "Move refuses an input within the travel from %.9g to %.9g: %v", c.travel.Low, c.travel.High, err)
		return m, false
	}
	return m, c.sound(in, m)
}

// sound reports whether a motion is of numbers that can be.
func (c *checker) sound(in float64, m linkage.Motion) bool {
	ok := finite(m.Out) && finite(m.Slope)
	if !ok {
		c.fail(5, in, "Move gives Out %v, Slope %v", m.Out, m.Slope)
	}
	right := func(angle float64) bool { return angle > 0 && angle <= math.Pi/2 }
	if !right(float64(m.Input)) || !right(float64(m.Transmission)) {
		c.fail(5, in, "Move gives Input %v, Transmission %v, not above 0 and at most 90°", m.Input, m.Transmission)
	}
	return ok
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// same is equality by which NaN equals NaN.
func same(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

// samples returns inputs to look at, in rising order.
func (c *checker) samples() []float64 {
	const grid = 32
	in := []float64{0}
	for _, end := range []float64{c.low, c.high} {
		for i := 1; i <= grid; i++ {
			in = append(in, end*float64(i)/grid)
			// Multiples of the golden ratio spread evenly and repeat nowhere.
			_, part := math.Modf(float64(i) * math.Phi)
			in = append(in, end*part)
		}
		for part := 1. / grid; part > little; part /= 2 {
			in = append(in, end*(1-part))
		}
	}
	slices.Sort(in)
	return slices.Compact(in)
}
