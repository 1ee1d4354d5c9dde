package rotor

import "math"

// root returns where f, which rises from fa at a to fb at b, passes through zero,
// to a tolerance in the argument. It takes at most one step more than bisection, and
// one for rounding (I. F. D. Oliveira and R. H. C. Takahashi, An Enhancement of the
// Bisection Method Average Performance Preserving Minmax Optimality, ACM TOMS 47:5,
// 2021, with the parameters 0.2/(b-a), 2 and 1).
func root(f func(float64) float64, a, b, fa, fb, tolerance float64) float64 {
	k1 := 0.2 / (b - a)
	radius := tolerance / 2 * math.Exp2(math.Ceil(math.Log2((b-a)/tolerance))+1)
	for b-a > tolerance {
		middle := a + (b-a)/2
		x := middle
		if fb > fa {
			x = a - fa*(b-a)/(fb-fa) // false position
		}
		side := math.Copysign(1, middle-x)
		if step := k1 * (b - a) * (b - a); step <= math.Abs(middle-x) {
			x += side * step // truncated
		} else {
			x = middle
		}
		if reach := radius - (b-a)/2; math.Abs(x-middle) > reach {
			x = middle - side*max(reach, 0) // projected
		}
		switch y := f(x); {
		case y > 0:
			b, fb = x, y
		case y < 0:
			a, fa = x, y
		default:
			return x
		}
		radius /= 2
	}
	return a + (b-a)/2
}
