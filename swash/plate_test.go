package swash_test

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// roundTrip is the promise for arms back from a pose, in degrees.
const roundTrip = 1e-10

// testdata/three_servo_plate.csv is computed at high precision by a program that
// is not ours, from the condition |P - tip| = 60 mm alone: the table's own header
// tells how. Its plates tilt without a guide, by the smallest turn.
func TestThreeServoPlate(t *testing.T) {
	f, err := os.Open("testdata/three_servo_plate.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	// The table's azimuth is counter-clockwise from its x axis. Laid on the
	// nose, azimuth a is bearing -a: servos at 0°, 240° and 120°.
	spec := swash.PlateSpec{Height: 60 * units.Millimetre}
	for _, azimuth := range []units.Angle{0, 120, 240} {
		ball := swash.Ball{Bearing: -azimuth * units.Degree, Radius: 30 * units.Millimetre}
		leg, err := swash.Upright(ball, 60*units.Millimetre, 15*units.Millimetre, 60*units.Millimetre, swash.Outward)
		if err != nil {
			t.Fatal(err)
		}
		spec.Legs = append(spec.Legs, leg)
	}
	p, err := swash.NewPlate(spec)
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range rows[1:] {
		var v [6]float64
		for k := range v {
			if v[k], err = strconv.ParseFloat(row[k], 64); err != nil {
				t.Fatal(err)
			}
		}
		pose := swash.Pose{
			Height: units.Length(v[0]) * units.Millimetre,
			// Turned right-handed about an axis at azimuth nu, the low side
			// is at azimuth nu - 90°.
			Tilt: swash.TiltTo(units.Angle(v[1])*units.Degree, units.Angle(90-v[2])*units.Degree),
		}
		arms := make([]units.Angle, 3)
		if err := p.Arms(arms, pose); err != nil {
			t.Fatal(err)
		}
		for k, a := range arms {
			near(t, "arm", a.Degrees(), decimal(v[3+k]), armTolerance)
		}
		back, err := p.Pose(arms)
		if err != nil {
			t.Fatalf("row %d: %v", i, err)
		}
		near(t, "height", back.Height.Millimetres(), decimal(v[0]), heightTolerance)
		near(t, "right", back.Tilt.Right.Degrees(), decimal(pose.Tilt.Right.Degrees()), tiltTolerance)
		near(t, "forward", back.Tilt.Forward.Degrees(), decimal(pose.Tilt.Forward.Degrees()), tiltTolerance)
	}
}

// drawArms draws arm angles that a machine can well follow.
func drawArms(t *rapid.T, n int) []units.Angle { return drawArmsTo(t, n, 25) }

func drawArmsTo(t *rapid.T, n int, most float64) []units.Angle {
	arms := make([]units.Angle, n)
	for i := range arms {
		arms[i] = angle(t, -most, most, "arm")
	}
	return arms
}

// Forward after inverse is the identity, and so is inverse after forward.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := build(t, drawUneven(t))
		arms := drawArms(t, 3)
		pose, err := p.Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		back := make([]units.Angle, 3)
		if err := p.Arms(back, pose); err != nil {
			t.Fatal(err)
		}
		effects := make([]swash.LegEffect, 3)
		if err := p.LegEffects(effects, pose, arms); err != nil {
			t.Fatal(err)
		}
		for i := range arms {
			// Near a dead centre the arm is as uncertain as its lever is short.
			if off := (back[i] - arms[i]).Degrees() * effects[i].Margin; !(math.Abs(off) < roundTrip) {
				t.Fatalf("leg %d: %v came back as %v: off by %g°", i+1, arms[i].Degrees(), back[i].Degrees(), off)
			}
		}
		again, err := p.PoseNear(swash.Pose{Height: pose.Height + 1e-3}, back)
		if err != nil {
			t.Fatal(err)
		}
		if off := again.Tilt.Sub(pose.Tilt).Amount().Degrees(); !(off < 1e-9) {
			t.Fatalf("the pose came back %g° away", off)
		}
	})
}

// Every link of a three-legged plate keeps its length in the pose.
func TestLinksKeepTheirLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawUneven(t)
		p := build(t, spec)
		arms := drawArms(t, 3)
		pose, err := p.Pose(arms)
		if err != nil {
			t.Skip("out of reach:", err)
		}
		f := pose.Frame(spec.Guide)
		for i, leg := range spec.Legs {
			arm, err := linkage.NewArm(leg.Arm)
			if err != nil {
				t.Fatal(err)
			}
			at, _ := arm.Ball(arms[i])
			got := r3.Norm(r3.Sub(at.Vec(), f.Point(leg.Ball).Vec()))
			if off := got - float64(leg.Arm.Link); !(math.Abs(off) < 1e-14) {
				t.Fatalf("leg %d: link off by %g m", i+1, off)
			}
		}
	})
}

// The guide's pin keeps its bearing, and without a guide the turn is the
// smallest one: it has no part about the mast.
func TestGuide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pose := swash.Pose{Tilt: swash.TiltTo(angle(t, 0, 40, "tilt"), angle(t, 0, 360, "bearing"))}
		bearing := angle(t, 0, 360, "guide")
		f := pose.Frame(swash.GuideAt(bearing))
		pin := f.Point(swash.Ball{Bearing: bearing, Radius: 1}).Vec()
		sin, cos := math.Sincos(float64(bearing))
		if off := pin.X*cos - pin.Y*sin; !(math.Abs(off) < 1e-14) {
			t.Fatalf("the pin left its slot by %g", off)
		}
		// Without a guide, what lies on the axis of the turn stays put.
		g := pose.Frame(swash.Guide{})
		axis := swash.Ball{Bearing: pose.Tilt.LowSide() + 90*units.Degree, Radius: 1}
		level := swash.Pose{}.Frame(swash.Guide{})
		moved := r3.Sub(g.Point(axis).Vec(), level.Point(axis).Vec())
		if n := r3.Norm(moved); !(n < 1e-14) {
			t.Fatalf("a point on the axis moved by %g", n)
		}
	})
}

// Collective alone never tilts a machine with even legs.
func TestCollectiveDoesNotTilt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, layout := drawEven(t)
		p := build(t, spec)
		d := drive(t, p, layout.Mix())
		pose, err := d.Pose(d.NewState(), swash.Demand{Collective: rapid.Float64Range(-0.7, 0.7).Draw(t, "collective")})
		if err != nil {
			t.Fatal(err)
		}
		if tilt := pose.Tilt.Amount().Degrees(); !(tilt < 1e-10) {
			t.Fatalf("tilts by %g°", tilt)
		}
	})
}

// A dead centre is refused by name, on the leg that is there.
func TestDeadCentre(t *testing.T) {
	p := evenPlate(t)
	_, err := p.Pose([]units.Angle{0, 0, 100 * units.Degree})
	var leg *swash.LegError
	var dead *swash.DeadCentreError
	if !errors.As(err, &leg) || !errors.As(err, &dead) || leg.Leg != 2 {
		t.Errorf("arm 3 past its dead centre: %v", err)
	}
}

// What lies out of reach is refused, with the leg and the amount.
func TestOutOfReach(t *testing.T) {
	p := evenPlate(t)
	arms := make([]units.Angle, 3)
	err := p.Arms(arms, swash.Pose{Height: 80 * units.Millimetre})
	var leg *swash.LegError
	var reach *linkage.ReachError
	if !errors.As(err, &leg) || !errors.As(err, &reach) {
		t.Fatalf("80 mm: %v", err)
	}
	// The arm is at best in line with the link, its shaft 15 mm inside the ball.
	want := math.Hypot(80, 15) - 75
	if got := reach.Gap.Millimetres(); math.Abs(got-want) > 1e-9 {
		t.Errorf("gap %v mm, want %v mm", got, want)
	}
}

func TestRefusesBadInput(t *testing.T) {
	p := evenPlate(t)
	nan, inf := units.Angle(math.NaN()), units.Angle(math.Inf(1))
	for _, arms := range [][]units.Angle{nil, {0, 0}, {0, 0, nan}, {inf, 0, 0}, {0, 0, 0, 0}} {
		var input *units.FieldError
		if _, err := p.Pose(arms); !errors.As(err, &input) {
			t.Errorf("arms %v: %v", arms, err)
		}
	}
	arms := make([]units.Angle, 3)
	for _, pose := range []swash.Pose{
		{Height: units.Length(math.NaN())},
		{Tilt: swash.Tilt{Right: nan}},
		{Tilt: swash.Tilt{Forward: inf}},
		{Tilt: swash.Tilt{Forward: 90 * units.Degree}},
	} {
		var input *units.FieldError
		if err := p.Arms(arms, pose); !errors.As(err, &input) {
			t.Errorf("pose %v: %v", pose, err)
		}
		if err := p.LegEffects(make([]swash.LegEffect, 3), pose, arms); !errors.As(err, &input) {
			t.Errorf("effects at pose %v: %v", pose, err)
		}
	}
}

func TestRefusesBadSpecs(t *testing.T) {
	good := func() swash.PlateSpec {
		spec := swash.PlateSpec{Height: 60 * units.Millimetre}
		for _, b := range swash.ThreeAt120(0, 30*units.Millimetre) {
			leg, err := swash.Upright(b, 60*units.Millimetre, 15*units.Millimetre, 60*units.Millimetre, swash.Outward)
			if err != nil {
				t.Fatal(err)
			}
			spec.Legs = append(spec.Legs, leg)
		}
		return spec
	}
	for name, c := range map[string]struct {
		leg   int
		spoil func(*swash.PlateSpec)
	}{
		"two legs":        {-1, func(s *swash.PlateSpec) { s.Legs = s.Legs[:2] }},
		"no height":       {-1, func(s *swash.PlateSpec) { s.Height = units.Length(math.NaN()) }},
		"no guide":        {-1, func(s *swash.PlateSpec) { s.Guide = swash.GuideAt(units.Angle(math.Inf(1))) }},
		"zero arm":        {1, func(s *swash.PlateSpec) { s.Legs[1].Arm.Radius = 0 }},
		"negative link":   {2, func(s *swash.PlateSpec) { s.Legs[2].Arm.Link = -1 }},
		"no radius":       {0, func(s *swash.PlateSpec) { s.Legs[0].Ball.Radius = 0 }},
		"no axis":         {0, func(s *swash.PlateSpec) { s.Legs[0].Arm.Axis = linkage.Direction{} }},
		"axis along arm":  {0, func(s *swash.PlateSpec) { s.Legs[0].Arm.Axis = s.Legs[0].Arm.Neutral }},
		"shaft far off":   {0, func(s *swash.PlateSpec) { s.Legs[0].Arm.Shaft.X = units.Length(math.Inf(1)) }},
		"bearing not one": {0, func(s *swash.PlateSpec) { s.Legs[0].Ball.Bearing = units.Angle(math.NaN()) }},
	} {
		spec := good()
		c.spoil(&spec)
		_, err := swash.NewPlate(spec)
		var e *units.FieldError
		if !errors.As(err, &e) || c.leg >= 0 != strings.HasPrefix(e.Field, fmt.Sprintf("Legs[%d].", c.leg)) {
			t.Errorf("%s: %v", name, err)
		}
	}
	// Three balls in line cannot hold a plate.
	spec := good()
	for i := range spec.Legs {
		spec.Legs[i] = spec.Legs[0]
	}
	var singular *swash.SingularError
	if _, err := swash.NewPlate(spec); !errors.As(err, &singular) {
		t.Errorf("three legs in one place: %v", err)
	}
}

func TestNoAllocation(t *testing.T) {
	d := even(t)
	p := evenPlate(t)
	arms := []units.Angle{0.2, -0.1, 0.05}
	effects := make([]swash.LegEffect, 3)
	four, fourArms, fourEffects := fourLegs(t), make([]units.Angle, 4), make([]swash.LegEffect, 4)
	s := d.NewState()
	pose, err := p.Pose(arms)
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range map[string]func() error{
		"Pose":               func() error { _, err := p.Pose(arms); return err },
		"Pose of four legs":  func() error { _, err := four.Pose(fourArms); return err },
		"LegEffects of four": func() error { return four.LegEffects(fourEffects, four.Neutral(), fourArms) },
		"Arms":               func() error { return p.Arms(arms, pose) },
		"LegEffects":         func() error { return p.LegEffects(effects, pose, arms) },
		"Effects":            func() error { return p.Effects(s.Effects, pose, arms) },
		"Drive":              func() error { _, err := d.Pose(s, swash.Demand{Collective: 0.3, Right: 0.2}); return err },
		"Demand":             func() error { _, _, err := d.Demand(s, pose); return err },
		"Slopes":             func() error { _, _, err := d.Slopes(s, swash.Demand{Right: 0.2}); return err },
	} {
		if n := testing.AllocsPerRun(100, func() {
			if err := f(); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}

// The hold of legs is as the doc says.
func TestHold(t *testing.T) {
	for _, c := range []struct {
		second units.Angle // bearing of the second leg
		hold   float64
	}{{120, 2.6}, {20, 0.6}, {0.12, 0.003}} {
		spec := swash.PlateSpec{Height: 60 * units.Millimetre}
		for _, bearing := range []units.Angle{0, c.second, 240} {
			leg, err := swash.Upright(swash.Ball{Bearing: bearing * units.Degree, Radius: 28 * units.Millimetre}, spec.Height, 12*units.Millimetre, 58*units.Millimetre, swash.Outward)
			if err != nil {
				t.Fatal(err)
			}
			spec.Legs = append(spec.Legs, leg)
		}
		p, err := swash.NewPlate(spec)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Hold(); math.Abs(got-c.hold) > 0.06*c.hold {
			t.Errorf("%v°: %v, want about %v", float64(c.second), got, c.hold)
		}
	}
}
