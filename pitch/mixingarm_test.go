package pitch

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/diff/fd"

	"example.org/levelhead/units"
)

// The end of a mixing arm turns with the bar on a circle: its slope is that by
// differences, away from level too, for either rotation.
func TestMixingArmEnd(t *testing.T) {
	m := MixingArm{BarRadius: 12 * units.Millimetre}
	for _, leading := range []units.Length{1, -1} {
		for _, teeter := range []float64{-0.4, -0.1, 0, 0.2, 0.5} {
			part := func(of func(teeter units.Angle) units.Length) float64 {
				return fd.Derivative(func(x float64) float64 { return float64(of(units.Angle(x))) }, teeter, &fd.Settings{Formula: fd.Central, Step: 1e-5})
			}
			x := part(func(a units.Angle) units.Length { travel, _ := m.end(a, leading); return travel.X })
			z := part(func(a units.Angle) units.Length { travel, _ := m.end(a, leading); return travel.Z })
			travel, slope := m.end(units.Angle(teeter), leading)
			const tolerance = 1e-10 // m/rad
			if !(math.Abs(float64(slope.X)-x) < tolerance) || !(math.Abs(float64(slope.Z)-z) < tolerance) {
				t.Errorf("teeter %v, leading %v: slope %v, by differences %v and %v", teeter, leading, slope, x, z)
			}
			radius := math.Hypot(float64(travel.X+leading*m.BarRadius), float64(travel.Z))
			if !(math.Abs(radius-float64(m.BarRadius)) < 1e-16) {
				t.Errorf("teeter %v, leading %v: the end is %v m from the axis", teeter, leading, radius)
			}
		}
	}
}

// The text of a target out of reach ends with what stopped the search.
func TestCyclicErrorTellsTheCause(t *testing.T) {
	cause := errors.New("a cause")
	err := &CyclicError{Err: cause}
	if bare := (&CyclicError{}).Error(); err.Error() == bare || !strings.HasSuffix(err.Error(), cause.Error()) || !errors.Is(err, cause) {
		t.Errorf("%q with a cause, %q without", err, bare)
	}
}
