package units

import "math"

// Round returns the quantity nearest to q that is written with at most the given
// number of decimals in its preferred unit; MarshalText then writes just those,
// up to 15 significant digits. Zero never keeps a sign.
//
// Decimals below 0 count as 0, and above 15 as 15. NaN, infinities and quantities too
// large to have decimals are returned unchanged.
func Round[Q Quantity](q Q, decimals int) Q {
	factor := q.dimension().preferred.factor
	power := math.Pow(10, float64(min(max(decimals, 0), 15)))
	x := math.Round(float64(q)/factor*power) / power
	if x == 0 {
		return 0
	}
	if !isFinite(x) || math.Abs(x)*power > 1<<53 {
		return q
	}
	return Q(x * factor)
}
