package curve

import "math"

// Inverse returns the x of the domain where the curve's value is y, to the
// nearest float64 that the rounding of At allows. The curve must rise or fall
// strictly over its whole domain; it may stand level at a single position,
// near which x is known less well than y: about the cube root of rounding.
//
// It returns a *NotMonotoneError where the curve has no inverse, a *RangeError
// where y is NaN or lies beyond the values at the ends, and a *units.FieldError for
// the zero Curve.
func (c *Curve) Inverse(y float64) (float64, error) {
	if c.empty() {
		return 0, checkPoints(c.Kind(), nil)
	}
	if c.turn != nil {
		turn := *c.turn
		return 0, &turn
	}
	last := len(c.ys) - 1
	lo, hi := min(c.ys[0], c.ys[last]), max(c.ys[0], c.ys[last])
	if err := checkRange("y", y, lo, hi); err != nil {
		return 0, err
	}
	way, i := c.way(), 0
	for way*(y-c.ys[i+1]) > 0 {
		i++
	}
	return Invert(func(x float64) (float64, error) { return c.At(x), nil }, y, c.xs[i], c.xs[i+1])
}

// way is 1 for a curve that ends no lower than it starts, otherwise -1.
func (c *Curve) way() float64 {
	if c.ys[len(c.ys)-1] < c.ys[0] {
		return -1
	}
	return 1
}

// maxBack is how far, relative to the largest Y, a curve may run back by
// rounding alone and still count as strictly monotone.
const maxBack = 1e-13

// findTurn returns the first segment that stands still or runs against the
// curve as a whole, or nil where there is none.
func (c *Curve) findTurn() *NotMonotoneError {
	way := c.way()
	for i := range len(c.xs) - 1 {
		back := c.back(i, way)
		if way*(c.ys[i+1]-c.ys[i]) <= 0 || back > maxBack*c.largest() {
			return &NotMonotoneError{Segment: i, Back: back}
		}
	}
	return nil
}

// back returns how far the curve runs against way along segment i.
func (c *Curve) back(i int, way float64) float64 {
	t1, t2 := c.levels(i)
	var back float64
	from := c.ys[i]
	for _, t := range [...]float64{t1, t2, 1} {
		to := c.ys[i+1]
		if t < 1 {
			to = c.At(c.xs[i] + t*(c.xs[i+1]-c.xs[i]))
		}
		back += max(0, way*(from-to))
		from = to
	}
	return back
}

// levels returns the positions, as fractions of segment i in rising order,
// where it stands level; 0 stands for none. A straight segment may get others,
// which do no harm to back.
//
// With t the fraction, a and b the slopes at the ends and m the mean slope, the
// slope of the cubic is a + 2(3m-2a-b)t + 3(a+b-2m)t².
func (c *Curve) levels(i int) (t1, t2 float64) {
	a, b := c.fit.PredictDerivative(c.xs[i]), c.fit.PredictDerivative(c.xs[i+1])
	m := (c.ys[i+1] - c.ys[i]) / (c.xs[i+1] - c.xs[i])
	p, q := 3*(a+b-2*m), 3*m-2*a-b
	root := math.Sqrt(q*q - p*a) // NaN where the slope never vanishes.
	s := -q - math.Copysign(root, q)
	t1, t2 = s/p, a/s
	if !(t1 > 0 && t1 < 1) {
		t1 = 0
	}
	if !(t2 > 0 && t2 < 1) {
		t2 = 0
	}
	return min(t1, t2), max(t1, t2)
}
