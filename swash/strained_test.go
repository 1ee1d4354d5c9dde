package swash_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"pgregory.net/rapid"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// eighth is the central difference of eighth order: B. Fornberg, Generation of
// Finite Difference Formulas on Arbitrarily Spaced Grids, Mathematics of
// Computation 51 (1988), table 1, from memory. Unlike the plain one it is exact to
// near the rounding of the poses over the step.
var eighth = fd.Formula{
	Stencil: []fd.Point{
		{Loc: -4, Coeff: 1. / 280}, {Loc: -3, Coeff: -4. / 105}, {Loc: -2, Coeff: 1. / 5}, {Loc: -1, Coeff: -4. / 5},
		{Loc: 1, Coeff: 4. / 5}, {Loc: 2, Coeff: -1. / 5}, {Loc: 3, Coeff: 4. / 105}, {Loc: 4, Coeff: -1. / 280},
	},
	Derivative: 1,
	Step:       lengthStep,
}

// The steps of eighth: what it leaves out is of the order of the step, over the
// length of an arm, to the eighth power, which is below the rounding.
const (
	turnStep   = 5e-3 // rad
	lengthStep = 1e-4 // m
)

// drawStrained draws a plate of four or five irregular legs of unequal stiffness,
// and arms with which they fight: links up to 0.5 mm wrong, and arms up to 3° off
// those that agree, which is 1 mm at the longest.
func drawStrained(t *rapid.T) (spec swash.PlateSpec, arms []units.Angle) {
	spec = drawUnevenAt(t, [][]float64{{0, 90, 180, 270}, {45, 135, 225, 315}, {0, 72, 144, 216, 288}})
	arms = make([]units.Angle, len(spec.Legs))
	wanted := swash.Pose{
		Height: spec.Height + length(t, -3, 3, "rise"),
		Tilt:   swash.TiltTo(angle(t, 0, 8, "tilt"), angle(t, 0, 360, "bearing")),
	}
	if err := build(t, spec).Arms(arms, wanted); err != nil {
		t.Skip("out of reach:", err)
	}
	for i := range spec.Legs {
		arms[i] += angle(t, -3, 3, "off")
		spec.Legs[i].Arm.Link += length(t, -0.5, 0.5, "link off")
		spec.Legs[i].Stiffness = units.Stiffness(rapid.Float64Range(20e3, 200e3).Draw(t, "stiffness"))
	}
	return spec, arms
}

// settled builds a plate, and returns its pose and effects with the arms.
func settled(t *rapid.T, spec swash.PlateSpec, arms []units.Angle) (*swash.Plate, swash.Pose, []swash.LegEffect) {
	p := build(t, spec)
	pose, err := p.Pose(arms)
	if err != nil {
		t.Skip("out of reach:", err)
	}
	effects := make([]swash.LegEffect, len(arms))
	if err := p.LegEffects(effects, pose, arms); err != nil {
		t.Fatal(err)
	}
	for i := range effects {
		if effects[i].Margin < 0.4 {
			t.Skip("too near a dead centre for differences")
		}
	}
	return p, pose, effects
}

// The effects of strained legs are those of Pose, strain and all. With the strain
// left out they are off by about the strain over the link's length.
func TestStrainedEffectsAgainstDifferences(t *testing.T) {
	// Of the link's effect on the ball: differences tell about 1e-12, and less of a
	// plate that is poorly held.
	const tolerance = 1e-10
	rapid.Check(t, func(t *rapid.T) {
		spec, arms := drawStrained(t)
		_, _, effects := settled(t, spec, arms)
		i := rapid.IntRange(0, len(arms)-1).Draw(t, "leg")
		// How far the leg's ball goes, or could as the plate tilts.
		travel := func(r swash.PoseRate) float64 {
			return math.Hypot(r.Height, float64(spec.Legs[i].Ball.Radius)*math.Hypot(r.Right, r.Forward))
		}
		for _, c := range []struct {
			part string
			got  swash.PoseRate
			step float64
			most float64 // of what it does to the link's length
			turn func(l *swash.LegSpec, arm *units.Angle, x float64)
		}{
			{"arm", effects[i].PerArm, turnStep, float64(spec.Legs[i].Arm.Radius), func(_ *swash.LegSpec, arm *units.Angle, x float64) { *arm += units.Angle(x) }},
			{"link", effects[i].PerLink, lengthStep, 1, func(l *swash.LegSpec, _ *units.Angle, x float64) { l.Arm.Link += units.Length(x) }},
			{"radius", effects[i].PerRadius, lengthStep, 1, func(l *swash.LegSpec, _ *units.Angle, x float64) { l.Arm.Radius += units.Length(x) }},
			{"offset", effects[i].PerOffset, lengthStep, 1, func(l *swash.LegSpec, _ *units.Angle, x float64) { l.Ball.Offset += units.Length(x) }},
		} {
			want := poseSlopes(func(x float64) swash.Pose {
				changed, moved := spec, append([]units.Angle(nil), arms...)
				changed.Legs = append([]swash.LegSpec(nil), spec.Legs...)
				c.turn(&changed.Legs[i], &moved[i], x)
				pose, err := build(t, changed).Pose(moved)
				if err != nil {
					t.Skip("differences leave the reach:", err)
				}
				return pose
			}, 0, c.step)
			if off := travel(c.got.Add(want.Scale(-1))); !(off < tolerance*c.most*travel(effects[i].PerLink)) {
				t.Fatalf("per %s of leg %d: %+v, by differences %+v", c.part, i+1, c.got, want)
			}
		}
	})
}

// Pose ends where the strain is least, with nothing left to go, though it goes
// there by steps that shrink in proportion: were all strains taken out of the
// links, leg by leg, the plate would stay. That is Newton's step on the strains'
// sum, so it tells how far off the pose is.
func TestStrainedPoseIsSettled(t *testing.T) {
	const (
		heightLeft = 1e-12 // mm
		tiltLeft   = 1e-12 // degree
	)
	rapid.Check(t, func(t *rapid.T) {
		spec, arms := drawStrained(t)
		p, pose, effects := settled(t, spec, arms)
		fights := make([]swash.Fight, len(arms))
		if err := p.Fights(fights, pose, arms); err != nil {
			t.Fatal(err)
		}
		var left swash.PoseRate
		for i, f := range fights {
			left = left.Add(effects[i].PerLink.Scale(float64(f.Strain)))
		}
		height, tilt := units.Length(left.Height).Millimetres(), units.Angle(math.Hypot(left.Right, left.Forward)).Degrees()
		if !(math.Abs(height) < heightLeft) || !(tilt < tiltLeft) {
			t.Fatalf("%g mm and %g° are left to go", height, tilt)
		}
	})
}

// A load moves a plate of strained legs until the links' forces hold it, and asks of
// each servo what its arm then feels of them: the torque by virtual work, which
// knows of the effects alone, is that of the links' energy, which knows nothing of
// effects.
func TestStrainedTorqueByVirtualWork(t *testing.T) {
	const tolerance = 1e-9 // of the largest torque; differences of differences tell about 1e-11
	rapid.Check(t, func(t *rapid.T) {
		spec, arms := drawStrained(t)
		p, pose, effects := settled(t, spec, arms)
		part := rapid.Float64Range(-1, 1)
		move := swash.PoseRate{Height: 0.03, Right: part.Draw(t, "right"), Forward: part.Draw(t, "forward")}
		fights := make([]swash.Fight, len(arms))
		fight := func(at swash.Pose) []swash.Fight {
			if err := p.Fights(fights, at, arms); err != nil {
				t.Fatal(err)
			}
			return fights
		}
		slope := func(step float64, f func(x float64) float64) float64 {
			return fd.Derivative(f, 0, &fd.Settings{Formula: eighth, Step: step})
		}
		// The load that moves the plate so is the slope of the energy's slope.
		load := func(along swash.PoseRate, step float64) float64 {
			return slope(turnStep, func(x float64) float64 {
				return slope(step, func(y float64) float64 {
					var energy float64
					for _, f := range fight(pose.Moved(move.Scale(x)).Moved(along.Scale(y))) {
						energy += float64(f.Force) * float64(f.Strain) / 2
					}
					return energy
				})
			})
		}
		l := swash.Load{
			Down:    units.Force(-load(swash.PoseRate{Height: 1}, lengthStep)),
			Right:   units.Torque(load(swash.PoseRate{Right: 1}, turnStep)),
			Forward: units.Torque(load(swash.PoseRate{Forward: 1}, turnStep)),
		}
		var largest float64
		for i := range effects {
			largest = math.Max(largest, math.Abs(float64(effects[i].Torque(l))))
		}
		for i := range effects {
			want := slope(turnStep, func(x float64) float64 { return float64(fight(pose.Moved(move.Scale(x)))[i].Torque) })
			if got := float64(effects[i].Torque(l)); !(math.Abs(got-want) < tolerance*largest) {
				t.Fatalf("arm %d under %+v: %v N·m, by the links' forces %v", i+1, l, got, want)
			}
		}
	})
}

// Where the arms agree no link is strained, and the plate that moves with its arms
// moves as it was asked to, however many legs it has.
func TestEffectsOfArmsThatAgree(t *testing.T) {
	const rounding = 1e-11
	rapid.Check(t, func(t *rapid.T) {
		spec, arms := drawStrained(t)
		p, pose, effects := settled(t, spec, arms)
		if err := p.Arms(arms, pose); err != nil {
			t.Skip("out of reach:", err)
		}
		if err := p.LegEffects(effects, pose, arms); err != nil {
			t.Fatal(err)
		}
		asked := swash.PoseRate{Height: 0.03, Right: rapid.Float64Range(-1, 1).Draw(t, "right"), Forward: rapid.Float64Range(-1, 1).Draw(t, "forward")}
		left := asked.Scale(-1)
		for _, e := range effects {
			left = left.Add(e.PerArm.Scale(e.ArmPer.Dot(asked)))
		}
		if off := math.Sqrt(left.Dot(left)); !(off < rounding) {
			t.Fatalf("asked for %+v, and missed it by %+v", asked, left)
		}
	})
}

// A plate pulled down from below its balls stands like a stick on its end: with
// enough strain its legs lose hold of it, though their directions alone would hold.
func TestStrainCanLoseHold(t *testing.T) {
	spec := swash.PlateSpec{Height: 60 * units.Millimetre}
	for _, ball := range swash.FourAt90(0, 20*units.Millimetre) {
		ball.Offset = 10 * units.Millimetre
		leg, err := swash.Upright(ball, spec.Height, 12*units.Millimetre, 60*units.Millimetre, swash.Outward)
		if err != nil {
			t.Fatal(err)
		}
		spec.Legs = append(spec.Legs, leg)
	}
	p, err := swash.NewPlate(spec)
	if err != nil {
		t.Fatal(err)
	}
	effects, arms := make([]swash.LegEffect, 4), make([]units.Angle, 4)
	for rise, held := range map[units.Length]bool{0: true, 10: true, 16: true, 24: false, 30: false} {
		err := p.LegEffects(effects, swash.Pose{Height: spec.Height + rise*units.Millimetre}, arms)
		var singular *swash.SingularError
		if held && err != nil || !held && !errors.As(err, &singular) {
			t.Errorf("%v mm up: %v", float64(rise), err)
		}
	}
}
