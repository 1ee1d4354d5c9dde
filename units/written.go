package units

import (
	"math"
	"reflect"
	"strconv"
)

// Written returns the number of a quantity in the unit in which it is written, and the unit's
// symbol: 9.5 and "°" of an [Angle]. Of the rounded quotient and its two neighbours it is the
// number of fewest digits. It is for those who write numbers and units apart, and false for
// what is no quantity of this package. NaN and infinities stay what they are; a finite
// quantity that is too large in that unit is an infinity.
func Written(quantity any) (number float64, symbol string, ok bool) {
	q, ok := quantity.(interface{ dimension() *dimension })
	v := reflect.ValueOf(quantity)
	if !ok || v.Kind() != reflect.Float64 {
		return 0, "", false
	}
	u := q.dimension().preferred
	number = v.Float() / u.factor
	if !isFinite(number) {
		return number, u.symbol, true
	}
	digits := func(x float64) int { return len(strconv.FormatFloat(x, 'e', -1, 64)) }
	middle := number
	for _, direction := range []float64{math.Inf(-1), math.Inf(1)} {
		if near := math.Nextafter(middle, direction); digits(near) < digits(number) {
			number = near
		}
	}
	return number, u.symbol, true
}
