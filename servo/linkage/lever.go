package linkage

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// Lever is a fixed ratio, such as that of gears, or of a rocker so long against
// its travel that its arcs do not matter. It implements Linkage.
type Lever struct {
	ratio   float64
	in, out Kind
}

// NewLever returns a lever whose output is ratio times its input, in SI units. A
// ratio whose amount is not within 1e-9 and 1e9, and kinds that are neither Angle nor
// Length, are refused with a *SpecError.
func NewLever(ratio float64, in, out Kind) (*Lever, error) {
	if amount := math.Abs(ratio); !(amount >= 1e-9 && amount <= 1e9) {
		return nil, &SpecError{"Ratio", fmt.Sprintf("the amount of %v is not within 1e-9 and 1e9", ratio)}
	}
	for _, k := range []Kind{in, out} {
		if k != Angle && k != Length {
			return nil, &SpecError{"Kind", fmt.Sprintf("%d is neither Angle nor Length", int(k))}
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
