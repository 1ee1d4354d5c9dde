package curve

import (
	"fmt"
	"math"
)

// Invert finds x from lo to hi with f(x) = y, for any continuous f, rising or
// falling, whose values at lo and hi lie on either side of y or on it. The
// ends may come in either order.
//
// It keeps a bracket around the root and narrows it by inverse quadratic
// interpolation, after R. P. Brent, Algorithms for Minimization without
// Derivatives (1973), ch. 4. Where that does not halve the bracket soon
// enough, it halves the number of float64 values in it, so the work is bounded
// whatever the scale: never more than 194 calls of f, and about ten for a smooth
// one. It ends where f(x) = y, or where no float64 is left between the ends;
// then it returns the end whose value is nearer to y. A jump in f across y is
// thus found as if it were a root.
//
// It returns a *NotFiniteError where y, lo, hi or a value of f is NaN or
// infinite, a *BracketError where y is not between the values at lo and hi,
// and an error of f as it is. Invert itself allocates nothing unless it fails.
func Invert(f func(x float64) (float64, error), y, lo, hi float64) (float64, error) {
	for _, in := range [...]struct {
		name  string
		value float64
	}{{"y", y}, {"lo", lo}, {"hi", hi}} {
		if !finite(in.value) {
			return 0, &NotFiniteError{Name: in.name, Value: in.value}
		}
	}
	best, err := sampleAt(f, y, lo)
	if err != nil {
		return 0, err
	}
	far, err := sampleAt(f, y, hi)
	if err != nil {
		return 0, err
	}
	switch {
	case best.miss == 0:
		return lo, nil
	case far.miss == 0:
		return hi, nil
	case (best.miss > 0) == (far.miss > 0):
		return 0, &BracketError{Y: y, Lo: lo, Hi: hi, AtLo: best.f, AtHi: far.f}
	}

	old := far // The last point dropped, for the quadratic.
	slow := 0  // Steps in a row that failed to halve the bracket.
	for {
		if math.Abs(far.miss) < math.Abs(best.miss) {
			best, far = far, best
		}
		size := gap(best.x, far.x)
		if size <= 1 {
			return best.x, nil
		}
		x := middle(best.x, far.x)
		if slow < maxSlow {
			x = interpolate(best, far, old, x)
		}
		now, err := sampleAt(f, y, x)
		if err != nil {
			return 0, err
		}
		if now.miss == 0 {
			return x, nil
		}
		// The new point replaces the end on its own side of the root.
		if (now.miss > 0) == (best.miss > 0) {
			best, old = now, best
		} else {
			best, far, old = now, best, far
		}
		slow++
		if gap(best.x, far.x) <= (size+1)/2 {
			slow = 0
		}
	}
}

// maxSlow is how many steps in a row may fail to halve the bracket before one
// that does is forced. A bracket holds fewer than 2⁶⁴ values, so with the two
// ends there are at most 2 + 64 (maxSlow+1) calls of f.
const maxSlow = 2

// sample is a point of f, and its value's distance above the wanted one. The
// distance can overflow to an infinity, but its sign is always right.
type sample struct{ x, f, miss float64 }

func sampleAt(f func(x float64) (float64, error), y, x float64) (sample, error) {
	v, err := f(x)
	if err != nil {
		return sample{}, err
	}
	if !finite(v) {
		return sample{}, &NotFiniteError{Name: fmt.Sprintf("f(%g)", x), Value: v}
	}
	return sample{x: x, f: v, miss: v - y}, nil
}

// interpolate returns the zero of the inverse quadratic through three samples,
// or of the line through the bracket's ends best and far, or else fallback: the
// first that lies strictly between best and far. What overflows, or divides by
// zero while old is still far, gives a NaN or a point outside. A zero that
// rounds to best itself stands for its neighbour: with that on the other side
// of the root the search is over, and halving from far away would take dozens.
func interpolate(best, far, old sample, fallback float64) float64 {
	line := (far.x - best.x) / (far.miss - best.miss)
	chord := (old.x - best.x) / (old.miss - best.miss)
	bend := (chord - line) / (old.miss - far.miss)
	for _, x := range [...]float64{
		best.x - best.miss*(line-bend*far.miss),
		best.x - best.miss*line,
	} {
		if x == best.x {
			x = math.Nextafter(x, far.x)
		}
		if x > min(best.x, far.x) && x < max(best.x, far.x) {
			return x
		}
	}
	return fallback
}

// order numbers the finite float64 values in rising order, with both zeros at 0.
func order(x float64) int64 {
	if i := int64(math.Float64bits(x)); i >= 0 {
		return i
	}
	return -int64(math.Float64bits(-x))
}

// gap counts the steps from one float64 to another.
func gap(a, b float64) uint64 {
	i, j := order(a), order(b)
	return uint64(max(i, j)) - uint64(min(i, j))
}

// middle returns the float64 half-way between two others by count, not by value.
func middle(a, b float64) float64 {
	i := min(order(a), order(b)) + int64(gap(a, b)/2)
	if i >= 0 {
		return math.Float64frombits(uint64(i))
	}
	return -math.Float64frombits(uint64(-i))
}
