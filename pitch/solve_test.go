package pitch_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

var demoRadio = pitch.Radio{PercentStep: 1 * units.Percent, RateLimit: 125 * units.Percent}

// tail is where the gauge is.
const tail = 180 * units.Degree

func demoWanted() pitch.Wanted {
	return pitch.Wanted{
		Kind: curve.Monotone,
		Collective: []pitch.Target{
			{Stick: 0, Pitch: -6 * units.Degree}, {Stick: 0.5, Pitch: 1 * units.Degree}, {Stick: 1, Pitch: 7 * units.Degree},
		},
		Right: 4 * units.Degree, Forward: 5 * units.Degree,
	}
}

// drawWanted draws targets within the demo head's reach.
func drawWanted(t *rapid.T) pitch.Wanted {
	w := pitch.Wanted{
		Kind:    rapid.SampledFrom([]curve.Kind{curve.Polyline, curve.Monotone, curve.Akima, curve.Natural}).Draw(t, "kind"),
		Right:   angle(t, -4, 4, "right"),
		Forward: angle(t, -4, 4, "forward"),
	}
	n := rapid.IntRange(2, 5).Draw(t, "targets")
	for i := range n {
		w.Collective = append(w.Collective, pitch.Target{Stick: units.Ratio(i) / units.Ratio(n-1), Pitch: angle(t, -6, 6, "pitch")})
	}
	return w
}

// readBack returns what a head's gauge reads and its full cyclic adds, by the head alone.
func readBack(t interface{ Fatal(...any) }, h *pitch.Head, s pitch.Setting, at pitch.Stick) (reading, added units.Angle) {
	state := h.Control.NewState()
	var parts [2]pitch.Cyclic
	for i, stick := range []pitch.Stick{{Collective: at.Collective}, at} {
		d, err := s.Demand(stick)
		if err != nil {
			t.Fatal(err)
		}
		p, pose, err := h.Blade(state, tail, d)
		if err != nil {
			t.Fatal(err)
		}
		rev, err := h.Grip.Revolution(pose)
		if err != nil {
			t.Fatal(err)
		}
		reading, parts[i] = p, rev.Cyclic
	}
	return reading, units.Angle(math.Hypot(float64(parts[1].Cosine-parts[0].Cosine), float64(parts[1].Sine-parts[0].Sine)))
}

// The exact setting meets every target; the entered one comes as near as half a percent step of
// rate or curve at the blade.
func TestSolveMeetsTheTargets(t *testing.T) {
	h := demoHead(t)
	first := h.Control.Servos()[0] // its arm sits off, so that the plate is tilted by collective alone
	first.Mount = 3 * units.Degree
	var err error
	if h.Control, err = h.Control.WithServo(0, first); err != nil {
		t.Fatal(err)
	}
	const exact = 1e-9 // degree, as the package doc says
	rapid.Check(t, func(t *rapid.T) {
		w := drawWanted(t)
		radio := pitch.Radio{PercentStep: units.Ratio(rapid.SampledFrom([]float64{0.001, 0.005, 0.01, 0.02}).Draw(t, "step")), RateLimit: 2}
		got, err := h.Solve(w, tail, radio)
		if err != nil {
			t.Fatal(err)
		}
		step := float64(radio.PercentStep)
		// half returns what half a step of a demand of some size does to the blade, a little
		// more for the linkage's bend.
		half := func(per, size float64) float64 {
			return 1.1*units.Angle(math.Abs(per)*size*step/2).Degrees() + exact
		}
		for i, target := range w.Collective {
			at := pitch.Stick{Collective: float64(target.Stick)}
			reading, _ := readBack(t, h, got.Exact, at)
			if off := (reading - target.Pitch).Degrees(); !(math.Abs(off) <= exact) {
				t.Errorf("target %d: exact off by %g°", i, off)
			}
			d, err := got.Exact.Demand(at)
			if err != nil {
				t.Fatal(err)
			}
			e, err := h.Sensitivity(h.Control.NewState(), tail, d)
			if err != nil {
				t.Fatal(err)
			}
			entered, _ := readBack(t, h, got.Entered, at)
			if off := (entered - target.Pitch).Degrees(); !(math.Abs(off) <= half(e.PerCollective, float64(got.Enter.Rates.Collective))) {
				t.Errorf("target %d: entered off by %g°", i, off)
			}
			if got.Readings[i].Entered != entered || got.Readings[i].Target != target {
				t.Errorf("target %d: reading %+v, read back %v", i, got.Readings[i], entered)
			}
			if n := float64(got.Enter.Points[i][1]) / step; math.Abs(n-math.Round(n)) > 1e-8 {
				t.Errorf("target %d: %v is not in whole steps", i, got.Enter.Points[i])
			}
		}
		for i, full := range pitch.FullCyclic() {
			want := []units.Angle{w.Right, w.Forward}[i]
			rate := []units.Ratio{got.Exact.Rates.Right, got.Exact.Rates.Forward}[i]
			_, added := readBack(t, h, got.Exact, full)
			if off := added.Degrees() - math.Abs(want.Degrees()); !(math.Abs(off) <= exact) || want != 0 && (rate > 0) != (want > 0) {
				t.Errorf("%s: exact off by %g° at a rate of %v", full.Cyclic(), off, rate)
			}
			// One full step of the rate is its share of what the rate does.
			_, entered := readBack(t, h, got.Entered, full)
			most := exact + 1.1*0.5*step/math.Max(math.Abs(float64(rate)), step/2)*math.Abs(want.Degrees())
			if off := entered.Degrees() - math.Abs(want.Degrees()); !(math.Abs(off) <= most) {
				t.Errorf("%s: entered off by %g°, more than %g°", full.Cyclic(), off, most)
			}
			if off := got.Cyclic[i].Entered - entered; math.Abs(off.Degrees()) > exact {
				t.Errorf("%s: said to be off by %v", full.Cyclic(), off)
			}
		}
	})
}

// A target out of reach is told from the others, with the nearest pitch and what stops it.
func TestSolveOutOfReach(t *testing.T) {
	h := demoHead(t)
	for field, edit := range map[string]func(*pitch.Wanted){
		"wanted.Collective[2]": func(w *pitch.Wanted) { w.Collective[2].Pitch = 60 * units.Degree },
		"wanted.Collective[0]": func(w *pitch.Wanted) { w.Collective[0].Pitch = -60 * units.Degree },
		"wanted.Right":         func(w *pitch.Wanted) { w.Right = 60 * units.Degree },
		"wanted.Forward":       func(w *pitch.Wanted) { w.Forward = -60 * units.Degree },
	} {
		w := demoWanted()
		edit(&w)
		_, err := h.Solve(w, tail, demoRadio)
		var at *units.FieldError
		var target *pitch.TargetError
		var limit *servo.RangeError
		if !errors.As(err, &at) || at.Field != field || !errors.As(err, &target) || !errors.As(err, &limit) ||
			math.Abs(math.Abs(target.Wanted.Degrees())-60) > 1e-9 ||
			math.Abs(float64(target.Nearest)) >= math.Abs(float64(target.Wanted)) {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// What cannot be asked for is refused with its path.
func TestSolveRefuses(t *testing.T) {
	h := demoHead(t)
	nan, inf := math.NaN(), math.Inf(1)
	check := func(field string, w pitch.Wanted, bearing units.Angle, radio pitch.Radio) {
		t.Helper()
		_, err := h.Solve(w, bearing, radio)
		if at := (*units.FieldError)(nil); !errors.As(err, &at) || at.Field != field || at.Words == "" || errors.As(err, new(*pitch.TargetError)) {
			t.Errorf("%s: %v", field, err)
		}
	}
	wanted := func(field string, edit func(*pitch.Wanted)) {
		t.Helper()
		w := demoWanted()
		edit(&w)
		check(field, w, tail, demoRadio)
	}
	for _, bad := range []float64{nan, inf, -inf, -0.01, 1.01} {
		wanted("wanted.Collective[1].Stick", func(w *pitch.Wanted) { w.Collective[1].Stick = units.Ratio(bad) })
	}
	for _, bad := range []units.Ratio{0, 0.5} { // not rising
		wanted(fmt.Sprintf("wanted.Collective[%d].Stick", 1+int(2*bad)), func(w *pitch.Wanted) { w.Collective[1+int(2*bad)].Stick = bad })
	}
	for _, bad := range []float64{nan, inf, -inf, 90, -91} {
		a := units.Angle(bad) * units.Degree
		wanted("wanted.Collective[1].Pitch", func(w *pitch.Wanted) { w.Collective[1].Pitch = a })
		wanted("wanted.Right", func(w *pitch.Wanted) { w.Right = a })
		wanted("wanted.Forward", func(w *pitch.Wanted) { w.Forward = a })
	}
	wanted("wanted.Collective", func(w *pitch.Wanted) { w.Collective = w.Collective[:1] })
	wanted("wanted.Collective", func(w *pitch.Wanted) { w.Kind = 99 })
	wanted("wanted.Collective", func(w *pitch.Wanted) { w.Kind = curve.NotAKnot })
	wanted("wanted.Collective", func(w *pitch.Wanted) { w.Collective[1].Stick = 1e-9 })
	wanted("wanted.Expo", func(w *pitch.Wanted) { w.Expo = curve.Expo(nan) })
	check("bearing", demoWanted(), units.Angle(nan), demoRadio)
	for _, bad := range []float64{nan, inf, 0, -1, 1e-9, 1} {
		check("radio.PercentStep", demoWanted(), tail, pitch.Radio{PercentStep: units.Ratio(bad), RateLimit: 1})
	}
	for _, bad := range []float64{nan, inf, 0, -1} {
		check("radio.RateLimit", demoWanted(), tail, pitch.Radio{PercentStep: 0.01, RateLimit: units.Ratio(bad)})
	}
	s, err := pitch.NewSolver(h, tail, demoRadio)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Demand(pitch.Target{Pitch: units.Angle(nan)}); err == nil {
		t.Error("a demand for NaN")
	}
	for name, head := range map[string]*pitch.Head{
		"nil": nil, "zero": {}, "no grip": {Control: h.Control}, "no control": {Grip: h.Grip}, "empty": {Control: &swash.Control{}, Grip: &pitch.Grip{}},
	} {
		if _, err := head.Solve(demoWanted(), tail, demoRadio); !errors.As(err, new(*units.FieldError)) {
			t.Errorf("%s head: %v", name, err)
		}
	}
}

// Pulse steps are left out of the exact setting, and are in what the entered one reads.
func TestSolveWithPulseSteps(t *testing.T) {
	h := demoHead(t)
	for i, s := range h.Control.Servos() {
		s.Step = 8 * units.PulseMicrosecond
		var err error
		if h.Control, err = h.Control.WithServo(i, s); err != nil {
			t.Fatal(err)
		}
	}
	got, err := h.Solve(demoWanted(), tail, demoRadio)
	if err != nil {
		t.Fatal(err)
	}
	exact, err := h.Stepless()
	if err != nil {
		t.Fatal(err)
	}
	var differ bool
	for _, r := range got.Readings {
		at := pitch.Stick{Collective: float64(r.Target.Stick)}
		stepless, _ := readBack(t, exact, got.Exact, at)
		entered, _ := readBack(t, h, got.Entered, at)
		without, _ := readBack(t, exact, got.Entered, at)
		if math.Abs((stepless-r.Target.Pitch).Degrees()) > 1e-9 || r.Entered != entered {
			t.Errorf("%+v: %v without steps, %v as entered", r, stepless, entered)
		}
		differ = differ || entered != without
	}
	if !differ {
		t.Error("the steps change nothing")
	}
}

// What the plate reports is what the solver reports: it does not go on with a pose that there
// is not.
func TestSolverReportsThePlate(t *testing.T) {
	h := demoHead(t)
	for i, v := range h.Control.Servos() {
		// Servos that turn as far as one asks lead where no link reaches.
		v.Min, v.Max = 1e-9, 1
		var err error
		if h.Control, err = h.Control.WithServo(i, v); err != nil {
			t.Fatal(err)
		}
	}
	s, err := pitch.NewSolver(h, tail, demoRadio)
	if err != nil {
		t.Fatal(err)
	}
	flat, err := curve.New(curve.Polyline, []curve.Point{{X: 0, Y: 1}, {X: 1, Y: 1}})
	if err != nil {
		t.Fatal(err)
	}
	state := h.Control.NewState()
	_, want := h.Control.Pose(state, swash.Demand{Collective: 3})
	if want == nil || state.Limited() != nil {
		t.Fatalf("the plate reports %v, the pulse limits %v", want, state.Limited())
	}
	far := pitch.Setting{Pitch: flat, Rates: swash.Rates{Collective: 3}}
	if _, err := s.Added(far, pitch.Stick{Collective: 0.5, Right: 1}); err == nil || err.Error() != want.Error() {
		t.Errorf("added: %v, want %v", err, want)
	}
	if _, err := s.Reading(far, pitch.Stick{}); err == nil || err.Error() != want.Error() {
		t.Errorf("reading: %v, want %v", err, want)
	}
}
