package swash_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// drawCranks draws a machine on bell cranks: chains of two for collective and
// right, a single linkage for forward.
func drawCranks(t *rapid.T) swash.BellCrankSpec {
	bar := func(name string) linkage.Linkage {
		link := length(t, 38, 50, name+" link")
		// Cranks side by side, both level to the link or a little off.
		off := angle(t, -10, 10, name+" off")
		l, err := linkage.NewArmToArm(linkage.FourBar(length(t, 10, 14, name+" crank"), link, length(t, 14, 20, name+" rocker"), 42*units.Millimetre, 90*units.Degree+off, 90*units.Degree))
		if err != nil {
			t.Skip("no such linkage:", err)
		}
		return l
	}
	slider, err := linkage.NewArmToLine(linkage.LineSpec{
		Arm: linkage.ArmSpec{
			Axis:    linkage.Direction{X: 1},
			Neutral: linkage.Direction{Y: 1},
			Radius:  length(t, 10, 18, "arm"),
			Link:    length(t, 35, 45, "link"),
		},
		Ball:  linkage.Point{Y: length(t, 10, 18, "line"), Z: 40 * units.Millimetre},
		Along: linkage.Direction{Z: 1},
	})
	if err != nil {
		t.Skip("no such linkage:", err)
	}
	gear, err := linkage.NewLever(rapid.Float64Range(0.2, 0.6).Draw(t, "ratio"), linkage.Angle, linkage.Angle)
	if err != nil {
		t.Fatal(err)
	}
	chain := func(members ...linkage.Linkage) linkage.Linkage {
		c, err := linkage.NewChain(members...)
		if err != nil {
			t.Skip("no such chain:", err)
		}
		return c
	}
	return swash.BellCrankSpec{
		Height:     length(t, 40, 80, "height"),
		Collective: chain(bar("collective"), slider),
		Right:      chain(bar("right"), gear),
		Forward:    bar("forward"),
	}
}

func newCranks(t *rapid.T) *swash.BellCranks {
	m, err := swash.NewBellCranks(drawCranks(t))
	if err != nil {
		t.Skip("no such machine:", err)
	}
	return m
}

// The arms come back from the pose they made, and the pose is what the three chains
// give.
func TestBellCranksRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawCranks(t)
		m, err := swash.NewBellCranks(spec)
		if err != nil {
			t.Skip("no such machine:", err)
		}
		arms := drawArms(t, 3)
		pose, err := m.Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		got := [3]float64{float64(pose.Height - spec.Height), float64(pose.Tilt.Right), float64(pose.Tilt.Forward)}
		for i, chain := range []linkage.Linkage{spec.Collective, spec.Right, spec.Forward} {
			motion, err := chain.Move(float64(arms[i]))
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got[i]-motion.Out) > 1e-15 {
				t.Fatalf("function %d: %v, its chain gives %v", i+1, got[i], motion.Out)
			}
		}
		back := make([]units.Angle, 3)
		if err := m.Arms(back, pose); err != nil {
			t.Fatal(err)
		}
		for i := range arms {
			if off := (back[i] - arms[i]).Degrees(); math.Abs(off) > 1e-9 {
				t.Fatalf("arm %d: %v came back as %v", i+1, arms[i], back[i])
			}
		}
	})
}

// The analytic slopes agree with differences, each arm moves its own function
// alone, and the margin is that of the worse of the two ends.
func TestBellCrankEffects(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := newCranks(t)
		arms := drawArms(t, 3)
		pose, err := m.Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		effects := make([]swash.ArmEffect, 3)
		if err := m.Effects(effects, pose, arms); err != nil {
			t.Fatal(err)
		}
		for i, e := range effects {
			if e.Margin < 0.2 {
				t.Skip("too near a dead centre for differences")
			}
			sameRate(t, "per arm", e.PerArm, poseSlopes(func(x float64) swash.Pose {
				moved := append([]units.Angle(nil), arms...)
				moved[i] += units.Angle(x)
				p, err := m.Pose(moved)
				if err != nil {
					t.Skip("differences leave the reach:", err)
				}
				return p
			}, 0, 1e-4))
			own := [3]float64{e.PerArm.Height, e.PerArm.Right, e.PerArm.Forward}
			for k, slope := range own {
				if (slope != 0) != (k == i) {
					t.Fatalf("arm %d: %+v", i+1, e.PerArm)
				}
			}
			motion, err := m.Chain(i).Move(float64(arms[i]))
			if err != nil {
				t.Fatal(err)
			}
			worse := math.Min(math.Sin(float64(motion.Input)), math.Sin(float64(motion.Transmission)))
			if math.Abs(e.Margin-worse) > 1e-15 || e.OffSquare != motion.OffSquare || e.BallLinkAngle != motion.BallLinkAngle {
				t.Fatalf("arm %d: %+v of %+v", i+1, e, motion)
			}
		}
	})
}

func TestBellCranksRefuse(t *testing.T) {
	lever := func(in, out linkage.Kind) linkage.Linkage {
		l, err := linkage.NewLever(0.5, in, out)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	turn, lift := lever(linkage.Angle, linkage.Angle), lever(linkage.Angle, linkage.Length)
	good := swash.BellCrankSpec{Height: 60 * units.Millimetre, Collective: lift, Right: turn, Forward: turn}
	nan := units.Length(math.NaN())
	for name, c := range map[string]struct {
		edit func(*swash.BellCrankSpec)
		leg  int
	}{
		"no collective":             {func(s *swash.BellCrankSpec) { s.Collective = nil }, 0},
		"no right":                  {func(s *swash.BellCrankSpec) { s.Right = nil }, 1},
		"no forward":                {func(s *swash.BellCrankSpec) { s.Forward = nil }, 2},
		"collective gives an angle": {func(s *swash.BellCrankSpec) { s.Collective = turn }, 0},
		"right gives a length":      {func(s *swash.BellCrankSpec) { s.Right = lift }, 1},
		"forward gives a length":    {func(s *swash.BellCrankSpec) { s.Forward = lift }, 2},
		"collective takes a length": {func(s *swash.BellCrankSpec) { s.Collective = lever(linkage.Length, linkage.Length) }, 0},
		"right takes a length":      {func(s *swash.BellCrankSpec) { s.Right = lever(linkage.Length, linkage.Angle) }, 1},
		"height is not a number":    {func(s *swash.BellCrankSpec) { s.Height = nan }, -1},
	} {
		spec := good
		c.edit(&spec)
		var e *units.FieldError
		if _, err := swash.NewBellCranks(spec); !errors.As(err, &e) || e.Field != append([]string{"Height"}, "Collective", "Right", "Forward")[c.leg+1] {
			t.Errorf("%s: %v", name, err)
		}
	}
	m, err := swash.NewBellCranks(good)
	if err != nil {
		t.Fatal(err)
	}
	var input *units.FieldError
	var leg *swash.LegError
	arms, effects := make([]units.Angle, 3), make([]swash.ArmEffect, 3)
	for i := range arms {
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			odd := make([]units.Angle, 3)
			odd[i] = units.Angle(bad)
			if _, err := m.Pose(odd); !errors.As(err, &leg) || leg.Leg != i {
				t.Errorf("pose of arm %d at %v: %v", i+1, bad, err)
			}
			if err := m.Effects(effects, m.Neutral(), odd); !errors.As(err, &leg) || leg.Leg != i {
				t.Errorf("effects of arm %d at %v: %v", i+1, bad, err)
			}
		}
	}
	for _, pose := range []swash.Pose{{Height: nan}, {Tilt: swash.Tilt{Right: units.Angle(nan)}}, {Tilt: swash.Tilt{Forward: 90 * units.Degree}}} {
		if err := m.Arms(arms, pose); !errors.As(err, &input) {
			t.Errorf("arms of %+v: %v", pose, err)
		}
		if err := m.Effects(effects, pose, arms); !errors.As(err, &input) {
			t.Errorf("effects at %+v: %v", pose, err)
		}
	}
	_, err = m.Pose(arms[:2])
	for name, err := range map[string]error{
		"two arms to pose":  err,
		"two arms wanted":   m.Arms(arms[:2], m.Neutral()),
		"two effects":       m.Effects(effects[:2], m.Neutral(), arms),
		"effects of no arm": m.Effects(effects, m.Neutral(), nil),
	} {
		if !errors.As(err, &input) {
			t.Errorf("%s: %v", name, err)
		}
	}
	// A plate that would lie on its side.
	if _, err := m.Pose([]units.Angle{0, math.Pi, 0}); !errors.As(err, &input) {
		t.Errorf("tilt of 90°: %v", err)
	}
}

// On an even machine whose arms all turn alike, the plate rises as each leg's
// linkage says.
func TestLegLinkageIsCollective(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, _ := drawEven(t)
		p := build(t, spec)
		q := angle(t, -25, 25, "arm")
		arms := make([]units.Angle, p.Servos())
		for i := range arms {
			arms[i] = q
		}
		pose, err := p.Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		l, err := p.LegLinkage(rapid.IntRange(0, p.Servos()-1).Draw(t, "leg"))
		if err != nil {
			t.Fatal(err)
		}
		motion, err := l.Move(float64(q))
		if err != nil {
			t.Fatal(err)
		}
		rise := float64(pose.Height - p.Neutral().Height)
		if math.Abs(motion.Out-rise) > 1e-12 { // metres
			t.Fatalf("the plate rises by %v, the leg's ball by %v", rise, motion.Out)
		}
	})
	p := evenPlate(t)
	for _, i := range []int{-1, 3} {
		var spec *units.FieldError
		if _, err := p.LegLinkage(i); !errors.As(err, &spec) || spec.Field != "i" {
			t.Errorf("leg %d: %v", i, err)
		}
	}
}
