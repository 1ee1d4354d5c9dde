package curve

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
	"gonum.org/v1/gonum/interp"
)

// The limits on a curve's points. Positions and demands are ratios, so these
// lie far beyond any stick.
const (
	MaxPoints  = 17
	MaxValue   = 1e6  // largest magnitude of X and Y
	MinSpacing = 1e-6 // least step in X from a point to the next
)

// Point is one point of a curve. Both numbers are plain ratios: the curve
// knows no units, and either number can have any sign.
type Point struct {
	X float64 // stick position, such as 0 for the low end and 1 for the high end
	Y float64 // demand: what the stick asks for there, such as -1 to 1
}

// Curve is a curve through points. New builds it, and it never changes, so
// goroutines can share it. The zero Curve has no points: At and Slope
// are NaN, and Inverse fails.
type Curve struct {
	kind   Kind
	xs, ys []float64
	fit    interp.DerivativePredictor
	turn   *NotMonotoneError // why there is no inverse; nil where there is one
}

// New returns the curve of the given kind through the points, which it copies.
//
// It returns a *KindError for a kind that does not exist; a *units.FieldError unless
// there are 2 to MaxPoints points (at least 4 for NotAKnot), all numbers are
// within ±MaxValue and each X is at least MinSpacing above the one before; and
// a *FitError where rounding would make a cubic miss one of its points.
func New(kind Kind, points []Point) (*Curve, error) {
	if !kind.valid() {
		return nil, &KindError{Text: kind.String()}
	}
	if err := checkPoints(kind, points); err != nil {
		return nil, err
	}
	c := &Curve{
		kind: kind,
		xs:   make([]float64, len(points)),
		ys:   make([]float64, len(points)),
	}
	for i, p := range points {
		c.xs[i], c.ys[i] = p.X, p.Y
	}
	fit := kind.fitter()
	if err := fit.Fit(c.xs, c.ys); err != nil {
		return nil, &FitError{Kind: kind, Segment: -1, Err: err}
	}
	c.fit = fit
	if err := c.checkFit(); err != nil {
		return nil, err
	}
	c.turn = c.findTurn()
	return c, nil
}

func checkPoints(kind Kind, points []Point) error {
	if n, least := len(points), kind.minPoints(); n < least || n > MaxPoints {
		return &units.FieldError{Field: "points", Words: fmt.Sprintf("a curve of kind %v", kind),
			Reason: fmt.Sprintf("takes %d to %d points, not %d", least, MaxPoints, n),
			Err:    &RangeError{"points", float64(n), float64(least), MaxPoints}}
	}
	for i, p := range points {
		for _, in := range [...]struct {
			field string
			value float64
		}{{"X", p.X}, {"Y", p.Y}} {
			if !(math.Abs(in.value) <= MaxValue) { // Also true of NaN.
				return refuse(i, in.field, in.value, -MaxValue, fmt.Sprintf("must be a number from %g to %g", -MaxValue, MaxValue))
			}
		}
		if i > 0 && p.X-points[i-1].X < MinSpacing {
			before := points[i-1].X
			return refuse(i, "X", p.X, before+MinSpacing, fmt.Sprintf("must be at least %g more than that of the point before, which is %g", MinSpacing, before))
		}
	}
	return nil
}

// refuse returns the error of a coordinate of point i that must be from least to MaxValue.
func refuse(i int, axis string, value, least float64, reason string) error {
	return &units.FieldError{
		Field:  fmt.Sprintf("points[%d].%s", i, axis),
		Words:  fmt.Sprintf("point %d: %s", i+1, axis),
		Reason: fmt.Sprintf("%s, not %g", reason, value),
		Err:    &RangeError{axis, value, least, MaxValue},
	}
}

// maxMisfit is the greatest error that rounding may leave where a segment
// meets its right point, relative to the largest Y.
const maxMisfit = 1e-9

// checkFit returns a *FitError unless every segment runs up to its right
// point. Each starts exactly at its left one by construction, so the largest
// rounding error shows on the right.
func (c *Curve) checkFit() error {
	for i := range len(c.xs) - 1 {
		end := c.xs[i+1]
		before := math.Nextafter(end, c.xs[i])
		misfit := c.fit.Predict(before) + c.fit.PredictDerivative(before)*(end-before) - c.ys[i+1]
		if !(math.Abs(misfit) <= maxMisfit*c.largest()) {
			return &FitError{Kind: c.kind, Segment: i, Misfit: misfit}
		}
	}
	return nil
}

// largest returns the largest magnitude of Y at the points.
func (c *Curve) largest() float64 {
	var y float64
	for _, v := range c.ys {
		y = max(y, math.Abs(v))
	}
	return y
}

// At returns the value at x. It passes exactly through the points, and beyond
// the first and the last it is held at their values: it never extrapolates.
// A polyline or monotone curve stays between its two neighbouring points exactly.
//
// At(NaN) and At(±Inf) are NaN.
func (c *Curve) At(x float64) float64 {
	if c.empty() || !finite(x) {
		return math.NaN()
	}
	y := c.fit.Predict(x)
	if c.kind == Polyline || c.kind == Monotone {
		i := segment(c.xs, x)
		a, b := c.ys[i], c.ys[i+1]
		y = min(max(y, min(a, b)), max(a, b)) // Rounding could leave it.
	}
	return y
}

// Slope returns the derivative at x, in units of Y per unit of X. At a
// polyline's inner point it is that of the segment on the right. At the first
// and the last point it is that of the curve inside; strictly beyond them it
// is 0.
//
// Slope(NaN) and Slope(±Inf) are NaN.
func (c *Curve) Slope(x float64) float64 {
	switch {
	case c.empty() || !finite(x):
		return math.NaN()
	case x < c.xs[0] || x > c.xs[len(c.xs)-1]:
		return 0
	}
	return c.fit.PredictDerivative(x)
}

// Kind returns the rule by which the curve joins its points; Polyline for the zero
// Curve.
func (c *Curve) Kind() Kind {
	if c == nil {
		return Polyline
	}
	return c.kind
}

// empty reports the zero Curve and none at all.
func (c *Curve) empty() bool { return c == nil || len(c.xs) == 0 }

// Points returns a copy of the curve's points, in rising order of X.
func (c *Curve) Points() []Point {
	if c == nil {
		return nil
	}
	points := make([]Point, len(c.xs))
	for i := range points {
		points[i] = Point{X: c.xs[i], Y: c.ys[i]}
	}
	return points
}

// Domain returns the positions of the first and the last point; both are 0 for
// the zero Curve.
func (c *Curve) Domain() (lo, hi float64) {
	if c.empty() {
		return 0, 0
	}
	return c.xs[0], c.xs[len(c.xs)-1]
}
