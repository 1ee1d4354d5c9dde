package curve_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/curve"
)

// maxCalls is what the doc of Invert promises.
const maxCalls = 194

// checkInvert inverts f and reports a broken promise: too many calls, or an
// answer that is not the nearer of two neighbours with y between them.
func checkInvert(t interface{ Errorf(string, ...any) }, name string, f func(float64) float64, y, lo, hi float64) (float64, error) {
	calls := 0
	x, err := curve.Invert(func(x float64) (float64, error) {
		calls++
		return f(x), nil
	}, y, lo, hi)
	if calls > maxCalls {
		t.Errorf("%s: %d calls, want at most %d", name, calls, maxCalls)
	}
	if err != nil {
		return x, err
	}
	if x < min(lo, hi) || x > max(lo, hi) {
		t.Errorf("%s: %g is outside %g to %g", name, x, lo, hi)
	}
	down, up := f(math.Nextafter(x, math.Inf(-1))), f(math.Nextafter(x, math.Inf(1)))
	v := f(x)
	nearer := func(other float64) bool {
		return (other < y) != (v < y) && math.Abs(v-y) <= math.Abs(other-y)
	}
	if v != y && !nearer(down) && !nearer(up) {
		t.Errorf("%s: f(%.17g) = %g is not next to %g on one side, and no farther than the value on the other", name, x, v, y)
	}
	return x, nil
}

func TestInvert(t *testing.T) {
	cube := func(x float64) float64 { return x * x * x }
	line := func(x float64) float64 { return x }
	jump := func(x float64) float64 { return math.Copysign(1, x-0.3) }
	for _, test := range []struct {
		name         string
		f            func(float64) float64
		y, lo, hi    float64
		want, within float64 // relative
	}{
		{"falling", math.Cos, 0.5, 0, 3, math.Pi / 3, 1e-15},
		{"ends swapped", math.Cos, 0.5, 3, 0, math.Pi / 3, 1e-15},
		{"answer at lo", math.Cos, 1, 0, 3, 0, 0},
		{"answer at hi", line, 3, 0, 3, 3, 0},
		{"no width", line, 3, 3, 3, 3, 0},
		{"steep", math.Exp, 1e300, -700, 709, 300 * math.Ln10, 1e-15},
		{"level at the root", cube, 1e-30, -1, 2, 1e-10, 1e-15},
		{"tiny root", cube, 1e-300, 0, 1, 1e-100, 1e-15},
		{"huge ends", line, 1e-300, -math.MaxFloat64, math.MaxFloat64, 1e-300, 0},
		{"huge values", func(x float64) float64 { return x * math.MaxFloat64 }, -math.MaxFloat64 / 2, -1, 1, -0.5, 1e-15},
		{"huge distance", func(x float64) float64 { return x * math.MaxFloat64 }, -math.MaxFloat64, -1, 1, -1, 0},
		{"smallest numbers", line, math.SmallestNonzeroFloat64, -1, 1, math.SmallestNonzeroFloat64, 0},
		{"jump", jump, 0.5, -1, 1, 0.3, 1e-15},
		{"jump far off the middle", func(x float64) float64 { return math.Copysign(1, x-1e-200) }, 0, -1e308, 1e308, 1e-200, 1e-15},
		{"ninth power", func(x float64) float64 { return math.Pow(x-0.3, 9) }, 1e-9, -1, 1, 0.4, 1e-15},
	} {
		got, err := checkInvert(t, test.name, test.f, test.y, test.lo, test.hi)
		if err != nil || !near(got, test.want, test.within) {
			t.Errorf("%s: %.17g, %v, want %.17g", test.name, got, err, test.want)
		}
	}

	// Where f is flat at y, any x of the flat part is right.
	flat := func(x float64) float64 { return max(x, 1) + min(x, -1) }
	if x, err := checkInvert(t, "flat", flat, 0, -3, 2); err != nil || flat(x) != 0 {
		t.Errorf("flat: %g, %v", x, err)
	}
}

func TestInvertErrors(t *testing.T) {
	square := func(x float64) (float64, error) { return x * x, nil }
	_, err := curve.Invert(square, 4.5, -1, 2)
	var bracket *curve.BracketError
	if want := (curve.BracketError{Y: 4.5, Lo: -1, Hi: 2, AtLo: 1, AtHi: 4}); !errors.As(err, &bracket) || *bracket != want {
		t.Errorf("got %v, want %v", err, &want)
	}
	if _, err := curve.Invert(func(float64) (float64, error) { return 1, nil }, 2, 0, 1); !errors.As(err, &bracket) {
		t.Errorf("a constant: %v, want a *BracketError", err)
	}

	inf, nan := math.Inf(1), math.NaN()
	pole := func(x float64) (float64, error) { return 1 / x, nil }
	var notFinite *curve.NotFiniteError
	for _, test := range []struct {
		name      string
		f         func(float64) (float64, error)
		y, lo, hi float64
	}{
		{"y", square, nan, 0, 1},
		{"lo", square, 1, -inf, 1},
		{"hi", square, 1, 0, inf},
		{"f(0)", pole, 1, 0, 1},  // At an end.
		{"f(0)", pole, 0, -1, 1}, // On the way.
		{"f(-1)", func(x float64) (float64, error) { return math.Sqrt(x), nil }, 1, -1, 2},
	} {
		if _, err := curve.Invert(test.f, test.y, test.lo, test.hi); !errors.As(err, &notFinite) || notFinite.Name != test.name {
			t.Errorf("%v, want a *NotFiniteError of %s", err, test.name)
		}
	}

	// An error of f comes back as it is, from an end or from between.
	broken := errors.New("broken")
	for _, at := range []float64{0, 1, 0.5} {
		_, err := curve.Invert(func(x float64) (float64, error) {
			if x == at {
				return 0, broken
			}
			return x - 0.5, nil
		}, 0, 0, 1)
		if err != broken {
			t.Errorf("failing at %g: %v, want f's own error", at, err)
		}
	}
}

// Smooth functions are found by interpolation, within the calls that the doc of
// Invert tells, whether or not a float64 gives y exactly; halving alone would take some sixty.
func TestInvertIsQuickOnSmoothFunctions(t *testing.T) {
	// Measured: 14 and 9.8 where y is a value of f, and up to one call more beside one.
	const mostAt, meanAt, beside = 15, 10.0, 1
	for name, test := range map[string]struct {
		f      func(float64) float64
		lo, hi float64
	}{
		"cos":      {math.Cos, 0.1, 3},
		"expo":     {curve.Expo(0.5).At, 0, 1},
		"exp":      {math.Exp, -1, 2},
		"sqrt":     {math.Sqrt, 0.1, 2},
		"rational": {func(x float64) float64 { return x / (2 + x*x) }, -1, 1},
	} {
		for _, toward := range []float64{0, math.Inf(-1), math.Inf(1)} {
			const n = 199
			total, most, mean := 0, mostAt, meanAt
			if toward != 0 {
				most, mean = most+beside, mean+beside
			}
			for i := 1; i < n; i++ {
				at := test.lo + float64(i)/n*(test.hi-test.lo)
				y := test.f(at)
				if toward != 0 {
					y = math.Nextafter(y, toward)
				}
				calls := 0
				_, err := curve.Invert(func(x float64) (float64, error) {
					calls++
					return test.f(x), nil
				}, y, test.lo, test.hi)
				if err != nil || calls > most {
					t.Errorf("%s at %g, next to it towards %g: %d calls, %v, want at most %d", name, at, toward, calls, err, most)
				}
				total += calls
			}
			if got := float64(total) / n; got > mean {
				t.Errorf("%s: %.1f calls on average, want at most %g", name, got, mean)
			}
		}
	}
}

// A step anywhere among the float64 values is the hardest case: no value of f
// tells where it is.
func TestInvertFindsAnyStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64().Draw(t, "at")
		step := func(x float64) float64 {
			if x < at {
				return -1
			}
			return 1e300
		}
		x, err := checkInvert(t, "step", step, 0, -math.MaxFloat64, math.MaxFloat64)
		if math.Abs(at) < math.MaxFloat64 && (err != nil || x != at && x != math.Nextafter(at, -math.MaxFloat64)) {
			t.Errorf("step at %g found at %g, %v", at, x, err)
		}
	})
}

// invertFamily is a family of functions of different shapes for the fuzz
// target: rising, falling, level, curved, with a jump, wild.
func invertFamily(shape uint8, a float64) func(x float64) float64 {
	switch shape % 6 {
	case 0:
		return func(x float64) float64 { return a * x }
	case 1:
		return func(x float64) float64 { return a - x*x*x }
	case 2:
		return func(x float64) float64 { return math.Atan(a * x) }
	case 3:
		return func(x float64) float64 { return math.Floor(a * x) }
	case 4:
		return func(x float64) float64 { return math.Sin(a * x) }
	}
	return func(x float64) float64 { return math.Exp(x) / a }
}

func FuzzInvert(f *testing.F) {
	for shape := range uint8(6) {
		f.Add(shape, 1.5, 0.25, -1.0, 2.0)
		f.Add(shape, -1e300, 1e-300, -1e308, 1e308)
		f.Add(shape, math.NaN(), 0.0, 0.0, math.Inf(1))
	}
	f.Fuzz(func(t *testing.T, shape uint8, a, y, lo, hi float64) {
		_, err := checkInvert(t, "family", invertFamily(shape, a), y, lo, hi)
		var bracket *curve.BracketError
		var notFinite *curve.NotFiniteError
		if err != nil && !errors.As(err, &bracket) && !errors.As(err, &notFinite) {
			t.Errorf("untyped error %v", err)
		}
	})
}
