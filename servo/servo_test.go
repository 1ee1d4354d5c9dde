package servo_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

const µs = units.PulseMicrosecond

// plain is a servo as it comes out of the box. A neutral of 1520 µs and 400 µs
// for 45° are common practice, no source.
func plain() servo.Servo {
	return servo.Servo{
		Neutral: 1520 * µs,
		Throw:   400 * µs,
		Travel:  45 * units.Degree,
		Low:     1,
		High:    1,
		Step:    1 * µs,
		Min:     920 * µs,
		Max:     2120 * µs,
	}
}

func draw(t *rapid.T) servo.Servo {
	number := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	s := servo.Servo{
		Neutral: units.PulseWidth(number(1400, 1600, "neutral")) * µs,
		Throw:   units.PulseWidth(number(200, 600, "throw")) * µs,
		Travel:  units.Angle(number(20, 70, "travel")) * units.Degree,
		Mount:   units.Angle(number(-8, 8, "mount")) * units.Degree,
		Reverse: rapid.Bool().Draw(t, "reverse"),
		SubTrim: units.PulseWidth(number(-80, 80, "sub-trim")) * µs,
		Low:     units.Ratio(number(0.5, 1.5, "low")),
		High:    units.Ratio(number(0.5, 1.5, "high")),
		Min:     900 * µs,
		Max:     2100 * µs,
	}
	if rapid.Bool().Draw(t, "longer lowers") {
		s.Travel = -s.Travel
	}
	return s
}

func TestDrive(t *testing.T) {
	for name, c := range map[string]struct {
		change  func(*servo.Servo)
		command float64
		pulse   float64 // µs
		arm     float64 // degree
		clipped float64 // µs
	}{
		"neutral":             {nil, 0, 1520, 0, 0},
		"full up":             {nil, 1, 1920, 45, 0},
		"full down":           {nil, -1, 1120, -45, 0},
		"reversed":            {func(s *servo.Servo) { s.Reverse = true }, 1, 1120, -45, 0},
		"mounted upside down": {func(s *servo.Servo) { s.Travel = -s.Travel }, 1, 1920, -45, 0},
		"both":                {func(s *servo.Servo) { s.Travel, s.Reverse = -s.Travel, true }, 1, 1120, 45, 0},
		"high end point":      {func(s *servo.Servo) { s.High = 1.2 }, 0.5, 1760, 27, 0},
		"low end point":       {func(s *servo.Servo) { s.Low = 0.8 }, -1, 1200, -36, 0},
		"end point of its side, reversed": {
			func(s *servo.Servo) { s.Reverse, s.Low = true, 0.8 }, 1, 1200, -36, 0},
		"sub-trim":     {func(s *servo.Servo) { s.SubTrim = 16 * µs }, 0, 1536, 1.8, 0},
		"off square":   {func(s *servo.Servo) { s.Mount = -2 * units.Degree }, 0, 1520, -2, 0},
		"clipped":      {nil, 2, 2120, 67.5, 200},
		"clipped low":  {nil, -1.75, 920, -67.5, -100},
		"in steps":     {func(s *servo.Servo) { s.Step = 4 * µs }, 0.004, 1520, 0, 0},
		"to next step": {func(s *servo.Servo) { s.Step = 4 * µs }, 0.0051, 1524, 0.45, 0},
	} {
		s := plain()
		if c.change != nil {
			c.change(&s)
		}
		if err := s.Validate(); err != nil {
			t.Fatal(err)
		}
		got := s.Output(c.command)
		const tolerance = 1e-9
		if math.Abs(got.Pulse.Microseconds()-c.pulse) > tolerance ||
			math.Abs(got.Arm.Degrees()-c.arm) > tolerance ||
			math.Abs(got.BeyondLimit.Microseconds()-c.clipped) > tolerance {
			t.Errorf("%s: %v µs, %v°, clipped by %v µs; want %v, %v, %v", name,
				got.Pulse.Microseconds(), got.Arm.Degrees(), got.BeyondLimit.Microseconds(), c.pulse, c.arm, c.clipped)
		}
	}
}

// Command after pulse and pulse after arm are identities, steps and limits
// aside.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		if err := s.Validate(); err != nil {
			t.Fatal(err)
		}
		command := rapid.Float64Range(-1.5, 1.5).Draw(t, "command")
		out := s.Output(command)
		if out.BeyondLimit != 0 {
			if out.Pulse != s.Min && out.Pulse != s.Max {
				t.Fatalf("clipped to %v", out.Pulse)
			}
			t.Skip("clipped")
		}
		if back := s.Command(out.Pulse); math.Abs(back-command) > 1e-12 {
			t.Fatalf("command %v came back as %v", command, back)
		}
		pulse, err := s.PulseFor(out.Arm)
		if err != nil {
			t.Fatal(err)
		}
		if off := (pulse - out.Pulse).Microseconds(); math.Abs(off) > 1e-9 {
			t.Fatalf("pulse off by %v µs", off)
		}
	})
}

// A step moves the pulse by no more than half of it.
func TestSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		stepped := s
		stepped.Step = units.PulseWidth(rapid.Float64Range(0.1, 8).Draw(t, "step")) * µs
		command := rapid.Float64Range(-0.5, 0.5).Draw(t, "command")
		a, b := s.Output(command), stepped.Output(command)
		if off := math.Abs(float64(a.Pulse - b.Pulse)); off > float64(stepped.Step)*0.5000001 {
			t.Fatalf("moved by %v µs", off*1e6)
		}
		if off := math.Abs(float64(a.Arm - b.Arm)); off > float64(stepped.ArmPerStep())*0.5000001 {
			t.Fatalf("arm moved by %v rad", off)
		}
	})
}

// The slope is that of Drive on either side of centre.
func TestArmPerCommand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := draw(t)
		command := rapid.Float64Range(0.05, 0.5).Draw(t, "command") * rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		const step = 0.01
		a, b := s.Output(command-step), s.Output(command+step)
		if a.BeyondLimit != 0 || b.BeyondLimit != 0 {
			t.Skip("clipped")
		}
		got, want := float64(s.ArmPerCommand(command)), float64(b.Arm-a.Arm)/(2*step)
		if math.Abs(got-want) > 1e-9 {
			t.Fatalf("%v rad, want %v rad", got, want)
		}
	})
}

func TestArmRange(t *testing.T) {
	s := plain()
	s.Travel = -s.Travel
	low, high := s.ArmRange()
	if math.Abs(low.Degrees()+67.5) > 1e-9 || math.Abs(high.Degrees()-67.5) > 1e-9 {
		t.Errorf("%v to %v", low, high)
	}
	var r *servo.RangeError
	if _, err := s.PulseFor(70 * units.Degree); !errors.As(err, &r) || r.Excess >= 0 {
		t.Errorf("70°: %v", err)
	}
	if _, err := s.PulseFor(-70 * units.Degree); !errors.As(err, &r) || r.Excess <= 0 {
		t.Errorf("-70°: %v", err)
	}
	var f *units.FieldError
	if _, err := s.PulseFor(units.Angle(math.NaN())); !errors.As(err, &f) {
		t.Errorf("NaN: %v", err)
	}
}

func TestValidate(t *testing.T) {
	nan := math.NaN()
	for name, spoil := range map[string]func(*servo.Servo){
		"Neutral": func(s *servo.Servo) { s.Neutral = units.PulseWidth(nan) },
		"Throw":   func(s *servo.Servo) { s.Throw = 0 },
		"Travel":  func(s *servo.Servo) { s.Travel = 0 },
		"Mount":   func(s *servo.Servo) { s.Mount = 4 },
		"SubTrim": func(s *servo.Servo) { s.SubTrim = 700 * µs },
		"Low":     func(s *servo.Servo) { s.Low = -1 },
		"High":    func(s *servo.Servo) { s.High = units.Ratio(math.Inf(1)) },
		"Step":    func(s *servo.Servo) { s.Step = -1 },
		"Min":     func(s *servo.Servo) { s.Min = 0 },
		"Max":     func(s *servo.Servo) { s.Max = s.Min },
	} {
		s := plain()
		spoil(&s)
		err := s.Validate()
		var f *units.FieldError
		if !errors.As(err, &f) || f.Field != name {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A 25-tooth spline steps by 360°/25 = 14.4°. The tooth count is common practice, no
// source.
func TestSpline(t *testing.T) {
	n := servo.Spline(25)
	if got := n.Step().Degrees(); math.Abs(got-14.4) > 1e-12 {
		t.Errorf("step %v°", got)
	}
	type answer struct {
		Teeth int
		Left  float64
	}
	for off, want := range map[float64]answer{
		0:    {0, 0},
		5:    {0, 5},
		-5:   {0, -5},
		9:    {-1, -5.4},
		-16:  {1, -1.6},
		100:  {-7, -0.8},
		359:  {0, -1},
		-200: {-11, 1.6},
	} {
		teeth, left, err := n.Square(units.Angle(off) * units.Degree)
		got := answer{teeth, math.Round(left.Degrees()*1e9) / 1e9}
		if err != nil || !cmp.Equal(got, want) {
			t.Errorf("%v° off: %+v, %v; want %+v", off, got, err, want)
		}
	}
	for _, bad := range []func() error{
		func() error { _, _, err := servo.Spline(0).Square(0); return err },
		func() error { _, _, err := n.Square(units.Angle(math.NaN())); return err },
	} {
		var f *units.FieldError
		if err := bad(); !errors.As(err, &f) {
			t.Error(err)
		}
	}
}

// The tooth and the sub-trim together square the arm.
func TestSquareAnArm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := plain()
		s.Step = 0
		s.SubTrim = 25 * µs // what was there before does not matter
		if rapid.Bool().Draw(t, "longer lowers") {
			s.Travel = -s.Travel
		}
		off := units.Angle(rapid.Float64Range(-170, 170).Draw(t, "off")) * units.Degree
		n := servo.Spline(rapid.IntRange(15, 30).Draw(t, "teeth"))
		teeth, left, err := n.Square(off)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(left)) > float64(n.Step())*0.5000001 {
			t.Fatalf("%v left of a step of %v", left, n.Step())
		}
		s.Mount = units.Angle(math.Remainder(float64(off+units.Angle(teeth)*n.Step()), 2*math.Pi))
		if s.SubTrim, err = s.SubTrimFor(0); err != nil {
			t.Fatal(err)
		}
		if arm := s.Output(0).Arm.Degrees(); math.Abs(arm) > 1e-9 {
			t.Fatalf("arm at %v°", arm)
		}
	})
}

// Statics of a lever: the torque of a force is force times arm times the sine
// of the angle between them, greatest when they are square. Any mechanics text.
func TestTorque(t *testing.T) {
	const r, f = 15 * units.Millimetre, 20 * units.Newton
	for _, c := range []struct{ between, out, want float64 }{
		{90, 0, 0.3}, {30, 0, 0.15}, {150, 0, 0.15}, {0, 0, 0}, {-90, 0, -0.3}, {90, 60, 0.15},
	} {
		got := servo.Torque(f, r, units.Angle(c.between)*units.Degree, units.Angle(c.out)*units.Degree).NewtonMetres()
		if math.Abs(got-c.want) > 1e-15 {
			t.Errorf("%v° between, %v° out: %v N·m, want %v", c.between, c.out, got, c.want)
		}
	}
	// 1 kgf·cm holds 1 kgf on an arm of 1 cm.
	hold, err := servo.HoldingForce(1*units.KilogramForceCentimetre, 1*units.Centimetre, 90*units.Degree, 0)
	if err != nil || math.Abs(hold.KilogramsForce()-1) > 1e-12 {
		t.Errorf("%v, %v", hold, err)
	}
	var dead *servo.DeadCentreError
	if _, err := servo.HoldingForce(1, r, 180*units.Degree, 0); !errors.As(err, &dead) {
		t.Errorf("dead centre: %v", err)
	}
	var field *units.FieldError
	for _, bad := range [][2]float64{{0, 1}, {1, 0}, {math.NaN(), 1}, {1, math.Inf(1)}} {
		if _, err := servo.HoldingForce(units.Torque(bad[0]), units.Length(bad[1]), 1, 0); !errors.As(err, &field) {
			t.Errorf("%v: %v", bad, err)
		}
	}
}

// The force a stall torque holds makes that torque.
func TestHoldingForceIsTheInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stall := units.Torque(rapid.Float64Range(0.01, 5).Draw(t, "stall"))
		r := units.Length(rapid.Float64Range(0.005, 0.05).Draw(t, "radius"))
		between := units.Angle(rapid.Float64Range(0.01, 3.1).Draw(t, "between"))
		out := units.Angle(rapid.Float64Range(-1, 1).Draw(t, "out"))
		f, err := servo.HoldingForce(stall, r, between, out)
		if err != nil {
			t.Fatal(err)
		}
		if got := servo.Torque(f, r, between, out); math.Abs(float64(got-stall)) > 1e-14*float64(stall) {
			t.Fatalf("%v, want %v", got, stall)
		}
	})
}

func TestNoAllocation(t *testing.T) {
	s := plain()
	if n := testing.AllocsPerRun(100, func() { s.Output(0.3) }); n != 0 {
		t.Errorf("Drive allocates %v times", n)
	}
}

func BenchmarkDrive(b *testing.B) {
	s := plain()
	b.ReportAllocs()
	for b.Loop() {
		s.Output(0.3)
	}
}

// A pulse uses the way to the nearer limit: from 1600 µs, 520 µs to one of 2120 µs.
func TestUse(t *testing.T) {
	s := servo.Servo{Neutral: 1520 * units.PulseMicrosecond, SubTrim: 80 * units.PulseMicrosecond, Min: 920 * units.PulseMicrosecond, Max: 2120 * units.PulseMicrosecond}
	for pulse, want := range map[units.PulseWidth]float64{1600: 0, 2120: 1, 1860: 0.5, 1340: 0.5} {
		if got := float64(s.Use(pulse * units.PulseMicrosecond)); math.Abs(got-want) > 1e-12 {
			t.Errorf("%v µs uses %v, want %v", float64(pulse), got, want)
		}
	}
	s.SubTrim = 600 * units.PulseMicrosecond
	if got := s.Use(s.Min); got != 0 {
		t.Errorf("from a limit %v is used", got)
	}
}

// Sub-trims are whole steps, without what rounding leaves of a difference.
func TestSubTrimHasNoRemains(t *testing.T) {
	s := servo.Servo{Neutral: 1520 * units.PulseMicrosecond, Throw: 400 * units.PulseMicrosecond, Travel: 45 * units.Degree,
		Min: 900 * units.PulseMicrosecond, Max: 2100 * units.PulseMicrosecond, Low: 1, High: 1, Step: 0.7 * units.PulseMicrosecond}
	for steps := -9.; steps <= 9; steps++ {
		want := units.PulseWidth(steps) * s.Step
		if got, err := s.SubTrimFor(s.Arm(s.Neutral + want)); err != nil || got != want {
			t.Errorf("%v steps: %v, %v, want %v", steps, got, err, want)
		}
	}
}
