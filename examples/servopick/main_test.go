package main

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/units"
)

var command showtest.Main = run

// withoutRating is the demonstration machine's file without its servos' rating.
func withoutRating(t *testing.T) []byte {
	t.Helper()
	from, to := bytes.Index(demo.Direct, []byte(",\n      \"rating\"")), bytes.Index(demo.Direct, []byte("\n    }\n  },\n  \"servo_voltage\""))
	if from < 0 || to < from {
		t.Fatal("no rating where it was")
	}
	return slices.Concat(demo.Direct[:from], demo.Direct[to:])
}

// compared is the demonstration machine with every kind of servo.
func compared(t *testing.T, voltage units.Voltage, rpm units.AngularSpeed) *comparison {
	t.Helper()
	rpm *= units.RevolutionPerMinute
	c, err := newComparison(options{voltage: &voltage, speed: &rpm})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestText(t *testing.T) {
	showtest.InOrder(t, command.Words(t), "CAUTION", "blades off", "rotor disc", "Whinchat", "mode \"hover\": servos at 7.4 V, rotor at 1700 rpm", "Invented for demonstration",
		"servos compared are invented", "largest load", "Strength and speed", "verdict", "own: bench digital", "within limits", "small analogue", "too weak, not rated", "strong digital", "our limit 50 %; the maker's manual decides", "our limit 0.25 s; the maker's manual decides",
		"How firmly servos hold the blade", "stiffness", "own: bench digital", "N·m/°", "Servo arms: the same blade pitch", "8 mm 70 % 99 %", "reaches its limit", "12 mm 44.5 % 62 % 56 %", "in use, within limits in mode \"hover\"", "14 mm", "Other flight modes were not looked at. holes looks at all of them.", "Friction")
	long := showtest.File(t, demo.Direct, "right rear", strings.Repeat("x", 120), "bench digital", strings.Repeat("y", 60))
	for _, args := range [][]string{{"-volts", "1 V"}, {"-volts", "50 V", "-speed", "3500 rpm"}, {"-machine", long}, {"-mode", "aerobatic"}, {"-machine", "../demo/testdata/flybar.json"}} {
		if text := command.Text(t, args...); !strings.HasPrefix(text, "CAUTION") {
			t.Errorf("%q prints\n%s", args, text)
		}
	}
	for _, tt := range []struct{ arg, value, says string }{
		{"-mode", "aerobatic", "rate too high, reaches its limit"},
		{"-mode", "aerobatic", "flight mode \"aerobatic\": servos at 7.4 V, rotor at 1800 rpm"},
		{"-speed", "2500 rpm", "STOP: the blades' maker allows 2400 rpm"},
		{"-volts", "9 V", "0.6 V above the highest rated voltage. Its row is for 8.4 V. Never run a servo above"},
		{"-volts", "5 V", "1 V below the lowest rated voltage. Its row is for 6 V. It can be weak or slow there. Nobody has rated it."},
		{"-mode", "aerobatic", "own bench digital, in mode \"aerobatic\" hole"},
		{"-machine", "../demo/testdata/flybar.json", "own: plain analogue"},
		{"-machine", showtest.File(t, demo.Direct, `"play": {`, `"limits": {"stroke": "40 ms"}, "play": {`), "73 ms too slow"},
		{"-machine", showtest.File(t, withoutRating(t)), "the file does not rate them all"},
		{"-machine", showtest.File(t, demo.Direct, `"arm_holes": ["8 mm", "10 mm", "12 mm", "14 mm"]`, `"arm_holes": []`), "gives no arm_holes"},
		{"-machine", showtest.File(t, demo.Direct, `"8 mm", "10 mm"`, `"4 mm", "10 mm"`), "4 mm - - - - - - - does not reach"},
	} {
		if out := command.Words(t, tt.arg, tt.value); !strings.Contains(out, tt.says) {
			t.Errorf("%s %s does not say %q but %s", tt.arg, tt.value, tt.says, out)
		}
	}
}

// A servo stalls just where its largest load is its stall torque or more, one that does
// not is slowed by that load, and the verdict goes by the limits.
func TestResults(t *testing.T) {
	const rounding = 1e-12
	for _, rpm := range []units.AngularSpeed{1000, 1900, 3000} {
		c := compared(t, 6, rpm)
		if len(c.results) != 1+len(candidates) || !c.results[0].own {
			t.Fatalf("%d results, the first own: %v", len(c.results), c.results[0].own)
		}
		for _, r := range c.results {
			stroke, stalled := slowest(r.Performance)
			one := hardest(r.Performance)
			if stalls := c.largest().Peak >= one.At.Stall; stalls != (stalled != nil) {
				t.Errorf("%v rpm, %s: load %v, stall %v, but %v", float64(rpm), r.name, c.largest().Peak, one.At.Stall, stalled)
			}
			left := float64(one.At.Speed) * (1 - float64(one.Load))
			least := r.ratings[0].Frame + units.Time(math.Abs(float64(c.demand.Turns[c.worst]))/left)
			if stalled == nil && stroke < least*(1-rounding) {
				t.Errorf("%v rpm, %s: a stroke of %v, want %v or more", float64(rpm), r.name, stroke, least)
			}
			if r.Dropped == nil && !(r.Lost.Blade < -r.Deadband) || r.Deadband <= 0 {
				t.Errorf("%v rpm, %s: loses %v, and %v to its deadband", float64(rpm), r.name, r.Lost.Blade, r.Deadband)
			}
			want := stalled == nil && one.Load <= c.rig.Limits().ServoLoad && stroke <= c.rig.Limits().Stroke
			if got := verdict(r.Performance, c.rig.Limits()); (got == within) != want {
				t.Errorf("%v rpm, %s: verdict %q at load %v and stroke %v", float64(rpm), r.name, got, one.Load, stroke)
			}
		}
	}
}

// More voltage makes a rated servo stronger and stiffer, more speed loads it more and
// leaves its stiffness, and a voltage that is not rated is said.
func TestTrends(t *testing.T) {
	low, high, fast := compared(t, 6, 1900), compared(t, 7, 1900), compared(t, 6, 2200)
	for i, r := range low.results {
		h, points := high.results[i], r.ratings[0].Points
		if beyond := points[len(points)-1].Voltage < 7; beyond != (unrated(h.Performance) != nil) {
			t.Errorf("%s at 7 V: %v", r.name, unrated(h.Performance))
		}
		if rated := unrated(h.Performance) == nil; (h.stiffness > r.stiffness) != rated || (hardest(h.Performance).Load < hardest(r.Performance).Load) != rated {
			t.Errorf("%s: load %v, stiffness %v at 6 V; %v, %v at 7 V", r.name, hardest(r.Performance).Load, r.stiffness, hardest(h.Performance).Load, h.stiffness)
		}
		if fast.results[i].stiffness != r.stiffness {
			t.Errorf("%s: stiffness %v at 2200 rpm, %v at 1900 rpm", r.name, fast.results[i].stiffness, r.stiffness)
		}
	}
	if fast.largest().Peak <= low.largest().Peak || fast.demand.Step != low.demand.Step || low.demand.Step <= 0 {
		t.Errorf("load %v and %v, steps %v and %v", low.largest(), fast.largest(), low.demand.Step, fast.demand.Step)
	}
}

// A longer arm loads the servos more, holds less firmly and steps more coarsely, and the
// hole in use does as the machine does.
func TestArms(t *testing.T) {
	const rounding = 0.02 // of the rates, to the radio's steps
	c := compared(t, 7, 1900)
	if len(c.arms) != 4 {
		t.Fatalf("%d arms", len(c.arms))
	}
	for i, a := range c.arms {
		if a.why != "" {
			t.Fatalf("%v: %s", a.radius, a.why)
		}
		if a.radius == c.rig.Servos()[0].Arm {
			if off := float64(hardest(a.performance).Load/hardest(c.results[0].Performance).Load) - 1; math.Abs(off) > rounding {
				t.Errorf("the hole in use has a load of %v, the machine of %v", hardest(a.performance).Load, hardest(c.results[0].Performance).Load)
			}
		}
		if i == 0 {
			continue
		}
		b := c.arms[i-1]
		if !(hardest(a.performance).Load > hardest(b.performance).Load && a.stiffness < b.stiffness && a.trade.Demand.Step > b.trade.Demand.Step) {
			t.Errorf("%v after %v: load %v after %v, stiffness %v after %v", a.radius, b.radius, hardest(a.performance).Load, hardest(b.performance).Load, a.stiffness, b.stiffness)
		}
	}
}

func TestPicture(t *testing.T) {
	showtest.InOrder(t, command.Picture(t), "<svg", "Largest load", "small", "(at 6 V)", "strong", "Pitch lost under load", "own: bench digital", "large analogue")
	if weak := command.Picture(t, "-speed", "3500 rpm", "-volts", "1 V"); !strings.Contains(weak, "at 3500 rpm by servos within the load limit") {
		t.Error("no picture at 3500 rpm")
	}
}

func TestSuitsTheDrive(t *testing.T) {
	command.SuitsTheDrive(t, func(machine, written string) []string { return []string{"-machine", machine, "-svg", written} })
}
