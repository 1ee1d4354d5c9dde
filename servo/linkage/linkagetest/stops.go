package linkagetest

import (
	"math"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// stops holds the ends of the travel to law 8.
func (c *checker) stops() {
	c.stop(c.travel.Low, c.travel.AtLow)
	c.stop(c.travel.High, c.travel.AtHigh)
}

func (c *checker) stop(end float64, stop linkage.Stop) {
	in, m, farther, part := c.approach(end)
	// An angle goes to nothing as the distance to the end, or as its root.
	least := units.Angle(max(nothing, rootOf*math.Sqrt(part)))
	switch stop {
	case linkage.InputInLine:
		if m.Input > least {
			c.fail(8, in, "Input is %v near an end whose stop is %q", m.Input, stop.String())
		}
	case linkage.OutputInLine:
		if m.Transmission > least {
			c.fail(8, in, "Transmission is %v near an end whose stop is %q", m.Transmission, stop.String())
		}
	case linkage.Unbounded:
		// A slope goes to nothing as the distance to the end, and grows as one over its root: on
		// the last stretch too, unlike one before a dead centre just beyond the end.
		small := max(gone, distance*part)
		slope, before := math.Abs(m.Slope)*c.inScale/c.outScale, math.Abs(farther.Slope)*c.inScale/c.outScale
		if slope <= small && slope < before/2 || slope*math.Sqrt(small) >= 1 && slope > before*2 {
			c.fail(8, in, "the end is said to be unbounded, and yet Slope goes to %.3g there, and is %.3g at neutral", m.Slope, c.neutral.Slope)
		}
	default:
		c.fail(8, end, "Travel tells of the stop %d, which is not declared", int(stop))
	}
}

// approach returns the input nearest to an end of the travel at which Move answers, of those whose
// distance halves each time, and how far it is from there, as a part of that side; and the
// motion sixteen times as far from the end.
func (c *checker) approach(end float64) (in float64, m, farther linkage.Motion, part float64) {
	m, farther, part = c.neutral, c.neutral, 1
	if math.IsInf(end, 0) {
		return in, m, farther, part
	}
	for p := 0.5; p > nearest; p /= 2 {
		if n, err := c.linkage.Move(end * (1 - p)); err == nil {
			in, m, part = end*(1-p), n, p
		}
	}
	if n, err := c.linkage.Move(end * (1 - 16*part)); err == nil && part < 1./16 {
		farther = n
	}
	return in, m, farther, part
}
