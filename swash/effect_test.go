package swash_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"pgregory.net/rapid"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// slopeTolerance is what differences of the exact solution of eighth order can tell, as
// a part of the largest slope.
const slopeTolerance = 1e-8

// poseSlopes returns the three slopes of a pose over something, by central
// differences.
func poseSlopes(f func(x float64) swash.Pose, x, step float64) swash.PoseRate {
	settings := &fd.Settings{Formula: eighth, Step: step}
	part := func(pick func(swash.Pose) float64) float64 {
		return fd.Derivative(func(x float64) float64 { return pick(f(x)) }, x, settings)
	}
	return swash.PoseRate{
		Height:  part(func(p swash.Pose) float64 { return float64(p.Height) }),
		Right:   part(func(p swash.Pose) float64 { return float64(p.Tilt.Right) }),
		Forward: part(func(p swash.Pose) float64 { return float64(p.Tilt.Forward) }),
	}
}

func sameRate(t *rapid.T, what string, got, want swash.PoseRate) {
	t.Helper()
	scale := math.Max(math.Hypot(want.Right, want.Forward), 1)
	if !(math.Abs(got.Height-want.Height) < slopeTolerance*math.Max(1, math.Abs(want.Height))) ||
		!(math.Abs(got.Right-want.Right) < slopeTolerance*scale) ||
		!(math.Abs(got.Forward-want.Forward) < slopeTolerance*scale) {
		t.Fatalf("%s: %+v, by differences %+v", what, got, want)
	}
}

// The analytic slopes agree with differences of the exact solution, for every
// part of every leg.
func TestEffectsAgainstDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawUneven(t)
		p := build(t, spec)
		arms := drawArms(t, 3)
		pose, err := p.Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		effects := make([]swash.LegEffect, 3)
		if err := p.LegEffects(effects, pose, arms); err != nil {
			t.Fatal(err)
		}
		for i := range effects {
			if effects[i].Margin < 0.2 {
				t.Skip("too near a dead centre for differences")
			}
		}
		i := rapid.IntRange(0, 2).Draw(t, "leg")
		e := effects[i]
		solve := func(spec swash.PlateSpec, arms []units.Angle) swash.Pose {
			got, err := build(t, spec).PoseNear(pose, arms)
			if err != nil {
				t.Skip("differences leave the reach:", err)
			}
			return got
		}
		changed := func(change func(*swash.LegSpec, float64)) func(float64) swash.Pose {
			return func(x float64) swash.Pose {
				s := spec
				s.Legs = append([]swash.LegSpec(nil), s.Legs...)
				change(&s.Legs[i], x)
				return solve(s, arms)
			}
		}
		// Where the legs hold the plate poorly its pose bends within these steps, which
		// is more than plain differences bear; and the steps are smaller there.
		bend := math.Max(1, math.Hypot(e.PerArm.Right, e.PerArm.Forward))
		turn, length := 1e-3/bend, 1e-5/bend
		sameRate(t, "per arm", e.PerArm, poseSlopes(func(x float64) swash.Pose {
			moved := append([]units.Angle(nil), arms...)
			moved[i] += units.Angle(x)
			return solve(spec, moved)
		}, 0, turn))
		sameRate(t, "per link", e.PerLink, poseSlopes(changed(func(l *swash.LegSpec, x float64) { l.Arm.Link += units.Length(x) }), 0, length))
		sameRate(t, "per radius", e.PerRadius, poseSlopes(changed(func(l *swash.LegSpec, x float64) { l.Arm.Radius += units.Length(x) }), 0, length))
		sameRate(t, "per offset", e.PerOffset, poseSlopes(changed(func(l *swash.LegSpec, x float64) { l.Ball.Offset += units.Length(x) }), 0, length))
	})
}

// Arms over the pose, and the pose over the arms, are inverses of each other.
func TestEffectsAreInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := build(t, drawUneven(t))
		arms := drawArms(t, 3)
		pose, err := p.Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		effects := make([]swash.LegEffect, 3)
		if err := p.LegEffects(effects, pose, arms); err != nil {
			t.Fatal(err)
		}
		for i := range effects {
			for j := range effects {
				want := 0.0
				if i == j {
					want = 1
				}
				got := effects[i].ArmPer.Dot(effects[j].PerArm)
				if !(math.Abs(got-want) < 1e-8) {
					t.Fatalf("arm %d over arm %d: %v, want %v", i+1, j+1, got, want)
				}
			}
		}
	})
}

// The drive's slopes are those of Control, with three legs and with more that fight.
func TestSlopesAgainstDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawUneven(t)
		if rapid.Bool().Draw(t, "strained") {
			spec, _ = drawStrained(t)
		}
		p := build(t, spec)
		mix, err := p.Mix()
		if err != nil {
			t.Fatal(err)
		}
		s := plainServo()
		s.Reverse, s.Low, s.High = rapid.Bool().Draw(t, "reverse"), 0.8, 1.1
		d := drive(t, p, mix, s)
		at := drawDemand(t, 0.2)
		pose, slopes, err := d.Slopes(d.NewState(), at)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		for _, c := range mix {
			if math.Abs(c.Collective*at.Collective+c.Right*at.Right+c.Forward*at.Forward) < 1e-3 {
				t.Skip("at the kink between end points")
			}
		}
		out := d.NewState()
		solve := func(dc, dr, df float64) swash.Pose {
			got, err := d.Pose(out, swash.Demand{Collective: at.Collective + dc, Right: at.Right + dr, Forward: at.Forward + df})
			if err != nil {
				t.Skip("differences leave the reach:", err)
			}
			return got
		}
		if solve(0, 0, 0) != pose {
			t.Fatal("Slopes and Drive disagree on the pose")
		}
		const step = 1e-4
		sameRate(t, "collective", slopes.Collective, poseSlopes(func(x float64) swash.Pose { return solve(x, 0, 0) }, 0, step))
		sameRate(t, "right", slopes.Right, poseSlopes(func(x float64) swash.Pose { return solve(0, x, 0) }, 0, step))
		sameRate(t, "forward", slopes.Forward, poseSlopes(func(x float64) swash.Pose { return solve(0, 0, x) }, 0, step))
	})
}

// A pull straight down the mast on an even, square machine falls on its arms in
// equal parts: a third of the force times the arm.
func TestTorqueOfAStraightPull(t *testing.T) {
	p := evenPlate(t)
	effects := make([]swash.LegEffect, 3)
	if err := p.LegEffects(effects, p.Neutral(), make([]units.Angle, 3)); err != nil {
		t.Fatal(err)
	}
	for _, e := range effects {
		near(t, "torque", e.Torque(swash.Load{Down: 30}).NewtonMetres(), 10*0.015, 1e-12)
		near(t, "margin", e.Margin, 1, 1e-12)
		near(t, "off square", e.OffSquare.Degrees(), 0, 1e-10)
		near(t, "cone", e.BallLinkAngle.Degrees(), 0, 1e-6)
	}
	// A moment that tips the front down is carried by the front arm alone
	// raising and the other two giving way in equal parts.
	front, rear := effects[0].Torque(swash.Load{Forward: 1}), effects[1].Torque(swash.Load{Forward: 1})
	near(t, "front", front.NewtonMetres(), decimal(-2*rear.NewtonMetres()), 1e-12)
	if front <= 0 {
		t.Errorf("front arm's torque is %v, and should push up", front)
	}
}

// An arm that stands too high at neutral says by how much.
func TestOffSquare(t *testing.T) {
	p := evenPlate(t)
	arms := []units.Angle{5 * units.Degree, 0, 0}
	pose, err := p.Pose(arms)
	if err != nil {
		t.Fatal(err)
	}
	effects := make([]swash.LegEffect, 3)
	if err := p.LegEffects(effects, pose, arms); err != nil {
		t.Fatal(err)
	}
	// The link tilts a little as the arm swings: 5° to within that.
	if off := effects[0].OffSquare.Degrees(); math.Abs(off-5) > 0.3 {
		t.Errorf("off square by %v°, want about 5°", off)
	}
}
