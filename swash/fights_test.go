package swash_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// drawFour draws a plate of four legs, of equal or of unequal stiffness, and arms
// that do not agree.
func drawFour(t *rapid.T) (spec swash.PlateSpec, arms []units.Angle) {
	height := 60 * units.Millimetre
	spec = swash.PlateSpec{Height: height, Guide: drawGuide(t)}
	unequal := rapid.Bool().Draw(t, "unequal")
	for _, ball := range swash.FourAt90(angle(t, 0, 360, "first"), length(t, 20, 35, "ball radius")) {
		leg, err := swash.Upright(ball, height, 12*units.Millimetre, 58*units.Millimetre, swash.Outward)
		if err != nil {
			t.Fatal(err)
		}
		leg.Stiffness = 50e3 // N/m
		if unequal {
			leg.Stiffness *= units.Stiffness(rapid.Float64Range(0.2, 3).Draw(t, "stiffness"))
		}
		spec.Legs = append(spec.Legs, leg)
	}
	common := angle(t, -15, 15, "collective")
	for range spec.Legs {
		arms = append(arms, common+angle(t, -4, 4, "arm"))
	}
	return spec, arms
}

// Four servos that fight hold the plate where the strain energy is least: there the
// links' forces add up to nothing along the mast, and their virtual work in any
// tilt is nothing, whatever the stiffness. What they do across the mast, the mast
// and the guide take.
func TestFightsBalance(t *testing.T) {
	const (
		balance = 1e-8 // of the largest force
		step    = 1e-6 // m and rad
	)
	rapid.Check(t, func(t *rapid.T) {
		spec, arms := drawFour(t)
		p := build(t, spec)
		pose, err := p.Pose(arms)
		if err != nil {
			t.Fatal(err)
		}
		fights := make([]swash.Fight, 4)
		if err := p.Fights(fights, pose, arms); err != nil {
			t.Fatal(err)
		}
		// The link of leg i in another pose, straight from the two balls.
		link := func(i int, pose swash.Pose) r3.Vec {
			arm, err := linkage.NewArm(spec.Legs[i].Arm)
			if err != nil {
				t.Fatal(err)
			}
			ball, _ := arm.Ball(arms[i])
			frame := pose.Frame(spec.Guide)
			return r3.Sub(frame.Point(spec.Legs[i].Ball).Vec(), ball.Vec())
		}
		var largest, mast float64
		for i, f := range fights {
			stretch := r3.Norm(link(i, pose)) - float64(spec.Legs[i].Arm.Link)
			if math.Abs(float64(f.Strain)-stretch) > 1e-14 || math.Abs(float64(f.Force)-stretch*float64(spec.Legs[i].Stiffness)) > 1e-9 {
				t.Fatalf("leg %d: %+v, its balls stand %v m too far apart", i+1, f, stretch)
			}
			largest = math.Max(largest, math.Abs(float64(f.Force)))
			mast += float64(f.Force) * link(i, pose).Z / r3.Norm(link(i, pose))
		}
		if math.Abs(mast) > balance*largest+1e-9 {
			t.Fatalf("%v N along the mast are left over, of %v N", mast, largest)
		}
		for name, tilt := range map[string]swash.PoseRate{"right": {Right: 1}, "forward": {Forward: 1}} {
			work := fd.Derivative(func(x float64) float64 {
				var sum float64
				for i, f := range fights {
					sum += float64(f.Force) * r3.Norm(link(i, pose.Moved(tilt.Scale(x))))
				}
				return sum
			}, 0, &fd.Settings{Formula: fd.Central, Step: step})
			if math.Abs(work) > 1e-6*largest+1e-9 { // N·m, by differences
				t.Fatalf("%v N·m are left over against tilt %s, of %v N", work, name, largest)
			}
		}
		// The torque holds the arm against the force, by virtual work.
		for i, f := range fights {
			moved := append([]units.Angle(nil), arms...)
			there := make([]swash.Fight, 4)
			slope := fd.Derivative(func(x float64) float64 {
				moved[i] = arms[i] + units.Angle(x)
				if err := p.Fights(there, pose, moved); err != nil {
					t.Fatal(err)
				}
				return float64(there[i].Strain)
			}, 0, &fd.Settings{Formula: fd.Central, Step: step})
			if want := float64(f.Force) * slope; math.Abs(float64(f.Torque)-want) > 1e-6*math.Abs(want)+1e-9 {
				t.Fatalf("leg %d: torque %v, by virtual work %v N·m", i+1, f.Torque, want)
			}
		}
	})
}

// Arms set to where the plate stands end the fight and leave the plate there: what
// sub-trims relieve.
func TestArmsThatEndAFight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, arms := drawFour(t)
		p := build(t, spec)
		pose, err := p.Pose(arms)
		if err != nil {
			t.Fatal(err)
		}
		relieved := make([]units.Angle, 4)
		if err := p.Arms(relieved, pose); err != nil {
			t.Fatal(err)
		}
		fights := make([]swash.Fight, 4)
		if err := p.Fights(fights, pose, relieved); err != nil {
			t.Fatal(err)
		}
		for i, f := range fights {
			if math.Abs(float64(f.Strain)) > 1e-14 {
				t.Fatalf("leg %d is still strained by %v", i+1, f.Strain)
			}
		}
		again, err := p.Pose(relieved)
		if err != nil {
			t.Fatal(err)
		}
		if off := again.Tilt.Sub(pose.Tilt).Amount(); off > 1e-10 || math.Abs(float64(again.Height-pose.Height)) > 1e-12 {
			t.Fatalf("%+v became %+v", pose, again)
		}
	})
}

// A stiff leg keeps its place and the soft ones give way: the strains of an even
// plate with one arm too high are as its stiffness says.
func TestStiffLegsGiveWayLess(t *testing.T) {
	strains := func(stiffness ...units.Stiffness) []float64 {
		spec := swash.PlateSpec{Height: 60 * units.Millimetre}
		for i, ball := range swash.FourAt90(0, 30*units.Millimetre) {
			leg, err := swash.Upright(ball, spec.Height, 12*units.Millimetre, 58*units.Millimetre, swash.Outward)
			if err != nil {
				t.Fatal(err)
			}
			leg.Stiffness = stiffness[i]
			spec.Legs = append(spec.Legs, leg)
		}
		p, err := swash.NewPlate(spec)
		if err != nil {
			t.Fatal(err)
		}
		arms := []units.Angle{1 * units.Degree, 0, 0, 0}
		pose, err := p.Pose(arms)
		if err != nil {
			t.Fatal(err)
		}
		fights := make([]swash.Fight, 4)
		if err := p.Fights(fights, pose, arms); err != nil {
			t.Fatal(err)
		}
		var mm []float64
		for _, f := range fights {
			mm = append(mm, f.Strain.Millimetres())
			if (f.Force == 0) != (stiffness[0] == 0) {
				t.Errorf("force %v of a leg of %v", f.Force, stiffness[0])
			}
		}
		return mm
	}
	// The one way of four balls that no height and tilt makes is +1, -1, +1, -1.
	// An arm too high by h has h/4 of it where all are alike; with compliances c
	// the force is h/Σc, and each strain that times its own c.
	h := 12 * math.Sin(math.Pi/180)
	const firstOrder = 0.01 * 0.2 // of the strains' size, in mm
	for i, sign := range []float64{-1, 1, -1, 1} {
		for _, alike := range [][]float64{strains(0, 0, 0, 0), strains(1e5, 1e5, 1e5, 1e5)} {
			if math.Abs(alike[i]-sign*h/4) > firstOrder {
				t.Errorf("alike: strain %d is %v mm, want %v", i+1, alike[i], sign*h/4)
			}
		}
		compliance := []float64{1, 0.5, 0.25, 1}
		want := sign * h * compliance[i] / 2.75
		if got := strains(1e5, 2e5, 4e5, 1e5)[i]; math.Abs(got-want) > firstOrder {
			t.Errorf("unlike: strain %d is %v mm, want %v", i+1, got, want)
		}
	}
}

// Stiffness in series is that of springs: J. E. Shigley, Mechanical Engineering
// Design, chapter on springs, from memory.
func TestInSeries(t *testing.T) {
	for _, c := range []struct {
		parts []units.Stiffness
		want  float64
	}{
		{[]units.Stiffness{300e3}, 300e3},
		{[]units.Stiffness{300e3, 60e3}, 50e3},
		{[]units.Stiffness{90e3, 90e3, 90e3}, 30e3},
	} {
		if got := float64(swash.InSeries(c.parts...)); math.Abs(got-c.want) > 1e-12*c.want {
			t.Errorf("%v: %v N/m, want %v", c.parts, got, c.want)
		}
	}
}

// A stiffness for some legs only, or below zero, is refused.
func TestStiffnessRefused(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, _ := drawFour(t)
		i := rapid.IntRange(0, 3).Draw(t, "leg")
		spec.Legs[i].Stiffness = rapid.SampledFrom([]units.Stiffness{0, -1, units.Stiffness(math.NaN()), units.Stiffness(math.Inf(1))}).Draw(t, "stiffness")
		var e *units.FieldError
		if _, err := swash.NewPlate(spec); !errors.As(err, &e) || !strings.HasSuffix(e.Field, "].Stiffness") {
			t.Fatalf("leg %d of %v N/m: %v", i+1, float64(spec.Legs[i].Stiffness), err)
		}
	})
}

// The torque that holds a load balances its work in any small turn of the arm:
// a push down the mast as the plate rises, and moments as it tilts their way.
func TestTorqueByVirtualWork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := build(t, drawUneven(t))
		arms := drawArms(t, 3)
		pose, err := p.Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		legs, plain := make([]swash.LegEffect, 3), make([]swash.ArmEffect, 3)
		if err := p.LegEffects(legs, pose, arms); err != nil {
			t.Fatal(err)
		}
		if err := p.Effects(plain, pose, arms); err != nil {
			t.Fatal(err)
		}
		for i := range legs {
			if legs[i].Margin < 0.2 {
				t.Skip("too near a dead centre for differences")
			}
		}
		for i := range legs {
			moves := poseSlopes(func(x float64) swash.Pose {
				moved := append([]units.Angle(nil), arms...)
				moved[i] += units.Angle(x)
				got, err := p.PoseNear(pose, moved)
				if err != nil {
					t.Skip("differences leave the reach:", err)
				}
				return got
			}, 0, 1e-4)
			for _, c := range []struct {
				load swash.Load
				want float64 // that the arm lifts, in N·m
			}{
				{swash.Load{Down: 50}, 50 * moves.Height},
				{swash.Load{Right: 0.5}, -0.5 * moves.Right},
				{swash.Load{Forward: 0.5}, -0.5 * moves.Forward},
				{swash.Load{Down: 50, Right: 0.5, Forward: -0.3}, 50*moves.Height - 0.5*moves.Right + 0.3*moves.Forward},
			} {
				scale := math.Max(1, math.Hypot(moves.Right, moves.Forward))
				if got := float64(legs[i].Torque(c.load)); math.Abs(got-c.want) > 50*slopeTolerance*scale || got != float64(plain[i].Torque(c.load)) {
					t.Fatalf("arm %d under %+v: %v N·m, by virtual work %v", i+1, c.load, got, c.want)
				}
			}
		}
	})
}
