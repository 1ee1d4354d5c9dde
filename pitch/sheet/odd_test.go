package sheet_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// A target on one side is found where the first step to the other side clips a servo.
func TestTargetsBesideAClip(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	data = bytes.ReplaceAll(data, []byte(`"raises_on": "shorter", "reverse": true`), []byte(`"raises_on": "longer", "reverse": false`))
	data = bytes.Replace(data, []byte(`"longest_pulse": "2120 µs"`), []byte(`"longest_pulse": "1525 µs"`), 1)
	data = bytes.Replace(data, []byte(`{"stick": "50 %", "pitch": "0°"},
          {"stick": "100 %", "pitch": "11°"}`), []byte(`{"stick": "100 %", "pitch": "-1°"}`), 1)
	data = bytes.Replace(data, []byte(`"cyclic": "8.5°"`), []byte(`"cyclic": "0°"`), 1)
	r := rigtest.Build(t, data)
	m := r.Modes()[1]
	if m.Unmet() != nil {
		t.Fatal(m.Unmet())
	}
	for _, reading := range m.Solved().Readings {
		if off := (reading.Exact - reading.Target.Pitch).Degrees(); math.Abs(off) > 1e-9 {
			t.Errorf("target %v missed by %v°", reading.Target, off)
		}
	}
	// And geometry is not blamed for what the clip does.
	s, err := sheet.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	if s.Modes[0].Symmetry != nil {
		t.Errorf("a clipped end was compared: %+v", s.Modes[0].Symmetry)
	}
}

// Four servos whose trims are right do not fight with cyclic centred, and do at its
// ends by the arcs of their arms: that is found, and sub-trim is not said to cure it.
func TestFightsAwayFromCentre(t *testing.T) {
	data := bytes.Replace(rigtest.Read(t, rigtest.Demos+"fourservos.json"), []byte(`"sub_trim": "-24 µs"`), []byte(`"sub_trim": "0 µs"`), 1)
	data = bytes.Replace(data, []byte(`"right": "52 %"`), []byte(`"right": "95 %"`), 1)
	s := sheetFor(t, data)
	for _, f := range s.Findings {
		if f.Kind != sheet.ServosFight {
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
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"), func(m *machine.Machine) {
		ratio := 0.9
		b := m.Plate.BellCranks
		b.Right.Chain = append([]machine.Member{{Lever: &machine.Lever{Ratio: &ratio}}}, b.Right.Chain...)
		radius := 9 * units.Millimetre
		b.Collective.Chain = []machine.Member{{Lever: &machine.Lever{Radius: &radius}}}
	})
	s, err := sheet.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Findings {
		if strings.Contains(f.Do, " 0.0 mm") {
			t.Errorf("%+v", f)
		}
	}
	// The collective lever gives its radius times the arm's angle, exactly.
	state := r.Head().Control.NewState()
	pose, err := r.Head().Control.Pose(state, swash.Demand{Collective: 0.4})
	if err != nil {
		t.Fatal(err)
	}
	if want := 66e-3 + 9e-3*float64(state.Arms[0]); math.Abs(float64(pose.Height)-want) > 1e-15 {
		t.Errorf("height %v, want %v m", pose.Height, want)
	}
}

// Pitch that falls between the stick's ends is found.
func TestPitchFallsOnTheWay(t *testing.T) {
	s := sheetFor(t, rigtest.Changed(t, `["50 %", "0 %"], ["100 %", "100 %"]`, `["50 %", "80 %"], ["100 %", "20 %"]`))
	if !has(s, sheet.Fix, "hover", sheet.PitchFalls) {
		t.Errorf("%+v", s.Findings)
	}
	s = sheetFor(t, rigtest.Changed(t, `"collective": "48 %"`, `"collective": "0 %"`))
	if !has(s, sheet.Stop, "hover", sheet.PitchDead) {
		t.Errorf("%+v", s.Findings)
	}
}
