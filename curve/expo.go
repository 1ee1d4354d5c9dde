package curve

import "math"

// Expo softens the middle of a cyclic stick and keeps its ends: with k the
// Expo, a plain ratio,
//
//	y = (1-k) x + k x³   for x from -1 to 1,
//
// held at ±1 beyond. A positive one softens the middle, down to a slope of 1-k;
// a negative one sharpens the middle and flattens the ends, down to a slope of
// 1+2k there. So it is strictly rising for k from -1/2 to 1, and only these
// are valid. The zero value is a straight line.
//
// The cubic is common practice, no source. Radios differ in the exact law, so
// the same percentage can feel different on another one.
type Expo float64

// The range of valid Expo values, both ends included.
const (
	MinExpo Expo = -0.5
	MaxExpo Expo = 1
)

// Validate returns a *RangeError unless k is from MinExpo to MaxExpo.
func (k Expo) Validate() error {
	return checkRange("expo", float64(k), float64(MinExpo), float64(MaxExpo))
}

// At returns the softened stick position, from -1 to 1 and odd in x.
//
// At is NaN where x is NaN or infinite, and for every x where Validate refuses k.
func (k Expo) At(x float64) float64 {
	if !k.takes(x) {
		return math.NaN()
	}
	x = min(max(x, -1), 1)
	// This form of the law is exact at the ends and at k = 0.
	return x - float64(k)*x*(1-x*x)
}

// Slope returns the derivative of At: 1-k at the middle, 1+2k at ±1 and 0
// strictly beyond. Its special cases are those of At.
func (k Expo) Slope(x float64) float64 {
	switch {
	case !k.takes(x):
		return math.NaN()
	case math.Abs(x) > 1:
		return 0
	}
	return 1 - float64(k)*(1-3*x*x)
}

// Inverse returns the x from -1 to 1 where At is y. It returns a *RangeError
// where Validate refuses k, or where y is not from -1 to 1.
func (k Expo) Inverse(y float64) (float64, error) {
	if err := k.Validate(); err != nil {
		return 0, err
	}
	if err := checkRange("y", y, -1, 1); err != nil {
		return 0, err
	}
	x, err := Invert(func(x float64) (float64, error) { return k.At(x), nil }, math.Abs(y), 0, 1)
	return math.Copysign(x, y), err
}

func (k Expo) takes(x float64) bool { return finite(x) && k >= MinExpo && k <= MaxExpo }
