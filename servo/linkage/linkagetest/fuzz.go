package linkagetest

import (
	"math"
	"testing"

	"example.org/levelhead/servo/linkage"
)

// Fuzz makes linkages of the fuzzer's numbers and gives them arbitrary inputs and
// outputs, among them NaN, infinities and some at the travel's ends. A description
// that build refuses is passed over. The seeds are numbers to start from.
func Fuzz(f *testing.F, build func(numbers [8]float64) (linkage.Linkage, error), seeds ...[8]float64) {
	for _, n := range seeds {
		for _, ask := range []float64{0, 0.1, -1, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)} {
			f.Add(n[0], n[1], n[2], n[3], n[4], n[5], n[6], n[7], ask, ask)
		}
	}
	f.Fuzz(func(t *testing.T, n0, n1, n2, n3, n4, n5, n6, n7, in, out float64) {
		l, err := build([8]float64{n0, n1, n2, n3, n4, n5, n6, n7})
		if err != nil {
			return
		}
		c := newChecker(l)
		if c.works {
			c.input(in)
			c.output(out)
			// The same numbers, brought into the travel and the range.
			part := math.Mod(math.Abs(in), 1)
			c.input(c.low + part*(c.high-c.low))
			part = math.Mod(math.Abs(out), 1)
			c.output(c.atLow + part*(c.atHigh-c.atLow))
			for _, end := range []float64{c.travel.Low, c.travel.High} {
				c.input(end)
				c.input(math.Nextafter(end, 0))
				c.input(end * (1 + in))
			}
			c.output(c.atLow)
			c.output(c.atHigh)
		}
		if err := c.err(); err != nil {
			t.Error(err)
		}
	})
}
