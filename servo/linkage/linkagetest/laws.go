package linkagetest

import (
	"errors"
	"math"
	"testing"

	"example.org/levelhead/servo/linkage"
)

// input holds any input at all to the laws of one input.
func (c *checker) input(in float64) {
	switch {
	case in >= c.low && in <= c.high:
		c.inside(in)
	case c.travel.Holds(in):
		// Too near an end, or too far out, to say more than that it is no lie.
		if m, err := c.linkage.Move(in); err == nil {
			c.sound(in, m)
		} else {
			c.refusedInput(in, m, err)
		}
	default:
		m, err := c.linkage.Move(in)
		c.refusedInput(in, m, err)
	}
}

// output holds any output at all to the laws of one output.
func (c *checker) output(out float64) {
	in, err := c.linkage.Back(out)
	if err != nil {
		if c.within(out) {
			c.fail(1, out, "Back refuses an output between those of the travel's ends, %.9g and %.9g: %v", c.atLow, c.atHigh, err)
		}
		c.refusedOutput(out, in, err)
		return
	}
	if !c.travel.Holds(in) {
		c.fail(4, out, "Back answers %.9g, outside the travel from %.9g to %.9g", in, c.travel.Low, c.travel.High)
		return
	}
	m, err := c.linkage.Move(in)
	if err != nil || in < c.low || in > c.high {
		return // near an end: Move may refuse, and an output says little of its input
	}
	if off := math.Abs(m.Out - out); !(off <= c.outError(m)) {
		c.fail(1, out, "Move after Back gives %.17g, off by %.3g", m.Out, off)
	}
}

// outError is by how much an output may be off: by the rounding of the lengths,
// which a link that drives at a small angle magnifies, and by that of the input.
func (c *checker) outError(m linkage.Motion) float64 {
	grip := max(math.Sin(float64(m.Transmission)), little)
	return rounding * (c.outScale/grip + math.Abs(m.Slope)*c.inScale)
}

// within reports whether an output is surely one that the travel gives.
func (c *checker) within(out float64) bool {
	margin := rounding * c.outScale
	return out > min(c.atLow, c.atHigh)+margin && out < max(c.atLow, c.atHigh)-margin
}

// inside holds an input well within the travel to laws 1, 2, 5 and 7.
func (c *checker) inside(in float64) {
	m, ok := c.answer(in)
	if !ok {
		return
	}
	if again, err := c.linkage.Move(in); err != nil || again != m {
		c.fail(7, in, "Move gives %+v, and then %+v, %v", m, again, err)
	}
	if !(m.Slope*c.neutral.Slope > 0) {
		c.fail(3, in, "Slope %.6g has not the sign of that at neutral, %.6g", m.Slope, c.neutral.Slope)
	}

	back, err := c.linkage.Back(m.Out)
	switch again, _ := c.linkage.Back(m.Out); {
	case err != nil && c.within(m.Out):
		c.fail(1, in, "Back refuses %.17g, which Move gives: %v", m.Out, err)
	case err != nil: // as near the end of the outputs as their rounding
	case again != back:
		c.fail(7, in, "Back gives %.17g, and then %.17g", back, again)
	default:
		off := math.Abs(back - in)
		if tolerance := c.outError(m) / math.Abs(m.Slope); !(off <= tolerance) {
			c.fail(1, in, "Back after Move gives %.17g, off by %.3g", back, off)
		}
	}

	slope, uncertain, ok := c.derivative(in, m.Out, c.outError(m))
	if off := math.Abs(m.Slope - slope); ok && !(off <= uncertain) {
		c.fail(2, in, "Slope is %.9g, and the derivative of Out %.9g: off by %.3g, of which %.1g is uncertain", m.Slope, slope, off, uncertain)
	}
}

// derivative returns the derivative of Out at an input where it is out, and of which
// each value may be off by outError, and how uncertain it is: with what is tolerated, over
// the steepest way that the differences went. It takes central differences of halved steps,
// extrapolates them in a Neville table, and picks the entry with the least estimate
// of error: C. J. F. Ridders, Accurate computation of F'(x) and F'(x) F"(x),
// Advances in Engineering Software 4 (1982), 75-76 (from memory).
func (c *checker) derivative(in, out, outError float64) (slope, uncertain float64, ok bool) {
	// Towards an end Out may go as a square root: the steps shrink with the
	// distance to it.
	step := min((in-c.travel.Low)/2, (c.travel.High-in)/2, c.inScale/16)
	const levels = 7
	var last, row [levels]float64
	best := math.Inf(1)
	uncertain = best
	var steepest float64
	for i := range levels {
		after, ok1 := c.answer(in + step)
		before, ok2 := c.answer(in - step)
		if !ok1 || !ok2 {
			return 0, 0, false
		}
		row[0] = (after.Out - before.Out) / ((in + step) - (in - step))
		steepest = max(steepest, math.Abs(after.Out-out)/step, math.Abs(out-before.Out)/step)
		factor := 1.
		for j := 1; j <= i; j++ {
			factor *= 4
			row[j] = (factor*row[j-1] - last[j-1]) / (factor - 1)
			off := max(math.Abs(row[j]-row[j-1]), math.Abs(row[j]-last[j-1]))
			if j < i {
				// Where Out bends two steps can have one difference by luck, and then all that
				// is made of these two agrees; the step before tells.
				off = max(off, math.Abs(row[j]-last[j]))
			}
			// No difference is surer than the outputs in it, over its step.
			estimate := estimates*off + outError/step
			// Two entries can agree by luck: the next best is the estimate to trust.
			if estimate < best {
				slope, best, uncertain = row[j], estimate, best
			} else {
				uncertain = min(uncertain, estimate)
			}
		}
		last = row
		step /= 2
	}
	return slope, uncertain + slopeTolerance*steepest, true
}

// oneWay holds a linkage to law 3 between rising inputs.
func (c *checker) oneWay(samples []float64) {
	for i := 1; i < len(samples); i++ {
		low, high := samples[i-1], samples[i]
		a, ok1 := c.answer(low)
		b, ok2 := c.answer(high)
		if !ok1 || !ok2 {
			continue
		}
		// Inputs so near each other that the rise drowns in rounding tell nothing.
		rise, unsure := math.Abs(a.Slope)*(high-low), c.outError(a)+c.outError(b)
		drowned := rise <= unsure && math.Abs(b.Out-a.Out) <= unsure
		if !((b.Out-a.Out)*c.neutral.Slope > 0) && !drowned {
			c.fail(3, high, "Out goes from %.9g to %.9g since the input %.9g, against the slope at neutral, %.6g", a.Out, b.Out, low, c.neutral.Slope)
		}
		c.closes(low, high, a.Out, b.Out)
	}
}

// closes halves the gap between two inputs, always keeping the half across which
// the output changes more, until none is left: then the output should not change.
func (c *checker) closes(low, high, atLow, atHigh float64) {
	const halvings = 60 // more than float64 has digits
	for range halvings {
		middle := low + (high-low)/2
		if middle == low || middle == high {
			break
		}
		m, ok := c.answer(middle)
		if !ok {
			return
		}
		if math.Abs(m.Out-atLow) > math.Abs(atHigh-m.Out) {
			high, atHigh = middle, m.Out
		} else {
			low, atLow = middle, m.Out
		}
	}
	if off := math.Abs(atHigh - atLow); off > jump*c.outScale {
		c.fail(3, low, "Out jumps by %.3g, from %.9g to %.9g", off, atLow, atHigh)
	}
}

// refusals holds a linkage to law 4.
func (c *checker) refusals() {
	inf := math.Inf(1)
	t := c.travel
	width := c.high - c.low
	for _, in := range []float64{
		math.NaN(), inf, -inf,
		t.Low, math.Nextafter(t.Low, -inf), t.Low - width/1000, t.Low - width, 2*t.Low - 1e6,
		t.High, math.Nextafter(t.High, inf), t.High + width/1000, t.High + width, 2*t.High + 1e6,
	} {
		if t.Holds(in) {
			continue // so far out that the step is lost in rounding
		}
		m, err := c.linkage.Move(in)
		c.refusedInput(in, m, err)
	}
	low, high := min(c.atLow, c.atHigh), max(c.atLow, c.atHigh)
	width = min(high-low, c.outScale)
	for _, out := range []float64{
		math.NaN(), inf, -inf,
		low - width/1000, low - width, 2*low - 1e6,
		high + width/1000, high + width, 2*high + 1e6,
	} {
		if out >= low && out <= high {
			continue
		}
		in, err := c.linkage.Back(out)
		c.refusedOutput(out, in, err)
	}
}

// refusedInput holds Move's refusal to law 4.
func (c *checker) refusedInput(in float64, m linkage.Motion, err error) {
	if err == nil {
		c.fail(4, in, "Move answers outside the travel from %.9g to %.9g: Out %v", c.travel.Low, c.travel.High, m.Out)
		return
	}
	if m != (linkage.Motion{}) {
		c.fail(4, in, "Move gives numbers with its error: %+v", m)
	}
	var e *linkage.TravelError
	if !errors.As(err, &e) {
		c.fail(4, in, "Move's error is a %T, not a *linkage.TravelError: %v", err, err)
		return
	}
	if !same(e.In, in) {
		c.fail(4, in, "Move's error tells of the input %.17g", e.In)
	}
	switch {
	case in >= c.travel.High:
		c.excess("Move", in, e.Excess, in-c.travel.High, c.inScale)
	case in <= c.travel.Low:
		c.excess("Move", in, e.Excess, in-c.travel.Low, c.inScale)
	}
}

// refusedOutput holds Back's refusal to law 4.
func (c *checker) refusedOutput(out, in float64, err error) {
	if err == nil {
		c.fail(4, out, "Back answers %.9g, though the travel's ends give %.9g and %.9g", in, c.atLow, c.atHigh)
		return
	}
	if in != 0 {
		c.fail(4, out, "Back gives a number with its error: %v", in)
	}
	var e *linkage.TravelError
	if !errors.As(err, &e) {
		c.fail(4, out, "Back's error is a %T, not a *linkage.TravelError: %v", err, err)
		return
	}
	if !math.IsNaN(e.In) || !same(e.Out, out) {
		c.fail(4, out, "Back's error tells of the input %v and the output %v", e.In, e.Out)
	}
	low, high := min(c.atLow, c.atHigh), max(c.atLow, c.atHigh)
	switch {
	case out > high:
		c.excess("Back", out, e.Excess, out-high, c.outScale)
	case out < low:
		c.excess("Back", out, e.Excess, out-low, c.outScale)
	}
}

// excess compares how far beyond an end an error says that something is with how
// far it is.
func (c *checker) excess(method string, at, got, want, scale float64) {
	if off := math.Abs(got - want); got != want && !(off <= endTolerance*(scale+math.Abs(want))) {
		c.fail(4, at, method+"'s error tells of an excess of %.9g, and it is %.9g", got, want)
	}
}

// allocations holds a linkage to law 6, at neutral and far to either side.
func (c *checker) allocations(samples []float64) {
	const runs = 20
	for _, in := range []float64{0, samples[len(samples)/8], samples[len(samples)*7/8]} {
		m, err := c.linkage.Move(in)
		if err != nil {
			continue // law 5 tells
		}
		if n := testing.AllocsPerRun(runs, func() { _, _ = c.linkage.Move(in) }); n > 0 {
			c.fail(6, in, "Move allocates %v times", n)
		}
		if _, err := c.linkage.Back(m.Out); err != nil {
			continue // law 1 tells
		}
		if n := testing.AllocsPerRun(runs, func() { _, _ = c.linkage.Back(m.Out) }); n > 0 {
			c.fail(6, m.Out, "Back allocates %v times", n)
		}
	}
}

// constant holds a linkage to law 7, after all that was asked of it.
func (c *checker) constant() {
	if t := c.linkage.Travel(); t != c.travel {
		c.fail(7, 0, "Travel was %+v, and now is %+v", c.travel, t)
	}
	if in, out := c.linkage.Kinds(); in != c.in || out != c.out {
		c.fail(7, 0, "Kinds were %v and %v, and now are %v and %v", c.in, c.out, in, out)
	}
}

// odd holds a linkage to that claim.
func (c *checker) odd(samples []float64) {
	if off := c.travel.Low + c.travel.High; !(math.Abs(off) <= endTolerance*max(c.inScale, c.travel.High)) {
		c.fail(0, c.travel.High, "the travel from %.9g is longer by %.3g on one side", c.travel.Low, off)
	}
	for _, in := range samples {
		if -in < c.low || -in > c.high {
			continue
		}
		there, ok1 := c.answer(in)
		here, ok2 := c.answer(-in)
		if !ok1 || !ok2 {
			continue
		}
		one, other := there.Out-c.neutral.Out, here.Out-c.neutral.Out
		if off := math.Abs(one + other); !(off <= c.outError(there)+c.outError(here)) {
			c.fail(0, in, "Out moves by %.9g, and by %.9g the other way: %.3g of difference", one, other, off)
		}
	}
}
