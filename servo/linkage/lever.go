package linkage

import (
	"math"

	"example.org/levelhead/units"
)

// Lever is a fixed ratio, such as that of gears, or of a rocker so long against
// its travel that its arcs do not matter. It implements Linkage.
type Lever struct {
	ratio   float64
	in, out Kind
}

// NewLever returns a lever whose output is ratio times its input, in SI units. A negative
// ratio turns the sense. The error is a *units.FieldError for a ratio whose amount is not from 1e-9
// to 1e9, or a kind that is neither Angle nor Length.
func NewLever(ratio float64, in, out Kind) (*Lever, error) {
	if amount := math.Abs(ratio); !(amount >= 1e-9 && amount <= 1e9) {
		return nil, words.Refuse("ratio", "must be from 1e-9 to 1e9, or the same below zero, not %v", ratio)
	}
	for i, k := range []Kind{in, out} {
		if k != Angle && k != Length {
			return nil, words.Refuse([]string{"in", "out"}[i], "must be Angle or Length, not %d", int(k))
		}
	}
	return &Lever{ratio, in, out}, nil
}

// Kinds implements Linkage.
func (l *Lever) Kinds() (in, out Kind) { return l.in, l.out }

// far is as far as a lever's input goes: a bound for numbers alone.
const far = 1e100

// Travel implements Linkage: a lever has no end.
func (l *Lever) Travel() Travel { return Travel{Low: -far, High: far} }

// Move implements Linkage.
func (l *Lever) Move(in float64) (Motion, error) {
	if err := l.Travel().check(in); err != nil {
		return Motion{}, err
	}
	const square = 90 * units.Degree
	return Motion{Out: in * l.ratio, Slope: l.ratio, Input: square, Transmission: square}, nil
}

// Back implements Linkage.
func (l *Lever) Back(out float64) (float64, error) {
	in := out / l.ratio
	if err := l.Travel().check(in); err != nil {
		end := math.Copysign(far*l.ratio, out)
		return 0, &TravelError{In: math.NaN(), Out: out, Excess: out - end}
	}
	return in, nil
}
