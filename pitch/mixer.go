package pitch

import (
	"fmt"
	"math"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// MixingArm is the arm of a flybar head that mixes two inputs on one horn
// link: the plate drives one end of it, through a washout arm or directly, the bar
// drives the other, and the pitch link's lower ball sits on the straight line
// between the two, or beyond one of them. The zero value is no mixing arm: the
// pitch link stands on the ring's ball.
//
// It is drawn so that at neutral, the plate level and the bar too, the pitch link's
// lower ball stands where the ring's ball is. From there that ball moves by the
// plate's share of the ring ball's travel and the bar's share of its end's, each as a
// vector: up, out and around. A washout arm scales the plate's share and keeps its
// sense: the plate's way up is the link's way up.
type MixingArm struct {
	PlateSide units.Length // from the pitch link's ball to the end that the plate drives; below 0 where the ball lies beyond that end
	BarSide   units.Length // from the pitch link's ball to the end that the bar drives; below 0 likewise
	// BarRadius is from the bar's teeter axis, which is the blade's own
	// direction, to the end that the bar drives, positive on the side of the
	// blade's leading edge. It matters where the bar is not level.
	BarRadius units.Length
	// WashoutIn and WashoutOut are the washout arm's lengths from its pivot to
	// the ring's side and to the mixing arm's side. Both 0 is no washout arm.
	WashoutIn, WashoutOut units.Length
}

// Shares returns what part of the ring ball's travel, and of the bar end's, reaches
// the pitch link: of the arms' lengths alone, and so exact at any angle, since a
// point of a straight arm moves as the same part of its ends. Travel counts from
// the level plate at neutral with the bar level.
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

// validate reports an arm that cannot be built, as a *SpecError.
func (m MixingArm) validate() error {
	for _, f := range []struct {
		name  string
		value units.Length
	}{
		{"plate side", m.PlateSide}, {"bar side", m.BarSide}, {"bar radius", m.BarRadius},
		{"washout in", m.WashoutIn}, {"washout out", m.WashoutOut},
	} {
		if !units.Finite(f.value) {
			return &SpecError{Field: "mixing arm, " + f.name, Reason: "not finite"}
		}
	}
	if (m.WashoutIn == 0) != (m.WashoutOut == 0) {
		return &SpecError{Field: "mixing arm, washout", Reason: fmt.Sprintf("one of its lengths is 0: in %v, out %v", m.WashoutIn, m.WashoutOut)}
	}
	plate, bar := m.Shares()
	if math.IsNaN(plate+bar) || math.IsInf(plate, 0) || plate == 0 {
		return &SpecError{Field: "mixing arm", Reason: fmt.Sprintf("plate side %v and bar side %v leave the plate no share", m.PlateSide, m.BarSide)}
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
