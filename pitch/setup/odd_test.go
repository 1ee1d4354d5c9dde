package setup_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// A target on one side is found where the first step to the other side clips a servo.
func TestTargetsBesideAClip(t *testing.T) {
	data := read(t, demos+"direct.json")
	data = bytes.ReplaceAll(data, []byte(`"raises_on": "shorter", "reverse": true`), []byte(`"raises_on": "longer", "reverse": false`))
	data = bytes.Replace(data, []byte(`"longest_pulse": "2120 µs"`), []byte(`"longest_pulse": "1525 µs"`), 1)
	data = bytes.Replace(data, []byte(`{"stick": "50 %", "pitch": "0°"},
          {"stick": "100 %", "pitch": "11°"}`), []byte(`{"stick": "100 %", "pitch": "-1°"}`), 1)
	data = bytes.Replace(data, []byte(`"cyclic": "8.5°"`), []byte(`"cyclic": "0°"`), 1)
	r := build(t, data)
	m := &r.Modes[1]
	if m.Unmet != nil {
		t.Fatal(m.Unmet)
	}
	for _, reading := range m.Solved.Readings {
		if off := (reading.Exact - reading.Target.Pitch).Degrees(); math.Abs(off) > 1e-9 {
			t.Errorf("target %v missed by %v°", reading.Target, off)
		}
	}
	// And geometry is not blamed for what the clip does.
	s, err := r.Sheet()
	if err != nil {
		t.Fatal(err)
	}
	if s.Modes[0].Symmetry != nil {
		t.Errorf("a clipped end was compared: %+v", s.Modes[0].Symmetry)
	}
}

// A smooth curve that runs beyond its points gets a rate that brings it in.
func TestSolvedCurveStaysInRange(t *testing.T) {
	data := read(t, demos+"direct.json")
	data = bytes.Replace(data, []byte(`"kind": "monotone",
        "collective": [
          {"stick": "0 %", "pitch": "-11°"},
          {"stick": "50 %", "pitch": "0°"},`), []byte(`"kind": "natural",
        "collective": [
          {"stick": "0 %", "pitch": "0°"},
          {"stick": "50 %", "pitch": "11°"},`), 1)
	r := build(t, data)
	if r.Modes[1].Unmet != nil || r.Modes[1].Setting.Pitch.Kind().String() != "natural" {
		t.Fatal(r.Modes[1].Unmet)
	}
	for i := range 1001 {
		if y := r.Modes[1].Solved.Exact.Pitch.At(float64(i) / 1000); y > 1 {
			t.Fatalf("the curve runs to %v", y)
		}
	}
}

// Four servos whose trims are right do not fight with cyclic centred, and do at its
// ends by the arcs of their arms: that is found, and sub-trim is not said to cure it.
func TestFightsAwayFromCentre(t *testing.T) {
	data := bytes.Replace(read(t, demos+"fourservos.json"), []byte(`"sub_trim": "-24 µs"`), []byte(`"sub_trim": "0 µs"`), 1)
	data = bytes.Replace(data, []byte(`"right": "52 %"`), []byte(`"right": "95 %"`), 1)
	s := sheet(t, data)
	for _, f := range s.Findings {
		if f.What != "Servos fight each other over the swashplate" {
			continue
		}
		if !strings.Contains(f.Do, "no other values strain the links less") || !strings.Contains(f.Figure, "cyclic") {
			t.Errorf("%+v", f)
		}
		return
	}
	t.Errorf("not found: %+v", s.Findings)
}

// A servo arm that is a lever's has no arm hole to change.
func TestLeverChain(t *testing.T) {
	r := rigOf(t, read(t, demos+"bellcranks.json"), func(m *setup.Machine) {
		ratio := 0.9
		b := m.Plate.BellCranks
		b.Right.Chain = append([]setup.Member{{Lever: &setup.Lever{Ratio: &ratio}}}, b.Right.Chain...)
		radius := 9 * units.Millimetre
		b.Collective.Chain = []setup.Member{{Lever: &setup.Lever{Radius: &radius}}}
	})
	s, err := r.Sheet()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Findings {
		if strings.Contains(f.Do, " 0.0 mm") {
			t.Errorf("%+v", f)
		}
	}
	// The collective lever gives its radius times the arm's angle, exactly.
	state := r.Head.Control.NewState()
	pose, err := r.Head.Control.Pose(state, swash.Demand{Collective: 0.4})
	if err != nil {
		t.Fatal(err)
	}
	if want := 66e-3 + 9e-3*float64(state.Arms[0]); math.Abs(float64(pose.Height)-want) > 1e-15 {
		t.Errorf("height %v, want %v m", pose.Height, want)
	}
}

// Pitch that falls between the stick's ends is found.
func TestPitchFallsOnTheWay(t *testing.T) {
	s := sheet(t, changed(t, `["50 %", "0 %"], ["100 %", "100 %"]`, `["50 %", "80 %"], ["100 %", "20 %"]`))
	if !has(s, setup.Fix, "hover", "Blade pitch falls on the way up the stick") {
		t.Errorf("%+v", s.Findings)
	}
	s = sheet(t, changed(t, `"collective": "48 %"`, `"collective": "0 %"`))
	if !has(s, setup.Stop, "hover", "The stick does not change blade pitch") {
		t.Errorf("%+v", s.Findings)
	}
}

// The joints of a mixing arm and its washout come with those of the links.
func TestFlybarJoints(t *testing.T) {
	r := build(t, read(t, demos+"flybar.json"))
	play := setup.Play{Ball: 0.04 * units.Millimetre, Bearing: 0.02 * units.Millimetre}
	joints, err := r.Joints(play, swash.Demand{})
	if err != nil {
		t.Fatal(err)
	}
	byName := map[string]pitch.Joint{}
	for _, j := range joints {
		byName[j.Name] = j
	}
	link := byName["pitch link, lower ball"].Blade
	plate := 24. / 32 // of the pitch link's travel, by the mixing arm's lengths
	for name, share := range map[string]float64{
		"mixing arm, plate's ball":  plate,
		"mixing arm, flybar's ball": 1 - plate,
		"flybar, on its pin":        1 - plate,
		"washout arm, ring's ball":  plate * 16 / 14,
		"washout arm, on its pin":   plate * (1 + 16./14),
	} {
		j, ok := byName[name]
		if !ok || math.Abs(j.Blade-share*link) > 1e-12*math.Abs(link) || j.Half == 0 {
			t.Errorf("%s: %+v, want a share of %v of %v", name, j, share, link)
		}
	}
}

// Faults in a bell crank's chain name the field, its line and the amount.
func TestChainFaults(t *testing.T) {
	data := read(t, demos+"bellcranks.json")
	for _, c := range []struct{ old, new, path, says string }{
		{`"link": "36 mm"`, `"link": "500 mm"`, "plate.bell_cranks.collective.chain[0].arm_to_arm.link", "too long by"},
		{`"radius": "11 mm"`, `"radius": "0 mm"`, "plate.bell_cranks.collective.chain[0].arm_to_arm.driving.radius", "must be from"},
		{`"arm_to_arm": {`, `"lever": {"ratio": 1}, "arm_to_arm": {`, "plate.bell_cranks.collective.chain[0]", "one of"},
		{`"mixing": "one each"`, `"mixing": "layout"`, "radio.mixing", "one each"},
	} {
		if !bytes.Contains(data, []byte(c.old)) {
			t.Fatalf("no %q", c.old)
		}
		_, err := setup.Parse(bytes.Replace(data, []byte(c.old), []byte(c.new), 1))
		var field *setup.FieldError
		if !errors.As(err, &field) || field.Path != c.path || field.Line == 0 || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want %s, %q", c.new, err, c.path, c.says)
		}
	}
}
