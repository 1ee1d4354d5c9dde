package swash_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

func drawDemand(t *rapid.T, most float64) swash.Demand {
	part := rapid.Float64Range(-most, most)
	return swash.Demand{Collective: part.Draw(t, "collective"), Right: part.Draw(t, "right"), Forward: part.Draw(t, "forward")}
}

// Scaling a rate never adds tilt under collective; changing one
// servo's end point does, and raises or lowers that servo's side of the plate.
func TestEndPointTiltsAndRateDoesNot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, layout := drawEven(t)
		p := build(t, spec)
		d := drive(t, p, layout.Mix())
		rate := units.Ratio(rapid.Float64Range(0.2, 0.6).Draw(t, "rate"))
		out := d.NewState()
		pose, err := d.Pose(out, swash.Rates{Collective: rate}.Scale(swash.Demand{Collective: 1}))
		if err != nil {
			t.Fatal(err)
		}
		if tilt := pose.Tilt.Amount().Degrees(); !(tilt < 1e-10) {
			t.Fatalf("rate %v tilts the plate by %g°", rate, tilt)
		}
		i := rapid.IntRange(0, p.Servos()-1).Draw(t, "servo")
		s := d.Servos()[i]
		s.High *= units.Ratio(rapid.Float64Range(1.02, 1.2).Draw(t, "end point"))
		uneven, err := d.WithServo(i, s)
		if err != nil {
			t.Fatal(err)
		}
		if pose, err = uneven.Pose(out, swash.Demand{Collective: float64(rate)}); err != nil {
			t.Fatal(err)
		}
		if tilt := pose.Tilt.Amount().Degrees(); !(tilt > 0.01) {
			t.Fatalf("one end point up: tilts by only %g°", tilt)
		}
		// The low side is opposite the servo that goes too high, to within the
		// small turn that the guide makes of it.
		away := math.Remainder(float64(pose.Tilt.LowSide()-layout[i].Bearing)-math.Pi, 2*math.Pi)
		if math.Abs(away) > 3*math.Pi/180 {
			t.Fatalf("low side %v° off the bearing opposite the servo", away*180/math.Pi)
		}
	})
}

// Turning the whole machine about the mast turns the answer with it.
func TestTurningTheMachine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawUneven(t)
		turn := angle(t, 0, 360, "turn")
		turned := spec
		turned.Legs = nil
		for _, leg := range spec.Legs {
			leg.Ball.Bearing += turn
			leg.Arm.Shaft = turnPoint(leg.Arm.Shaft, turn)
			leg.Arm.Axis = turnDirection(leg.Arm.Axis, turn)
			leg.Arm.Neutral = turnDirection(leg.Arm.Neutral, turn)
			turned.Legs = append(turned.Legs, leg)
		}
		if b, ok := spec.Guide.Bearing(); ok {
			turned.Guide = swash.GuideAt(b + turn)
		}
		arms := drawArms(t, 3)
		a, err := build(t, spec).Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		b, err := build(t, turned).Pose(arms)
		if err != nil {
			t.Fatal(err)
		}
		want := swash.TiltTo(a.Tilt.Amount(), a.Tilt.LowSide()+turn)
		if off := b.Tilt.Sub(want).Amount().Degrees(); !(off < 1e-9) {
			t.Fatalf("tilt off by %g°", off)
		}
		if off := (b.Height - a.Height).Millimetres(); !(math.Abs(off) < 1e-9) {
			t.Fatalf("height off by %g mm", off)
		}
	})
}

func turnPoint(p linkage.Point, by units.Angle) linkage.Point {
	sin, cos := math.Sincos(float64(by))
	s, c := units.Length(sin), units.Length(cos)
	return linkage.Point{X: p.X*c + p.Y*s, Y: p.Y*c - p.X*s, Z: p.Z}
}

func turnDirection(d linkage.Direction, by units.Angle) linkage.Direction {
	sin, cos := math.Sincos(float64(by))
	return linkage.Direction{X: d.X*cos + d.Y*sin, Y: d.Y*cos - d.X*sin, Z: d.Z}
}

// The machine seen in a mirror, left for right, tilts left for right.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawUneven(t)
		mirrored := spec
		mirrored.Legs = nil
		for _, leg := range spec.Legs {
			leg.Ball.Bearing = -leg.Ball.Bearing
			leg.Arm.Shaft.X = -leg.Arm.Shaft.X
			leg.Arm.Neutral.X = -leg.Arm.Neutral.X
			// An axis is a turn: in a mirror its other two parts change sign.
			leg.Arm.Axis.Y, leg.Arm.Axis.Z = -leg.Arm.Axis.Y, -leg.Arm.Axis.Z
			mirrored.Legs = append(mirrored.Legs, leg)
		}
		if b, ok := spec.Guide.Bearing(); ok {
			mirrored.Guide = swash.GuideAt(-b)
		}
		arms := drawArms(t, 3)
		a, err := build(t, spec).Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		b, err := build(t, mirrored).Pose(arms)
		if err != nil {
			t.Fatal(err)
		}
		a.Tilt.Right = -a.Tilt.Right
		if off := b.Tilt.Sub(a.Tilt).Amount().Degrees(); !(off < 1e-9) {
			t.Fatalf("tilt off by %g°", off)
		}
	})
}

// The demand comes back from the pose it made, whatever the machine.
func TestDemandRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := build(t, drawUneven(t))
		mix, err := p.Mix()
		if err != nil {
			t.Fatal(err)
		}
		s := plainServo()
		s.Reverse = rapid.Bool().Draw(t, "reverse")
		s.Low = units.Ratio(rapid.Float64Range(0.7, 1.3).Draw(t, "low"))
		s.SubTrim = units.PulseWidth(rapid.Float64Range(-50, 50).Draw(t, "sub-trim")) * units.PulseMicrosecond
		d := drive(t, p, mix, s)
		want := drawDemand(t, 0.2)
		pose, err := d.Pose(d.NewState(), want)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		got, residual, err := d.Demand(d.NewState(), pose)
		if err != nil {
			t.Fatal(err)
		}
		off := math.Abs(got.Collective-want.Collective) + math.Abs(got.Right-want.Right) + math.Abs(got.Forward-want.Forward)
		if !(off < 1e-10) || !(residual < 1e-12) {
			t.Fatalf("%v came back as %v, residual %g", want, got, residual)
		}
	})
}

// The mixing from geometry is that from bearings where the legs are even, and
// moves one function at a time, to first order, where they are not.
func TestMixFromGeometry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, layout := drawEven(t)
		got, err := build(t, spec).Mix()
		if err != nil {
			t.Fatal(err)
		}
		for i, want := range layout.Mix() {
			if math.Abs(got[i].Collective-want.Collective)+math.Abs(got[i].Right-want.Right)+math.Abs(got[i].Forward-want.Forward) > 1e-12 {
				t.Fatalf("servo %d: %v, want %v", i+1, got[i], want)
			}
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		p := build(t, drawUneven(t))
		mix, err := p.Mix()
		if err != nil {
			t.Fatal(err)
		}
		d := drive(t, p, mix)
		_, s, err := d.Slopes(d.NewState(), swash.Demand{})
		if err != nil {
			t.Fatal(err)
		}
		for _, unwanted := range []float64{
			s.Collective.Right, s.Collective.Forward, s.Right.Height, s.Right.Forward, s.Forward.Height, s.Forward.Right,
		} {
			if math.Abs(unwanted) > 1e-12 {
				t.Fatalf("functions mix: %+v", s)
			}
		}
		if s.Collective.Height <= 0 || s.Right.Right <= 0 || s.Forward.Forward <= 0 {
			t.Fatalf("a function runs backwards: %+v", s)
		}
	})
}

// The inverse mixing agrees with gonum's least squares.
func TestUnmixAgainstGonum(t *testing.T) {
	mix := swash.FourAt90(30*units.Degree, 30*units.Millimetre).Mix()
	commands := []float64{0.3, -0.2, 0.5, 0.1}
	u, err := mix.Inverse()
	if err != nil {
		t.Fatal(err)
	}
	d, residual, err := u.Demand(commands)
	if err != nil {
		t.Fatal(err)
	}
	a := mat.NewDense(4, 3, nil)
	for i, row := range mix {
		a.SetRow(i, []float64{row.Collective, row.Right, row.Forward})
	}
	b := mat.NewVecDense(4, commands)
	var x, fit mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		t.Fatal(err)
	}
	fit.MulVec(a, &x)
	fit.SubVec(b, &fit)
	for i, got := range []float64{d.Collective, d.Right, d.Forward} {
		near(t, "demand", got, decimal(x.AtVec(i)), 1e-14)
	}
	near(t, "residual", residual, decimal(mat.Norm(&fit, 2)), 1e-14)
	if residual < 0.1 {
		t.Errorf("residual %v: the case does not test it", residual)
	}
}

func TestInverseRefuses(t *testing.T) {
	for name, m := range map[string]swash.Mix{
		"two servos":       {{Collective: 1}, {Right: 1}},
		"no forward":       {{Collective: 1, Right: 1}, {Collective: 1, Right: -1}, {Collective: 1}},
		"not a number":     {{Collective: math.NaN()}, {Right: 1}, {Forward: 1}},
		"nothing anywhere": {{}, {}, {}},
	} {
		var input *units.FieldError
		if _, err := m.Inverse(); !errors.As(err, &input) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Inside its envelope the plate is held; just outside, what the limit names
// stops it; and the circular cyclic limit is inside everywhere.
func TestEnvelope(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := build(t, drawUneven(t))
		s := plainServo()
		room := units.PulseWidth(rapid.Float64Range(150, 900).Draw(t, "room")) * units.PulseMicrosecond
		s.Min, s.Max = s.Neutral-room, s.Neutral+room
		mix, err := p.Mix()
		if err != nil {
			t.Fatal(err)
		}
		d := drive(t, p, mix, s, s, s)
		height := p.Neutral().Height + length(t, -1, 1, "height")
		e, err := d.Envelope(height, 16)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range e.Limits {
			if l.Tilt < e.Circular.Tilt {
				t.Fatalf("circular cyclic limit %v is outside %v", e.Circular.Tilt, l.Tilt)
			}
			if l.Cause == nil {
				continue
			}
			const inside, outside = 1 - 1e-7, 1 + 1e-9 // a limit may lie a rounding's slack outside
			if _, _, err := d.Demand(d.NewState(), swash.Pose{Height: height, Tilt: swash.TiltTo(l.Tilt*inside, l.Bearing)}); err != nil {
				t.Fatalf("inside the limit: %v", err)
			}
			var singular *swash.SingularError
			if errors.As(l.Cause, &singular) {
				continue // the arms reach beyond; the hold is lost
			}
			if _, _, err := d.Demand(d.NewState(), swash.Pose{Height: height, Tilt: swash.TiltTo(l.Tilt*outside+1e-7, l.Bearing)}); err == nil {
				t.Fatalf("held outside the limit %v, which names %v", l.Tilt, l.Cause)
			}
		}
	})
}

// On a machine of three even legs the envelope has the machine's symmetry.
func TestEnvelopeSymmetry(t *testing.T) {
	e, err := even(t).Envelope(60*units.Millimetre, 36)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range e.Limits {
		near(t, "a third of a turn on", e.Limits[(i+12)%36].Tilt.Degrees(), decimal(l.Tilt.Degrees()), 1e-9)
		near(t, "mirrored", e.Limits[(36-i)%36].Tilt.Degrees(), decimal(l.Tilt.Degrees()), 1e-9)
	}
	if _, err := even(t).Envelope(100*units.Millimetre, 36); err == nil {
		t.Error("100 mm was held")
	}
	if _, err := even(t).Envelope(60*units.Millimetre, 3); err == nil {
		t.Error("three directions were enough")
	}
}

// A plate that nothing hinders is followed to 45°.
func TestEnvelopeUnhindered(t *testing.T) {
	spec := swash.PlateSpec{Height: 100 * units.Millimetre}
	for _, b := range swash.ThreeAt120(0, 10*units.Millimetre) {
		leg, err := swash.Upright(b, spec.Height, 30*units.Millimetre, 90*units.Millimetre, swash.Outward)
		if err != nil {
			t.Fatal(err)
		}
		spec.Legs = append(spec.Legs, leg)
	}
	p, err := swash.NewPlate(spec)
	if err != nil {
		t.Fatal(err)
	}
	e, err := drive(t, p, swash.ThreeAt120(0, 1).Mix()).Envelope(spec.Height, 8)
	if err != nil || e.Circular.Cause != nil || e.Circular.Tilt != 45*units.Degree {
		t.Errorf("%+v, %v", e.Circular, err)
	}
}

// A height that a servo holds at its very limit has an envelope, if no wide one.
func TestEnvelopeAtTheLimit(t *testing.T) {
	p := evenPlate(t)
	s := plainServo()
	for travel := 30.; travel < 34; travel += 0.07 {
		s.Travel = units.Angle(travel) * units.Degree
		s.Max = s.Neutral + 500*units.PulseMicrosecond
		d := drive(t, p, swash.ThreeAt120(0, 1).Mix(), s, s, s)
		pose, err := d.Pose(d.NewState(), swash.Demand{Collective: 2}) // clips
		if err != nil {
			t.Fatal(err)
		}
		if _, err := d.Envelope(pose.Height, 8); err != nil {
			t.Errorf("travel %v: %v", s.Travel, err)
		}
	}
}

// Guesses do not change the answer, with however many legs.
func TestPoseNearIsPose(t *testing.T) {
	for _, m := range readReference(t, "../testdata/heads.json") {
		p := m.plate(t)
		arms := make([]units.Angle, len(m.Arms))
		for i, a := range m.Arms {
			arms[i] = units.Angle(a) * units.Degree
		}
		want, err := p.Pose(arms)
		if err != nil {
			t.Fatal(err)
		}
		for i := range 6 {
			guess := swash.Pose{
				Height: want.Height + units.Length(i-3)*5*units.Millimetre,
				Tilt:   swash.TiltTo(units.Angle(12*i)*units.Degree, units.Angle(67*i)*units.Degree),
			}
			got, err := p.PoseNear(guess, arms)
			if err != nil {
				t.Fatal(err)
			}
			if off := got.Tilt.Sub(want.Tilt).Amount().Degrees(); off > tiltTolerance {
				t.Errorf("guess %+v leads %v° astray", guess, off)
			}
		}
	}
}

// The circular cyclic limit is the least of all directions, however few were asked for.
func TestRoundLimit(t *testing.T) {
	p := evenPlate(t)
	s := plainServo()
	s.Min, s.Max = s.Neutral-150*units.PulseMicrosecond, s.Neutral+350*units.PulseMicrosecond
	d := drive(t, p, swash.ThreeAt120(0, 1).Mix(), plainServo(), s)
	coarse, err := d.Envelope(60*units.Millimetre, 8)
	if err != nil {
		t.Fatal(err)
	}
	fine, err := d.Envelope(60*units.Millimetre, 1440)
	if err != nil {
		t.Fatal(err)
	}
	least := fine.Limits[0]
	for _, l := range fine.Limits {
		if l.Tilt < least.Tilt {
			least = l
		}
	}
	near(t, "circular cyclic limit", coarse.Circular.Tilt.Degrees(), decimal(least.Tilt.Degrees()), 1e-4)
	near(t, "its bearing", coarse.Circular.Bearing.Degrees(), decimal(least.Bearing.Degrees()), 0.25)
	if coarse.Circular.Tilt > least.Tilt {
		t.Errorf("circular cyclic limit %v is above the least, %v", coarse.Circular.Tilt, least.Tilt)
	}
}

// An upright leg's arm points the way it is told, square to its link, from a
// shaft that lies the other way.
func TestUpright(t *testing.T) {
	for toward, want := range map[swash.Toward][2]float64{
		// At the right-hand ball, bearing 90°, x is outward and -y clockwise.
		swash.Outward: {15, 0}, swash.Inward: {45, 0}, swash.Clockwise: {30, 15}, swash.CounterClockwise: {30, -15},
	} {
		ball := swash.Ball{Bearing: 90 * units.Degree, Radius: 30 * units.Millimetre, Offset: 1 * units.Millimetre}
		leg, err := swash.Upright(ball, 60*units.Millimetre, 15*units.Millimetre, 50*units.Millimetre, toward)
		if err != nil {
			t.Fatal(err)
		}
		near(t, string(toward)+" x", leg.Arm.Shaft.X.Millimetres(), decimal(want[0]), 1e-12)
		near(t, string(toward)+" y", leg.Arm.Shaft.Y.Millimetres(), decimal(want[1]), 1e-12)
		near(t, string(toward)+" z", leg.Arm.Shaft.Z.Millimetres(), 11, 1e-12)
		arm, err := linkage.NewArm(leg.Arm)
		if err != nil {
			t.Fatal(err)
		}
		if _, slope := arm.Ball(0); slope.Z <= 0 {
			t.Errorf("%s: a positive turn lowers the ball", toward)
		}
	}
	var spec *units.FieldError
	if _, err := swash.Upright(swash.Ball{}, 0, 0, 0, "sideways"); !errors.As(err, &spec) {
		t.Errorf("sideways: %v", err)
	}
}

// A servo that clips says so and by how much, and the pose is the clipped one.
func TestClipping(t *testing.T) {
	s := plainServo()
	s.Max = 1620 * units.PulseMicrosecond
	d := drive(t, evenPlate(t), swash.ThreeAt120(0, 1).Mix(), s)
	out := d.NewState()
	pose, err := d.Pose(out, swash.Demand{Collective: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "clipped", out.BeyondLimit[0].Microseconds(), 100, 1e-9)
	near(t, "others", float64(out.BeyondLimit[1]), 0, 0)
	if pose.Tilt.Forward <= 0 {
		t.Errorf("the front servo stops early, and the front is not low: %+v", pose.Tilt)
	}
}
