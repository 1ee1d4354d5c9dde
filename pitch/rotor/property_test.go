package rotor

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

// drawSpec draws a rotor with a symmetric, untwisted blade.
func drawSpec(t *rapid.T) Spec {
	radius := rapid.Float64Range(0.1, 2).Draw(t, "radius")
	return Spec{
		Blades: rapid.IntRange(1, 6).Draw(t, "blades"),
		Radius: units.Length(radius),
		Cutout: units.Length(radius * rapid.Float64Range(0, 0.4).Draw(t, "cutout")),
		Chord:  units.Length(radius * rapid.Float64Range(0.02, 0.15).Draw(t, "chord")),
		Taper:  units.Ratio(rapid.Float64Range(0.5, 3).Draw(t, "taper")),
		Axis:   units.Ratio(rapid.Float64Range(0.2, 0.4).Draw(t, "axis")),
		Section: Section{
			LiftSlope: rapid.Float64Range(4, 6.3).Draw(t, "slope"),
			StallLift: rapid.Float64Range(0.6, 1.4).Draw(t, "stall"),
			Drag:      rapid.Float64Range(0.005, 0.03).Draw(t, "drag"),
			DragRise:  rapid.Float64Range(0, 2).Draw(t, "drag rise"),
		},
		TipLoss: rapid.SampledFrom([]TipLoss{Prandtl, EffectiveRadius, NoTipLoss}).Draw(t, "loss"),
	}
}

func drawRotor(t *rapid.T) *Rotor {
	r, err := New(drawSpec(t))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// drawPitch draws millionths of a degree, since numbers near the smallest float64
// have fewer digits.
func drawPitch(t *rapid.T, name string) units.Angle {
	return units.Angle(rapid.IntRange(-20e6, 20e6).Draw(t, name)) * 1e-6 * units.Degree
}

// drawCondition draws a climb in millimetres per second.
func drawCondition(t *rapid.T, climb int) Condition {
	return Condition{
		Speed:   units.AngularSpeed(rapid.Float64Range(500, 3000).Draw(t, "rpm")) * units.RevolutionPerMinute,
		Density: Density(rapid.Float64Range(0.8, 1.4).Draw(t, "density")),
		Climb:   units.Velocity(rapid.IntRange(-climb, climb).Draw(t, "climb")) * 1e-3,
	}
}

// TestMirror: turned upside down, pitch, climb, thrust and feathering moment change
// sign, and torque does not, to the last bit.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, pitch, at := drawRotor(t), drawPitch(t, "pitch"), drawCondition(t, 3000)
		up, upErr := r.Loads(pitch, at)
		at.Climb = -at.Climb
		down, downErr := r.Loads(-pitch, at)
		if (upErr == nil) != (downErr == nil) {
			t.Fatalf("errors %v and %v", upErr, downErr)
		}
		down.Thrust, down.Coefficients.Thrust = -down.Thrust, -down.Coefficients.Thrust
		down.Feathering, down.Coefficients.Feathering = -down.Feathering, -down.Coefficients.Feathering
		if up != down {
			t.Fatalf("loads %+v upright, %+v upside down", up, down)
		}
	})
}

// TestMonotone: more pitch is more thrust below stall, and never less past it.
func TestMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRotor(t)
		climb := rapid.Float64Range(-0.05, 0.05).Draw(t, "climb")
		a := float64(drawPitch(t, "pitch"))
		b := a + rapid.Float64Range(1e-6, 0.2).Draw(t, "more")
		lo, _ := r.coefficients(a, climb)
		hi, _ := r.coefficients(b, climb)
		const rounding = 1e-15
		if hi.Thrust < lo.Thrust-rounding {
			t.Fatalf("thrust falls from %v to %v", lo.Thrust, hi.Thrust)
		}
		if climb == 0 && lo.Stalled == 0 && hi.Stalled == 0 && !(hi.Thrust > lo.Thrust) {
			t.Fatalf("thrust stays at %v below stall", lo.Thrust)
		}
	})
}

// TestIdealPower: no rotor takes less than the ideal disc, and power is its parts.
func TestIdealPower(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, pitch, at := drawRotor(t), drawPitch(t, "pitch"), drawCondition(t, 3000)
		loads, err := r.Loads(pitch, at)
		if err != nil {
			t.Skip()
		}
		const rounding = 1e-12
		if sum := float64(loads.Induced + loads.Profile); math.Abs(sum-float64(loads.Power)) > rounding*math.Abs(sum) {
			t.Fatalf("parts sum to %v, power is %v", sum, loads.Power)
		}
		near := float64(loads.Torque) * float64(at.Speed)
		if math.Abs(near-float64(loads.Power)) > rounding*math.Abs(near) {
			t.Fatalf("torque times speed is %v, power is %v", near, loads.Power)
		}
		if at.Climb != 0 && (at.Climb < 0) != (loads.Thrust < 0) {
			return // the air drives the disc
		}
		ideal, err := IdealPower(loads.Thrust, r.spec.Radius, at.Density, at.Climb)
		if err != nil {
			t.Fatal(err)
		}
		unit := float64(r.scale(Coefficients{Torque: 1}, at).Power)
		if float64(loads.Induced) < float64(ideal)*(1-rounding)-1e-18*unit {
			t.Fatalf("induced power %v, ideal %v", loads.Induced, ideal)
		}
		if fm := loads.Coefficients.FigureOfMerit(); at.Climb == 0 && fm >= 1 {
			t.Fatalf("figure of merit %v", fm)
		}
	})
}

// TestScaling: loads go with density, thrust and torque with the square of the
// rotor speed and power with its cube.
func TestScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, pitch, at := drawRotor(t), drawPitch(t, "pitch"), drawCondition(t, 0)
		base, err := r.Loads(pitch, at)
		if err != nil {
			t.Fatal(err)
		}
		k := rapid.Float64Range(0.5, 2).Draw(t, "factor")
		fast := at
		fast.Speed *= units.AngularSpeed(k)
		thick := at
		thick.Density *= Density(k)
		for _, c := range []struct {
			at            Condition
			thrust, power float64
		}{{fast, k * k, k * k * k}, {thick, k, k}} {
			got, err := r.Loads(pitch, c.at)
			if err != nil {
				t.Fatal(err)
			}
			close := func(got, want float64) bool { return math.Abs(got-want) <= 1e-13*math.Abs(want) }
			if !close(float64(got.Thrust), c.thrust*float64(base.Thrust)) ||
				!close(float64(got.Torque), c.thrust*float64(base.Torque)) ||
				!close(float64(got.Feathering), c.thrust*float64(base.Feathering)) ||
				!close(float64(got.Power), c.power*float64(base.Power)) {
				t.Fatalf("from %+v to %+v", base, got)
			}
		}
	})
}

// TestBalance: at every annulus with a steady wake, lift is the change of momentum.
func TestBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRotor(t)
		pitch := float64(drawPitch(t, "pitch"))
		climb := rapid.SampledFrom([]float64{0, 0.001, 0.02, -0.03, 0.1}).Draw(t, "climb")
		s := r.spec.Section
		for i := range r.annuli {
			n := &r.annuli[i]
			e := n.solve(&s, pitch, climb)
			if !e.steady || n.lossScale == 0 {
				continue
			}
			f, _ := n.loss(math.Abs(e.flow))
			momentum := 4 * f * math.Abs(e.flow) * (e.flow - climb) * n.x
			lift := n.solidity / 2 * e.lift * n.x * n.x
			// Relative to the lift, and what the difference of flow and climb rounds by.
			const rounding, ulps = 1e-12, 8 * 0x1p-52
			inflow := 4 * f * math.Abs(e.flow) * math.Max(math.Abs(e.flow), math.Abs(climb)) * n.x
			if math.Abs(momentum-lift) > rounding*(math.Abs(lift)+n.solidity*n.x*n.x*math.Abs(pitch))+ulps*inflow {
				t.Fatalf("annulus at %v: momentum %v, lift %v", n.x, momentum, lift)
			}
		}
	})
}

// TestPitchFor: the pitch of a thrust gives the thrust.
func TestPitchFor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, want, at := drawRotor(t), drawPitch(t, "pitch"), drawCondition(t, 0)
		loads, err := r.Loads(want, at)
		if err != nil {
			t.Fatal(err)
		}
		pitch, got, err := r.PitchFor(loads.Thrust, at)
		if err != nil {
			t.Fatal(err)
		}
		force := r.scale(Coefficients{Thrust: 1}, at).Thrust
		if math.Abs(float64(got.Thrust-loads.Thrust)) > 1e-11*float64(force) {
			t.Fatalf("thrust %v, wanted %v", got.Thrust, loads.Thrust)
		}
		if loads.Coefficients.Stalled == 0 && math.Abs(float64(pitch-want)) > 1e-9 {
			t.Fatalf("pitch %v, wanted %v", pitch, want)
		}
	})
}

// TestDescent: a descent under load is refused between hover and windmill brake.
func TestDescent(t *testing.T) {
	r := build(t, simple(0.06, NACA0015(), Prandtl))
	at := Condition{Speed: 150, Density: 1.225}
	hover, err := r.Loads(8*units.Degree, at)
	if err != nil {
		t.Fatal(err)
	}
	v, err := InducedVelocity(hover.Thrust, 1, at.Density, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, share := range []float64{-0.1, -0.5, -1, -1.5} {
		at.Climb = v * units.Velocity(share)
		_, err := r.Loads(8*units.Degree, at)
		var wake *WakeError
		if !errors.As(err, &wake) || wake.Climb != at.Climb || !(wake.Beyond > 0.01) {
			t.Errorf("in a descent of %v of the hover's induced velocity: %v", -share, err)
		}
		if _, err := InducedVelocity(hover.Thrust, 1, at.Density, at.Climb); !errors.As(err, &wake) {
			t.Errorf("ideal disc at %v: %v", share, err)
		}
	}
	// In a fast descent the air drives a rotor at low pitch: windmill brake state.
	at.Climb = -20
	brake, err := r.Loads(-4*units.Degree, at)
	if err != nil {
		t.Fatal(err)
	}
	if !(brake.Thrust > 0 && brake.Induced < 0) {
		t.Errorf("windmill brake: %+v", brake)
	}
	// Momentum: v (climb - v) = thrust / (2 density area), within the limit.
	induced, err := InducedVelocity(brake.Thrust, 1, at.Density, at.Climb)
	if err != nil {
		t.Fatal(err)
	}
	got := float64(induced) * (20 - float64(induced)) * 2 * 1.225 * math.Pi
	near(t, "momentum", got, brake.Thrust.Newtons(), 1e-12)
}

// TestWindmillLimit: an ideal disc may slow an opposing flow by up to four tenths.
func TestWindmillLimit(t *testing.T) {
	thrust := func(share float64) units.Force {
		return units.Force(2 * 1.225 * math.Pi * 20 * 20 * share * (1 - share))
	}
	v, err := InducedVelocity(thrust(0.399), 1, 1.225, -20)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "induced", float64(v), 0.399*20, 1e-13)
	if v, err = InducedVelocity(-thrust(0.399), 1, 1.225, 20); err != nil {
		t.Fatal(err)
	}
	near(t, "induced, upside down", float64(v), -0.399*20, 1e-13)
	var wake *WakeError
	if _, err = InducedVelocity(thrust(0.401), 1, 1.225, -20); !errors.As(err, &wake) {
		t.Errorf("beyond the limit: %v", err)
	}
}

func TestThrustOutOfReach(t *testing.T) {
	r := build(t, simple(0.06, NACA0015(), Prandtl))
	at := Condition{Speed: 150, Density: 1.225}
	for _, sign := range []units.Force{1, -1} {
		_, _, err := r.PitchFor(sign*1e5, at)
		var out *ThrustError
		if !errors.As(err, &out) || out.Wanted != sign*1e5 || !(out.Reached*sign > 100 && out.Reached*sign < 1e4) {
			t.Fatalf("error %v", err)
		}
		loads, err := r.Loads(out.Pitch, at)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "thrust there", float64(loads.Thrust), float64(out.Reached), 1e-9)
	}
}

func TestStall(t *testing.T) {
	spec := simple(0.06, NACA0015(), NoTipLoss)
	spec.Cutout = 0.3 * units.Metre
	r := build(t, spec)
	low, part, full := coefficients(t, r, 8), coefficients(t, r, 15), coefficients(t, r, 30)
	if low.Stalled != 0 || !(part.Stalled > 0 && part.Stalled < 1) {
		t.Errorf("stalled shares %v and %v", low.Stalled, part.Stalled)
	}
	if math.Abs(float64(full.Stalled)-1) > 1e-12 {
		t.Errorf("stalled share %v at 30°", full.Stalled)
	}
	// Of constant chord, the sum of solidity/2 stall lift x².
	near(t, "CT in full stall", full.Thrust, 0.06*spec.Section.StallLift/6*(1-0.3*0.3*0.3), 1e-12)
	if !(full.Profile > 3*low.Profile) {
		t.Errorf("profile power %v stalled, %v not", full.Profile, low.Profile)
	}
}

// TestTaperAndTwist: a chord that tapers keeps its value at 0.75 R, and washout
// brings the induced power nearer to the ideal.
func TestTaperAndTwist(t *testing.T) {
	spec := simple(0.06, NACA0015(), Prandtl)
	plain := build(t, spec)
	spec.Taper = 2
	tapered := build(t, spec)
	near(t, "chord at 0.75 R", tapered.chord(0.75), plain.chord(0.75), 1e-15)
	near(t, "taper", tapered.chord(0)/tapered.chord(1), 2, 1e-15)
	spec.Taper, spec.Twist = 1, -8*units.Degree
	washed := build(t, spec)
	at := Condition{Speed: 150, Density: 1.225}
	_, a, err := plain.PitchFor(200, at)
	if err != nil {
		t.Fatal(err)
	}
	_, b, err := washed.PitchFor(200, at)
	if err != nil {
		t.Fatal(err)
	}
	if !(b.Induced < 0.97*a.Induced) {
		t.Errorf("induced power %v with washout, %v without", b.Induced, a.Induced)
	}
}

// TestZeroLift: a section's zero-lift angle only shifts the pitch.
func TestZeroLift(t *testing.T) {
	spec := simple(0.06, NACA0015(), Prandtl)
	plain := coefficients(t, build(t, spec), 6)
	spec.Section.ZeroLift = -2 * units.Degree
	shifted := coefficients(t, build(t, spec), 4)
	near(t, "CT", shifted.Thrust, plain.Thrust, 1e-13)
	near(t, "CQ", shifted.Torque, plain.Torque, 1e-13)
}

// The tip goes round once a revolution.
func TestTipSpeed(t *testing.T) {
	r, err := New(Spec{Blades: 2, Radius: 0.7, Cutout: 0.1, Chord: 0.05, Section: NACA0015()})
	if err != nil {
		t.Fatal(err)
	}
	at := Condition{Speed: 1800 * units.RevolutionPerMinute, Density: 1.2}
	if got, want := float64(r.TipSpeed(at)), 2*math.Pi*0.7*30; math.Abs(got-want) > 1e-12*want {
		t.Errorf("%v m/s, want %v", got, want)
	}
}
