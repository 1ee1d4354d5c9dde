package curve_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/curve"
)

// rounding is what a few roundings leave of a number, relative to the largest
// one in the sum.
const rounding = 1e-13

// drawPoints draws points as far apart as a stick's are, in any order of Y.
func drawPoints(t *rapid.T, least int) []curve.Point {
	n := rapid.IntRange(least, curve.MaxPoints).Draw(t, "n")
	points := make([]curve.Point, n)
	x := rapid.Float64Range(-2, 0).Draw(t, "first X")
	for i := range points {
		points[i] = curve.Point{X: x, Y: rapid.Float64Range(-2, 2).Draw(t, "Y")}
		x += rapid.Float64Range(0.02, 0.5).Draw(t, "step")
	}
	return points
}

// drawRising is drawPoints with steps of Y of at least 0.01, all rising or all falling.
func drawRising(t *rapid.T, least int) []curve.Point {
	points := drawPoints(t, least)
	y := points[0].Y
	for i := range points {
		points[i].Y = y
		y += rapid.Float64Range(0.01, 0.5).Draw(t, "rise")
	}
	if rapid.Bool().Draw(t, "falling") {
		for i := range points {
			points[i].Y = -points[i].Y
		}
	}
	return points
}

func drawNew(t *rapid.T, kind curve.Kind, points []curve.Point) *curve.Curve {
	c, err := curve.New(kind, points)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// drawInside draws a position in one segment, at a distance of a quarter of it
// from both ends at least.
func drawInside(t *rapid.T, points []curve.Point) (x float64, segment int) {
	i := rapid.IntRange(0, len(points)-2).Draw(t, "segment")
	f := rapid.Float64Range(0.25, 0.75).Draw(t, "fraction")
	return points[i].X + f*(points[i+1].X-points[i].X), i
}

func TestPassesThroughPointsAndFlatBeyond(t *testing.T) {
	for _, kind := range kinds {
		rapid.Check(t, func(t *rapid.T) {
			points := drawPoints(t, 4)
			c := drawNew(t, kind, points)
			for _, p := range points {
				if got := c.At(p.X); got != p.Y {
					t.Errorf("%v: At(%g) = %g, want %g exactly", kind, p.X, got, p.Y)
				}
			}
			first, last := points[0], points[len(points)-1]
			past := rapid.Float64Range(1e-6, math.MaxFloat64).Draw(t, "past")
			for x, want := range map[float64]float64{first.X - past: first.Y, last.X + past: last.Y} {
				if c.At(x) != want || c.Slope(x) != 0 {
					t.Errorf("%v: beyond the end, At(%g) = %g, want %g; Slope = %g", kind, x, c.At(x), want, c.Slope(x))
				}
			}
		})
	}
}

// The value is continuous at the points for every kind, to the accuracy that
// the package doc promises, and the slope too for every kind but the polyline.
func TestContinuousAtPoints(t *testing.T) {
	const (
		jump      = 1e-12 // of the largest Y, as promised
		slopeJump = 1e-9  // rounding of slopes up to some thousands
	)
	for _, kind := range kinds {
		rapid.Check(t, func(t *rapid.T) {
			points := drawPoints(t, 4)
			c := drawNew(t, kind, points)
			var largest float64
			for _, p := range points {
				largest = max(largest, math.Abs(p.Y))
			}
			for _, p := range points[1:] {
				before := math.Nextafter(p.X, math.Inf(-1))
				slope := c.Slope(before)
				if math.Abs(c.At(before)+slope*(p.X-before)-p.Y) > jump*largest {
					t.Errorf("%v: At(%g) jumps from %g to %g", kind, p.X, c.At(before), p.Y)
				}
				if kind != curve.Polyline && math.Abs(slope-c.Slope(p.X)) > slopeJump {
					t.Errorf("%v: Slope(%g) jumps from %g to %g", kind, p.X, slope, c.Slope(p.X))
				}
			}
		})
	}
}

// The slope of a cubic is the central difference less h² times the cubic's
// third coefficient, which a second, wider difference removes (Richardson).
func TestSlopeIsDerivative(t *testing.T) {
	const tolerance = 1e-8 // rounding of values up to some hundreds, over h
	for _, kind := range kinds {
		rapid.Check(t, func(t *rapid.T) {
			points := drawPoints(t, 4)
			c := drawNew(t, kind, points)
			x, i := drawInside(t, points)
			h := (points[i+1].X - points[i].X) / 8
			narrow := (c.At(x+h) - c.At(x-h)) / (2 * h)
			wide := (c.At(x+2*h) - c.At(x-2*h)) / (4 * h)
			want := (4*narrow - wide) / 3
			if got := c.Slope(x); math.Abs(got-want) > tolerance {
				t.Errorf("%v: Slope(%g) = %g, differences give %g", kind, x, got, want)
			}
		})
	}
}

func TestMonotoneStaysWithinItsPoints(t *testing.T) {
	for _, kind := range []curve.Kind{curve.Polyline, curve.Monotone} {
		rapid.Check(t, func(t *rapid.T) {
			points := drawPoints(t, 2)
			c := drawNew(t, kind, points)
			for i := range len(points) - 1 {
				a, b := points[i], points[i+1]
				before := a.Y
				for step := range 101 { // The last is the float64 before b.
					x := min(a.X+float64(step)/100*(b.X-a.X), math.Nextafter(b.X, a.X))
					y := c.At(x)
					if y < min(a.Y, b.Y) || y > max(a.Y, b.Y) {
						t.Fatalf("%v: At(%g) = %g, outside %g to %g", kind, x, y, a.Y, b.Y)
					}
					if (y-before)*(b.Y-a.Y) < 0 && math.Abs(y-before) > rounding {
						t.Fatalf("%v: turns back by %g at %g", kind, y-before, x)
					}
					before = y
				}
			}
		})
	}
}

func TestInverseOfValueAndValueOfInverse(t *testing.T) {
	// Away from level positions, an error of the value is one of x over the slope.
	const leastSlope = 1e-3
	for _, kind := range kinds {
		rapid.Check(t, func(t *rapid.T) {
			points := drawRising(t, 4)
			c := drawNew(t, kind, points)
			x, _ := drawInside(t, points)
			y := c.At(x)
			got, err := c.Inverse(y)
			var turn *curve.NotMonotoneError
			if errors.As(err, &turn) && kind != curve.Polyline && kind != curve.Monotone {
				if turn.Back <= 0 {
					t.Errorf("%v: %v on rising points", kind, turn)
				}
				return // An overshoot: these kinds may.
			}
			if err != nil {
				t.Fatal(err)
			}
			steep := max(1, math.Abs(c.Slope(x)))
			if math.Abs(c.At(got)-y) > 100*rounding*steep {
				t.Errorf("%v: value of inverse of %.17g is %.17g", kind, y, c.At(got))
			}
			if slope := math.Abs(c.Slope(x)); slope > leastSlope && math.Abs(got-x) > 100*rounding*steep/slope {
				t.Errorf("%v: inverse of value of %.17g is %.17g, slope %g", kind, x, got, slope)
			}
			for _, p := range points {
				if got, err := c.Inverse(p.Y); err != nil || math.Abs(got-p.X) > 1e-12 && kind == curve.Polyline {
					t.Errorf("%v: Inverse(%g) = %g, %v, want %g", kind, p.Y, got, err, p.X)
				}
			}
		})
	}
}

// What Inverse says of a curve agrees with a walk along it.
func TestInverseExistsOnlyOnMonotoneCurves(t *testing.T) {
	for _, kind := range kinds {
		rapid.Check(t, func(t *rapid.T) {
			points := drawPoints(t, 4)
			c := drawNew(t, kind, points)
			_, err := c.Inverse(points[0].Y)
			var turn *curve.NotMonotoneError
			has := err == nil
			if !has && !errors.As(err, &turn) {
				t.Fatal(err)
			}
			way := points[len(points)-1].Y - points[0].Y
			var back []float64 // per segment
			for i := range len(points) - 1 {
				const steps = 256
				sum, from := 0.0, points[i].Y
				for k := 1; k <= steps; k++ {
					to := points[i+1].Y
					if k < steps {
						to = c.At(points[i].X + float64(k)/steps*(points[i+1].X-points[i].X))
					}
					if (to-from)*way < 0 {
						sum += math.Abs(to - from)
					}
					from = to
				}
				back = append(back, sum)
			}
			if has {
				if slices.Max(back) > rounding*100 {
					t.Errorf("%v: an inverse, though the curve runs back by %v", kind, back)
				}
				return
			}
			// The walk's grid misses the very turning points, so it sees less.
			seen := back[turn.Segment]
			if way != 0 && (seen > turn.Back+rounding*100 || seen < turn.Back*0.9-1e-3) {
				t.Errorf("%v: %v, a walk gives %g", kind, turn, seen)
			}
		})
	}
}
