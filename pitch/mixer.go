package pitch

import (
	"fmt"
	"math"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// MixingArm is the arm of a head with a flybar (stabilizer bar) that mixes two inputs on one
// pitch link. The swashplate drives one end of it, directly or through a washout arm, and the
// flybar drives the other. The pitch link's lower ball sits on the straight line
// between the two ends, or beyond one of them. The zero value is no mixing arm: the
// pitch link stands on the ring's ball.
//
// It is drawn so that at neutral, with plate and flybar level, the pitch link's
// lower ball stands where the ring's ball is. From there that ball moves by the
// plate's share of the ring ball's travel and the flybar's share of its end's, each as a
// vector: up, out and around. A washout arm scales the plate's share and keeps its
// sense: the plate's way up is the link's way up.
type MixingArm struct {
	PlateSide units.Length // from the pitch link's ball to the end that the plate drives; negative where the ball lies beyond that end
	BarSide   units.Length // from the pitch link's ball to the end that the flybar drives; negative likewise
	// BarRadius is from the flybar's teeter axis, which is the blade's own
	// direction, to the end that the flybar drives: positive on the side of the
	// blade's leading edge. It matters where the flybar is not level.
	BarRadius units.Length
	// WashoutIn and WashoutOut are the washout arm's lengths from its pivot to
	// the ring's side and to the mixing arm's side. Both 0 is no washout arm.
	WashoutIn, WashoutOut units.Length
}

// Shares returns what part of the ring ball's travel, and of the flybar end's, reaches
// the pitch link; 1 is all, and 1 and 0 are the shares without a mixing arm. They follow from
// the arms' lengths alone and are exact at any angle: a
// point of a straight arm moves as the same part of its ends. Travel counts from
// the level plate at neutral with the flybar level.
func (m MixingArm) Shares() (plate, bar float64) {
	if m == (MixingArm{}) {
		return 1, 0
	}
	plate = float64(m.BarSide / (m.PlateSide + m.BarSide))
	bar = 1 - plate
	if m.WashoutIn != 0 {
		plate *= float64(m.WashoutOut / m.WashoutIn)
	}
	return plate, bar
}

// validate reports an arm that cannot be built, as a *units.FieldError of a GripSpec.
func (m MixingArm) validate() error {
	for _, f := range []struct {
		name  string
		value units.Length
	}{
		{"PlateSide", m.PlateSide}, {"BarSide", m.BarSide}, {"BarRadius", m.BarRadius},
		{"WashoutIn", m.WashoutIn}, {"WashoutOut", m.WashoutOut},
	} {
		if !units.Finite(f.value) {
			return refuse("Mixer."+f.name, "must be finite, not %v", f.value)
		}
	}
	if (m.WashoutIn == 0) != (m.WashoutOut == 0) {
		missing := "Mixer.WashoutIn"
		if m.WashoutOut == 0 {
			missing = "Mixer.WashoutOut"
		}
		return &units.FieldError{Field: missing, Words: "pitch: mixing arm, washout",
			Reason: fmt.Sprintf("must have both lengths or neither, not %v in and %v out", m.WashoutIn, m.WashoutOut)}
	}
	plate, bar := m.Shares()
	if math.IsNaN(plate+bar) || math.IsInf(plate, 0) || plate == 0 {
		return refuse("Mixer", "must leave the plate a share, and a plate side of %v with a bar side of %v leaves none", m.PlateSide, m.BarSide)
	}
	return nil
}

// end returns the travel of the end that the bar drives, and its derivative over
// the teeter, in the blade's frame: leading is +1 where the leading edge is to
// the right there.
func (m MixingArm) end(teeter units.Angle, leading units.Length) (travel, slope linkage.Point) {
	sin, cos := math.Sincos(float64(teeter))
	r := m.BarRadius
	travel = linkage.Point{X: leading * r * units.Length(cos-1), Z: r * units.Length(sin)}
	slope = linkage.Point{X: -leading * r * units.Length(sin), Z: r * units.Length(cos)}
	return travel, slope
}
