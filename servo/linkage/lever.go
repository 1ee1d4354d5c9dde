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
// ratio that is 0 or not finite is refused with a *SpecError.
func NewLever(ratio float64, in, out Kind) (*Lever, error) {
	if ratio == 0 || math.IsNaN(ratio) || math.IsInf(ratio, 0) {
		return nil, &SpecError{"Ratio", fmt.Sprintf("%v is not a ratio", ratio)}
	}
	return &Lever{ratio, in, out}, nil
}

// Kinds implements Linkage.
func (l *Lever) Kinds() (in, out Kind) { return l.in, l.out }

// Travel implements Linkage: a lever has no end but that of float64.
func (l *Lever) Travel() Travel {
	far := math.MaxFloat64 / 4
	far /= math.Max(math.Abs(l.ratio), 1)
	return Travel{Low: -far, High: far}
}

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
		return 0, &TravelError{In: math.NaN(), Out: out, Excess: out}
	}
	return in, nil
}
