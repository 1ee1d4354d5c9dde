package curve_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/curve"
)

// The law by hand: 0.7 x + 0.3 x³, at x = 0.5.
func TestExpo(t *testing.T) {
	const tolerance = 1e-15
	k := curve.Expo(0.3)
	if got := k.At(0.5); !near(got, 0.3875, tolerance) {
		t.Errorf("At(0.5) = %g, want 0.3875", got)
	}
	if got := k.Slope(0.5); !near(got, 0.925, tolerance) {
		t.Errorf("Slope(0.5) = %g, want 0.925", got)
	}
	if got := k.Slope(1); !near(got, 1.6, tolerance) || k.Slope(1.001) != 0 {
		t.Errorf("Slope is %g at 1, %g beyond; want 1.6, 0", got, k.Slope(1.001))
	}
	var zero curve.Expo
	for _, x := range []float64{-1, -0.3, 0, 0.7, 1} {
		if zero.At(x) != x || zero.Slope(x) != 1 {
			t.Errorf("zero value: At(%g) = %g, Slope %g", x, zero.At(x), zero.Slope(x))
		}
	}
}

func TestExpoRefuses(t *testing.T) {
	var out *curve.RangeError
	for _, k := range []curve.Expo{-0.51, 1.01, curve.Expo(math.NaN()), curve.Expo(math.Inf(1))} {
		if err := k.Validate(); !errors.As(err, &out) || out.Name != "expo" {
			t.Errorf("%g: %v, want a *RangeError", k, err)
		}
		if _, err := k.Inverse(0.5); !errors.As(err, &out) || out.Name != "expo" {
			t.Errorf("%g: Inverse gives %v, want a *RangeError", k, err)
		}
		if !math.IsNaN(k.At(0.5)) || !math.IsNaN(k.Slope(0.5)) {
			t.Errorf("%g: At and Slope give %g and %g, want NaN", k, k.At(0.5), k.Slope(0.5))
		}
	}
	k := curve.Expo(0.3)
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if !math.IsNaN(k.At(x)) || !math.IsNaN(k.Slope(x)) {
			t.Errorf("At(%g) = %g, Slope = %g, want NaN", x, k.At(x), k.Slope(x))
		}
		if _, err := k.Inverse(x); !errors.As(err, &out) || out.Name != "y" {
			t.Errorf("Inverse(%g): %v, want a *RangeError", x, err)
		}
	}
}

func TestExpoProperties(t *testing.T) {
	expo := rapid.OneOf(
		rapid.Float64Range(float64(curve.MinExpo), float64(curve.MaxExpo)),
		rapid.SampledFrom([]float64{float64(curve.MinExpo), 0, float64(curve.MaxExpo)}))
	rapid.Check(t, func(t *rapid.T) {
		k := curve.Expo(expo.Draw(t, "expo"))
		x := rapid.Float64Range(-1, 1).Draw(t, "x")
		if err := k.Validate(); err != nil {
			t.Fatal(err)
		}
		y := k.At(x)
		if k.At(-x) != -y {
			t.Errorf("not odd: At(%g) = %g, At(%g) = %g", x, y, -x, k.At(-x))
		}
		if k.At(1) != 1 || k.At(1+math.Abs(x)) != 1 || k.At(-1-math.Abs(x)) != -1 {
			t.Errorf("not held at the ends: %g, %g", k.At(1), k.At(1+math.Abs(x)))
		}
		further := rapid.Float64Range(x, 1).Draw(t, "further")
		if fall := y - k.At(further); fall > rounding {
			t.Errorf("falls by %g from %g to %g", fall, x, further)
		}
		if k.Slope(x) < -rounding {
			t.Errorf("Slope(%g) = %g", x, k.Slope(x))
		}

		back, err := k.Inverse(y)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(k.At(back)-y) > rounding {
			t.Errorf("value of inverse of %.17g is %.17g", y, k.At(back))
		}
		if slope := k.Slope(x); slope > 1e-3 && math.Abs(back-x) > rounding/slope {
			t.Errorf("inverse of value of %.17g is %.17g", x, back)
		}

		// The central difference of a cubic is the slope plus k h².
		const h, tolerance = 1.0 / 1024, 1e-12 // rounding of 1, over h
		if math.Abs(x) < 1-h {
			want := (k.At(x+h)-k.At(x-h))/(2*h) - float64(k)*h*h
			if math.Abs(k.Slope(x)-want) > tolerance {
				t.Errorf("Slope(%g) = %g, differences give %g", x, k.Slope(x), want)
			}
		}
	})
}
