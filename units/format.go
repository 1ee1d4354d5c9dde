package units

import (
	"math"
	"strconv"
	"strings"
)

// stringDigits is the number of significant digits in a String.
const stringDigits = 6

// format returns q for people, rounded.
func format[Q Quantity](q Q) string {
	x, d := float64(q), q.dimension()
	u := d.preferred
	if isFinite(x) && !isFinite(x/u.factor) {
		u = d.base
	}
	if x == 0 {
		x = 0 // without a sign
	}
	return join(strconv.FormatFloat(x/u.factor, 'g', stringDigits, 64), u.symbol)
}

// marshal returns a text from which Parse returns q to the last bit.
func marshal[Q Quantity](q Q) ([]byte, error) {
	x, d := float64(q), q.dimension()
	if !isFinite(x) {
		return nil, &NotFiniteError{Quantity: d.name, Value: x}
	}
	if number := d.preferred.exact(x); number != "" {
		return []byte(join(number, d.preferred.symbol)), nil
	}
	return []byte(join(d.base.exact(x), d.base.symbol)), nil
}

// exact returns the shortest decimal that toSI takes to x, or nothing if no
// float64 is taken there. The unit is not an inverse one.
func (u unit) exact(x float64) string {
	// The float64 values that a product rounds to x are neighbours, at most
	// three where x is normal, and the rounded quotient lies among them or
	// beside them.
	const neighbours = 3
	var shortest string
	for _, direction := range []float64{math.Inf(-1), math.Inf(1)} {
		candidate := x / u.factor
		for range neighbours {
			if candidate*u.factor == x {
				number := strconv.FormatFloat(candidate, 'g', -1, 64)
				if shortest == "" || len(number) < len(shortest) {
					shortest = number
				}
			}
			candidate = math.Nextafter(candidate, direction)
		}
	}
	return shortest
}

// join sets a unit's symbol after a number, with a space if it begins with a letter or
// is a per cent sign.
func join(number, symbol string) string {
	if strings.HasPrefix(symbol, "°") || strings.HasPrefix(symbol, ":") {
		return number + symbol
	}
	return number + " " + symbol
}
