package swash_test

import (
	"testing"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// The layouts stand where their names say, the other balls clockwise from the first.
func TestLayouts(t *testing.T) {
	const first, radius = 10 * units.Degree, 25 * units.Millimetre
	for name, c := range map[string]struct {
		layout swash.Layout
		turns  []float64 // from the first ball
	}{
		"three at 120": {swash.ThreeAt120(first, radius), []float64{0, 120, 240}},
		"three at 135": {swash.ThreeAt135(first, radius), []float64{0, 135, 225}},
		"three at 140": {swash.ThreeAt140(first, radius), []float64{0, 140, 220}},
		"three at 90":  {swash.ThreeAt90(first, radius), []float64{0, 90, 270}},
		"four at 90":   {swash.FourAt90(first, radius), []float64{0, 90, 180, 270}},
	} {
		if len(c.layout) != len(c.turns) {
			t.Errorf("%s: %d balls", name, len(c.layout))
			continue
		}
		for i, b := range c.layout {
			near(t, name, b.Bearing.Degrees(), decimal(10+c.turns[i]), 1e-12)
			if b.Radius != radius || b.Offset != 0 {
				t.Errorf("%s, ball %d: %+v", name, i+1, b)
			}
		}
	}
}
