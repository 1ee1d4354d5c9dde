package choose_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// The legs of the demonstration machine have a vertical plane each: from the shaft the
// ball lies 12 mm out and 58 mm up, so that by Pythagoras a square arm of 10 mm takes a
// link of the root of 12² + 58² - 10², and stands at atan2(58, 12) - acos(10/hypot).
func TestChangeByHand(t *testing.T) {
	const halfStep = 0.501e-6 // s, of the radio
	const within = 0.01 * mm  // half a radio step of sub-trim, 0.045° on an arm of 10 mm, and as little of the arm's turn
	rig := rigOf(t, "direct", nil)
	r := choose.Try(rig, choose.Candidate{Arms: []units.Length{10 * mm, 10 * mm, 10 * mm}}, 0)
	link := units.Length(math.Sqrt(12*12+58*58-10*10)) * mm
	stand := units.Angle(math.Atan2(58, 12) - math.Acos(10/math.Hypot(12, 58)))
	for _, fit := range r.Changes {
		want := units.PulseWidth(stand/(36*units.Degree)) * 400 * units.PulseMicrosecond
		if fit.Servo == "left rear" {
			want = -want // its arm is raised by shorter pulses
		}
		if math.Abs(float64(fit.Link-link)) > float64(within) || !fit.Changed || fit.Teeth != 0 || math.Abs(float64(fit.SubTrim-want)) > halfStep {
			t.Errorf("%+v, want a link of %v and a sub-trim of %v", fit, link, want)
		}
	}
	was, is := rig.Parts().Plate.Legs, r.Rig.Parts().Plate.Legs
	for i := range is {
		const rounding = 1e-15 // m
		a, b := was[i].Arm.Shaft, is[i].Arm.Shaft
		if d := max(math.Abs(float64(a.X-b.X)), math.Abs(float64(a.Y-b.Y)), math.Abs(float64(a.Z-b.Z))); d > rounding {
			t.Errorf("the shaft of leg %d moves from %v to %v", i, a, b)
		}
	}
}

// Whatever the parts, the plate stands level at neutral as high as before, its arms
// square, or as many teeth off that as asked for, the blade within half a half turn of
// the pitch link of what it reads now, whatever the targets at mid stick, and the targets are met.
func TestChange(t *testing.T) {
	const (
		level  = 1e-9 * units.Degree     // the solvers' rounding
		height = 1e-9 * mm               // likewise
		step   = 40 * units.Degree / 390 // of the radio, on the arm, at most
		swing  = 0.5 * units.Degree      // the link tilts by 14 mm (1 - cos 14.4°) / 50 mm as the arm turns a tooth
		slant  = 1.3                     // horn and link are not quite square
		exact  = 1e-9 * units.Degree     // what package setup promises of a target
	)
	var rigs []*setup.Rig
	for _, name := range []string{"direct", "spatial", "fourservos"} {
		rigs = append(rigs, rigOf(t, name, func(m *machine.Machine) {
			wide(m)
			m.Rotor, m.Power, m.Mass = nil, nil, nil
			for i := range m.Modes {
				m.Modes[i].RotorSpeed = nil // loads take time
			}
		}))
	}
	rapid.Check(t, func(t *rapid.T) {
		rig := rapid.SampledFrom(rigs).Draw(t, "machine")
		c := choose.Candidate{
			Teeth: rapid.IntRange(-1, 1).Draw(t, "teeth"),
			Ball:  units.Length(rapid.Float64Range(28, 32).Draw(t, "ball")) * mm,
			Horn:  units.Length(rapid.Float64Range(17, 23).Draw(t, "horn")) * mm,
			Refit: true,
		}
		for range rig.Servos() {
			c.Arms = append(c.Arms, units.Length(rapid.Float64Range(12, 14).Draw(t, "arm"))*mm) // shorter ones do not reach all targets
		}
		r := choose.Try(rig, c, anyPulse)
		if r.Rig == nil {
			t.Fatal(r.Unfit)
		}
		drive := r.Rig.Head().Control
		n := drive.Mechanism().Neutral()
		if n.Tilt.Amount() > level || math.Abs(float64(n.Height-rig.Parts().Neutral)) > float64(height) {
			t.Errorf("neutral at %v, tilting %v", n.Height, n.Tilt.Amount())
		}
		state := drive.NewState()
		pose, _, err := drive.Slopes(state, swash.Demand{})
		if err != nil {
			t.Fatal(err)
		}
		for i, e := range state.Effects {
			if leg := r.Rig.Parts().Plate.Legs[i]; leg.Ball.Radius != c.Ball || leg.Arm.Radius != c.Arms[i] {
				t.Errorf("leg %d has an arm of %v and a ball at %v", i, leg.Arm.Radius, leg.Ball.Radius)
			}
			allowed := step
			if c.Teeth != 0 {
				allowed += swing
			}
			tooth := 360 * units.Degree / units.Angle(rig.Servos()[i].Type.Spline)
			if off := e.OffSquare - units.Angle(c.Teeth)*tooth; math.Abs(float64(off)) > float64(allowed) {
				t.Errorf("servo %d is %v off square, want %d teeth", i, e.OffSquare, c.Teeth)
			}
		}
		gauge, err := r.Rig.Head().Grip.Pitch(rig.Gauge().Bearing, pose)
		if err != nil {
			t.Fatal(err)
		}
		thread, err := rig.Machine().Head.LinkThread.Pitch()
		if err != nil {
			t.Fatal(err)
		}
		was, err := rig.Head().Grip.Pitch(rig.Gauge().Bearing, swash.Pose{Height: rig.Parts().Neutral})
		if err != nil {
			t.Fatal(err)
		}
		if most := slant * thread / 2 / 2 / c.Horn; math.Abs(float64(gauge-was)) > float64(most) {
			t.Errorf("the gauge reads %v at neutral and %v now: more than half a half turn apart", gauge, was)
		}
		for _, mode := range r.Rig.Modes() {
			if mode.Mode().Targets == nil {
				continue
			}
			if mode.Solved() == nil {
				t.Fatalf("mode %s: %v", mode.Name(), mode.Unmet())
			}
			for _, reading := range mode.Solved().Readings {
				if off := reading.Exact - reading.Target.Pitch; math.Abs(float64(off)) > float64(exact) {
					t.Errorf("mode %s misses %v by %v", mode.Name(), reading.Target.Pitch, off)
				}
			}
		}
	})
}

// A mode without targets is given the pitch that it has on the machine as it is.
func TestCarried(t *testing.T) {
	rig := rigOf(t, "direct", func(m *machine.Machine) { m.Modes = m.Modes[:1] })
	before := *rig.Modes()[0].Mode().Rates
	r := choose.Try(rig, choose.Candidate{Arms: []units.Length{14 * mm, 14 * mm, 14 * mm}, Horn: 18 * mm}, 0)
	if r.Error == 0 {
		t.Error("the radio's steps leave no error at all")
	}
	c, err := setup.Compare(rig.Modes()[0], r.Rig.Modes()[0])
	if err != nil {
		t.Fatal(err)
	}
	worst := c.Largest.Pitch
	const steps = 0.06 * units.Degree // one of the radio's, by which the present machine's own readings are rounded
	if off := max(worst, -worst); !(off <= r.Error+steps) || off == 0 || !c.GaugeAlike {
		t.Errorf("the pitch is off by %v, said to be %v", off, r.Error)
	}
	now := *r.Rig.Modes()[0].Mode().Rates
	if now == before || *r.Rig.File().Modes[0].Rates != now || *rig.Modes()[0].Mode().Rates != before || *rig.File().Modes[0].Rates != before {
		t.Error("the new rates are not in the new machine's file alone")
	}
}

// A mode with targets is solved for them again, even where it has rates of its own.
func TestTargetsBeforeRates(t *testing.T) {
	rig := rigOf(t, "direct", func(m *machine.Machine) {
		m.Modes[1].Rates, m.Modes[1].Pitch = m.Modes[0].Rates, m.Modes[0].Pitch
	})
	r := choose.Try(rig, choose.Candidate{Arms: []units.Length{14 * mm, 14 * mm, 14 * mm}}, 0)
	if mode := r.Rig.Modes()[1]; mode.Setting().Rates != mode.Solved().Entered.Rates || mode.Mode().Pitch != nil {
		t.Errorf("rates %v, want %v", mode.Setting().Rates, mode.Solved().Entered.Rates)
	}
}

// Links of a given length put the plate where they do, and the pitch link follows.
func TestGivenLinks(t *testing.T) {
	const longer = 1.2 * mm // three turns of M2, and about six half turns of the pitch link
	rig := rigOf(t, "direct", nil)
	c := search(t, rig, choose.Owned{Arms: []units.Length{12 * mm}, Links: []units.Length{58 * mm, 58*mm + longer}}, choose.Options{})
	if got := c.Results[0]; got.Rig != rig {
		t.Errorf("the present links make another machine: %+v", got.Changes)
	}
	got := c.Results[1]
	rise := got.Rig.Parts().Neutral - rig.Parts().Neutral
	const within = 1e-6 * mm // the links stand upright, but for rounding of the sub-trim
	if math.Abs(float64(rise-longer)) > float64(within) || got.Horn.HalfTurns != -6 || got.Changes[0].Link != 58*mm+longer || got.Tilt > 1e-6*units.Degree {
		t.Errorf("the plate stands %v higher, want %v; horn %+v, tilt %v", rise, longer, got.Horn, got.Tilt)
	}
}

// With all arms squared again, a machine whose sub-trim tilts its plate is level.
func TestRefit(t *testing.T) {
	rig := rigOf(t, "direct", func(m *machine.Machine) { m.Plate.Legs[1].Servo.SubTrim = 30 * units.PulseMicrosecond })
	as := choose.Try(rig, choose.Candidate{}, 0)
	anew := choose.Try(rig, choose.Candidate{Refit: true}, 0)
	if as.Tilt < 0.5*units.Degree || anew.Tilt > 1e-6*units.Degree || anew.Changes[1].SubTrim == 30*units.PulseMicrosecond {
		t.Errorf("tilts %v as it is, and %v with all arms squared again: %+v", as.Tilt, anew.Tilt, anew.Changes)
	}
}

// On bell cranks there are horns to choose.
func TestBellCranks(t *testing.T) {
	c := search(t, rigOf(t, "bellcranks", nil), choose.Owned{Horns: []units.Length{18 * mm, 20 * mm, 22 * mm}}, choose.Options{BeyondLimit: anyPulse})
	if len(c.Results) != 3 || len(c.Front) == 0 || !(c.Results[0].Step > c.Results[1].Step && c.Results[1].Step > c.Results[2].Step) {
		t.Errorf("%d results, %d on the front", len(c.Results), len(c.Front))
	}
}
