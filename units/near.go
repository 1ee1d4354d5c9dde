package units

import "math"

// Near reports whether two quantities differ by no more than within, either way. It is false
// where one of the three is NaN.
func Near[Q Quantity](a, b, within Q) bool {
	return math.Abs(float64(a-b)) <= float64(within)
}
