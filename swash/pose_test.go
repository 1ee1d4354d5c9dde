package swash_test

import (
	"math"
	"testing"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// A bearing is from 0° to below 360°, and so it is when it is shown, whatever rounding did
// to the vector.
func TestBearing(t *testing.T) {
	for _, c := range []struct {
		right, forward, degrees float64
	}{
		{0, 0, 0}, {0, 2, 0}, {2, 2, 45}, {2, 0, 90}, {0, -2, 180}, {-2, 0, 270}, {-2, 2, 315},
		{math.Copysign(0, -1), 1, 0}, {-1e-300, 1, 0}, {-1e-17, 1, 0}, {-1e-12, 1, 0},
		{-math.Tan(4e-7 * math.Pi / 180), 1, 0}, {-math.Tan(6e-7 * math.Pi / 180), 1, 360 - 6e-7},
	} {
		b := swash.Bearing(c.right, c.forward)
		if math.Abs(b.Degrees()-c.degrees) > 1e-12 || math.Signbit(float64(b)) {
			t.Errorf("(%v, %v): %v°, want %v°", c.right, c.forward, b.Degrees(), c.degrees)
		}
		if text, err := units.Round(b, 6).MarshalText(); err != nil || string(text) == "360°" {
			t.Errorf("(%v, %v) is shown as %s, %v", c.right, c.forward, text, err)
		}
	}
}
