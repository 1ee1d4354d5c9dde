package curve_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/levelhead/curve"
	"example.org/levelhead/units"
)

var kinds = append([]curve.Kind{curve.Polyline}, cubics...)

// fivePoints is a rising pitch curve, steeper above the middle.
func fivePoints() []curve.Point {
	return []curve.Point{{X: 0, Y: -0.4}, {X: 0.25, Y: -0.1}, {X: 0.5, Y: 0.25}, {X: 0.75, Y: 0.6}, {X: 1, Y: 1}}
}

func TestKindText(t *testing.T) {
	for _, kind := range kinds {
		text, err := kind.MarshalText()
		if err != nil || string(text) != kind.String() {
			t.Errorf("%v: MarshalText gives %q, %v", kind, text, err)
		}
		back := curve.Kind(-1)
		if err := back.UnmarshalText(text); err != nil || back != kind {
			t.Errorf("%v: came back as %v, %v", kind, back, err)
		}
	}
	kept := curve.Akima
	var want *curve.KindError
	if err := kept.UnmarshalText([]byte("Akima")); !errors.As(err, &want) || kept != curve.Akima {
		t.Errorf("UnmarshalText of an unknown name: %v, kind now %v", err, kept)
	} else if !strings.Contains(err.Error(), "polyline, monotone, akima, natural, not-a-knot") {
		t.Errorf("%q does not list what fits", err)
	}
	for _, kind := range []curve.Kind{-1, 5} {
		if _, err := kind.MarshalText(); !errors.As(err, &want) {
			t.Errorf("MarshalText of %v: %v, want a *KindError", kind, err)
		}
		if _, err := curve.New(kind, fivePoints()); !errors.As(err, &want) {
			t.Errorf("New of %v: %v, want a *KindError", kind, err)
		}
	}
}

func TestNewRefuses(t *testing.T) {
	change := func(i int, p curve.Point) []curve.Point {
		points := fivePoints()
		points[i] = p
		return points
	}
	long := make([]curve.Point, curve.MaxPoints+1)
	for i := range long {
		long[i].X = float64(i)
	}
	for _, test := range []struct {
		name   string
		kind   curve.Kind
		points []curve.Point
		field  string
		value  float64
	}{
		{"none", curve.Polyline, nil, "points", 0},
		{"one", curve.Natural, long[:1], "points", 1},
		{"three", curve.NotAKnot, long[:3], "points", 3},
		{"eighteen", curve.Akima, long, "points", 18},
		{"infinite X", curve.Monotone, change(4, curve.Point{X: math.Inf(1)}), "points[4].X", math.Inf(1)},
		{"infinite Y", curve.Monotone, change(2, curve.Point{X: 0.5, Y: math.Inf(-1)}), "points[2].Y", math.Inf(-1)},
		{"huge Y", curve.Monotone, change(0, curve.Point{Y: 1.1e6}), "points[0].Y", 1.1e6},
		{"same X", curve.Polyline, change(2, curve.Point{X: 0.25}), "points[2].X", 0.25},
		{"X back", curve.Polyline, change(2, curve.Point{X: 0.2}), "points[2].X", 0.2},
		{"X too close", curve.Polyline, change(1, curve.Point{X: 1e-9}), "points[1].X", 1e-9},
	} {
		_, err := curve.New(test.kind, test.points)
		var got *units.FieldError
		if !errors.As(err, &got) {
			t.Errorf("%s: %v, want a *units.FieldError", test.name, err)
			continue
		}
		var amount *curve.RangeError
		if got.Field != test.field || got.Reason == "" || !errors.As(err, &amount) || amount.Value != test.value || amount.Excess() == 0 {
			t.Errorf("%s: %+v of %+v, want %v for %s", test.name, got, amount, test.value, test.field)
		}
	}
	// NaN equals nothing, so it has its own check.
	var got *units.FieldError
	if _, err := curve.New(curve.Akima, change(3, curve.Point{X: 0.75, Y: math.NaN()})); !errors.As(err, &got) || got.Field != "points[3].Y" {
		t.Errorf("NaN: %v, want a *units.FieldError for Y of point 4", err)
	}
}

// So uneven that a not-a-knot spline is lost to rounding, though it is finite.
func TestNewRefusesInaccurateFit(t *testing.T) {
	points := []curve.Point{{X: -1, Y: 1}, {X: -1 + 2e-6, Y: -1}, {X: -1 + 4e-6, Y: 1}, {X: 9e5, Y: -1}, {X: 1e6, Y: 1}}
	_, err := curve.New(curve.NotAKnot, points)
	var fit *curve.FitError
	if !errors.As(err, &fit) || fit.Kind != curve.NotAKnot {
		t.Fatalf("got %v, want a *FitError", err)
	}
	if _, err := curve.New(curve.Monotone, points); err != nil {
		t.Errorf("a monotone curve through the same points: %v", err)
	}
}

func TestPointsAreCopied(t *testing.T) {
	given := fivePoints()
	c := mustNew(t, curve.Polyline, given)
	given[2].Y = 99
	c.Points()[3].Y = 99
	if diff := cmp.Diff(fivePoints(), c.Points()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if lo, hi := c.Domain(); lo != 0 || hi != 1 || c.Kind() != curve.Polyline {
		t.Errorf("Domain is %g to %g, Kind %v", lo, hi, c.Kind())
	}
}

func TestSpecialCases(t *testing.T) {
	for _, kind := range kinds {
		c := mustNew(t, kind, fivePoints())
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			if y, slope := c.At(x), c.Slope(x); !math.IsNaN(y) || !math.IsNaN(slope) {
				t.Errorf("%v: At(%g) = %g, Slope = %g, want NaN", kind, x, y, slope)
			}
		}
	}
	var zero curve.Curve
	if lo, hi := zero.Domain(); !math.IsNaN(zero.At(0)) || !math.IsNaN(zero.Slope(0)) || lo != 0 || hi != 0 || len(zero.Points()) != 0 {
		t.Error("the zero Curve has a value")
	}
	var want *units.FieldError
	if _, err := zero.Inverse(0); !errors.As(err, &want) {
		t.Errorf("Inverse of the zero Curve: %v, want a *units.FieldError", err)
	}
}

func TestPolylineSlopeAtPoints(t *testing.T) {
	c := mustNew(t, curve.Polyline, []curve.Point{{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: 3}})
	for x, want := range map[float64]float64{-0.1: 0, 0: 1, 0.9: 1, 1: 2, 2: 2, 2.1: 0} {
		if got := c.Slope(x); got != want {
			t.Errorf("Slope(%g) = %g, want %g", x, got, want)
		}
	}
}

func TestTwoPointsAreALine(t *testing.T) {
	for _, kind := range []curve.Kind{curve.Polyline, curve.Monotone, curve.Akima, curve.Natural} {
		c := mustNew(t, kind, []curve.Point{{X: -1, Y: 3}, {X: 1, Y: -1}})
		for x, want := range map[float64]float64{-1: 3, -0.5: 2, 0: 1, 1: -1} {
			if c.At(x) != want || c.Slope(x) != -2 {
				t.Errorf("%v: At(%g) = %g, want %g; Slope %g, want -2", kind, x, c.At(x), want, c.Slope(x))
			}
		}
	}
}

func TestInverseRefuses(t *testing.T) {
	for _, test := range []struct {
		name   string
		kind   curve.Kind
		points []curve.Point
		want   curve.NotMonotoneError
	}{
		{"flat", curve.Monotone, []curve.Point{{X: 0, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: 1}, {X: 3, Y: 2}}, curve.NotMonotoneError{Segment: 1}},
		{"all flat", curve.Natural, []curve.Point{{X: 0, Y: 1}, {X: 1, Y: 1}, {X: 2, Y: 1}}, curve.NotMonotoneError{Segment: 0}},
		{"V curve", curve.Polyline, []curve.Point{{X: 0, Y: 1}, {X: 0.5, Y: 0.25}, {X: 1, Y: 1}}, curve.NotMonotoneError{Segment: 0, Back: 0.75}},
		{"falls, then rises", curve.Polyline, []curve.Point{{X: 0, Y: 1}, {X: 0.5, Y: -1}, {X: 1, Y: -0.5}}, curve.NotMonotoneError{Segment: 1, Back: 0.5}},
	} {
		_, err := mustNew(t, test.kind, test.points).Inverse(0.5)
		var got *curve.NotMonotoneError
		if !errors.As(err, &got) || *got != test.want {
			t.Errorf("%s: %v, want %v", test.name, err, &test.want)
		}
	}

	c := mustNew(t, curve.Monotone, fivePoints())
	for y, excess := range map[float64]float64{1.5: 0.5, -0.65: -0.25, math.Inf(1): math.Inf(1)} {
		_, err := c.Inverse(y)
		var got *curve.RangeError
		if !errors.As(err, &got) || math.Abs(got.Excess()-excess) > 1e-15 {
			t.Errorf("Inverse(%g): %v, want a *RangeError of %g", y, err, excess)
		}
	}
	var got *curve.RangeError
	if _, err := c.Inverse(math.NaN()); !errors.As(err, &got) || !math.IsNaN(got.Excess()) {
		t.Errorf("Inverse(NaN): %v, want a *RangeError of NaN", err)
	}
}

// Through four points a not-a-knot spline is the cubic itself. y = x³ - 0.03 x
// rises but for the part from x = -0.1, y = 0.002 to x = 0.1, y = -0.002.
func TestInverseTellsHowFarTheCurveRunsBack(t *testing.T) {
	const want, tolerance = 0.004, 1e-15 // a few roundings of values below 1
	var points []curve.Point
	for _, x := range []float64{-1, -0.5, 0.5, 1} {
		points = append(points, curve.Point{X: x, Y: x*x*x - 0.03*x})
	}
	_, err := mustNew(t, curve.NotAKnot, points).Inverse(0)
	var got *curve.NotMonotoneError
	if !errors.As(err, &got) || got.Segment != 1 || math.Abs(got.Back-want) > tolerance {
		t.Errorf("got %v, want segment 1 to run back by %g", err, want)
	}
}
