package swash

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// uneven is a plate of three unlike legs, level at neutral, with links that stand
// askew.
func uneven(t *testing.T, guide Guide) *Plate {
	t.Helper()
	const height = 60 * units.Millimetre
	spec := PlateSpec{Height: height, Guide: guide}
	for i, bearing := range []units.Angle{10, 125, 250} {
		ball := Ball{Bearing: bearing * units.Degree, Radius: units.Length(28+2*i) * units.Millimetre, Offset: units.Length(i) * units.Millimetre}
		leg, err := Upright(ball, height, units.Length(12+i)*units.Millimetre, units.Length(58-3*i)*units.Millimetre, Outward)
		if err != nil {
			t.Fatal(err)
		}
		leg.Arm.Shaft.X += units.Length(4+3*i) * units.Millimetre
		leg.Arm.Shaft.Y += units.Length(5-6*i) * units.Millimetre
		arm, err := linkage.NewArm(leg.Arm)
		if err != nil {
			t.Fatal(err)
		}
		from, _ := arm.Ball(0)
		level := Pose{Height: height}.Frame(guide)
		leg.Arm.Link = units.Length(r3.Norm(r3.Sub(level.Point(ball).Vec(), from.Vec())))
		spec.Legs = append(spec.Legs, leg)
	}
	p, err := NewPlate(spec)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A series to second order leaves an error of third order: with half the arm angles an
// eighth of it, in each of the three unknowns together and for each arm.
func TestStartIsOfSecondOrder(t *testing.T) {
	for name, guide := range map[string]Guide{"free": {}, "guided": GuideAt(180 * units.Degree)} {
		p := uneven(t, guide)
		off := func(arms []units.Angle) float64 {
			pose, err := p.Pose(arms)
			if err != nil {
				t.Fatal(err)
			}
			want, got := p.attitude(pose), p.begin.of(p.balls(nil, arms))
			return math.Hypot((got.h-want.h)/p.size, math.Hypot(got.x-want.x, got.y-want.y))
		}
		for _, d := range [][3]units.Angle{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, -1, 0}, {0, 1, -1}, {-1, 0, 1}, {1, -0.7, 0.4}} {
			arms := func(scale units.Angle) []units.Angle { return []units.Angle{d[0] * scale, d[1] * scale, d[2] * scale} }
			whole, half := off(arms(0.008)), off(arms(0.004))
			if !(half < whole/6) || !(whole < 1e-6) {
				t.Errorf("%s, arms as %v: off by %.3g, with half the angles by %.3g: want an eighth", name, d, whole, half)
			}
		}
	}
}

// A step that would tilt the plate beyond the steepest one stops there, in its own
// direction; a smaller one is taken whole.
func TestStepsTiltIsBounded(t *testing.T) {
	from := attitude{h: 0.06, x: 0.1, y: -0.2}
	const size = 0.03
	got := from.less(r3.Vec{X: 0.5, Y: 0.2, Z: 0.1}, size)
	for what, off := range map[string]float64{"height": got.h - 0.045, "x": got.x + 0.1, "y": got.y + 0.3} {
		if !(math.Abs(off) < 1e-15) {
			t.Errorf("a small step: %s off by %g", what, off)
		}
	}
	const rounding = 1e-15
	for _, long := range []float64{1.001, 5} { // in steepest ones, towards 0.6, -0.8
		to := long * steepestStep
		got = from.less(r3.Vec{Y: 0.1 - 0.6*to, Z: 0.8*to - 0.2}, size)
		if !(math.Abs(got.x-0.6*steepestStep) < rounding) || !(math.Abs(got.y+0.8*steepestStep) < rounding) || got.h != from.h {
			t.Errorf("a step to %v: %+v, want a tilt of %v along 0.6, -0.8", to, got, steepestStep)
		}
	}
	to := 0.999 * steepestStep
	if got = from.less(r3.Vec{Y: 0.1 - to, Z: -0.2}, size); !(math.Abs(got.x-to) < rounding) {
		t.Errorf("a step to %v: %+v", to, got)
	}
}
