package units

// Round returns the quantity nearest to q that is written with at most the given
// number of decimals in its preferred unit; MarshalText then writes just those,
// up to 15 significant digits. Zero never keeps a sign.
//
// Decimals below 0 count as 0, and above 15 as 15. NaN, infinities and quantities too
// large to have decimals are returned unchanged.
func Round[Q Quantity](q Q, decimals int) Q {
	return Q(q.dimension().round(float64(q), decimals))
}
