package sheet_test

import (
	"encoding/json"
	"math"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// transferred is rigtest.Transfer with what the sheet says of it.
func transferred(tb testing.TB, from setup.Setup, to *setup.Rig) *sheet.Transfer {
	return sheet.OfTransfer(rigtest.Transfer(tb, from, to, setup.TransferOptions{}))
}

func findingOf(t *sheet.Transfer, what sheet.Kind) *sheet.Finding {
	for i := range t.Findings {
		if t.Findings[i].Kind == what && t.Findings[i].Mode == t.Mode.Name && t.Findings[i].Figure != "" && t.Findings[i].Do != "" {
			return &t.Findings[i]
		}
	}
	return nil
}

// A cyclic phase that differs is told in degrees and found, gravely where cyclic
// goes to another side; a rotor that turns the other way is compared by its turn.
func TestTransferNoticesPhase(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	a := rigtest.Rig(t, data, rigtest.Straight)
	from := a.Modes()[0]
	const what, turns = sheet.PhaseDiffers, sheet.RotationDiffers
	for _, c := range []struct {
		name     string
		edit     func(*machine.Machine)
		change   float64
		severity sheet.Severity
		turns    bool
	}{
		{"the same", func(*machine.Machine) {}, 0, "", false},
		{"phase 100°", func(m *machine.Machine) { m.Head.Phase = 100 * units.Degree }, 20, sheet.Fix, false},
		{"phase 170°", func(m *machine.Machine) { m.Head.Phase = 170 * units.Degree }, 90, sheet.Stop, false},
		{"phase 260°", func(m *machine.Machine) { m.Head.Phase = 260 * units.Degree }, 180, sheet.Stop, false},
		{"mirrored", rigtest.Mirrored, 0, "", true},
		{"turned only", func(m *machine.Machine) { m.Head.Rotation = pitch.CounterClockwise }, -160, sheet.Stop, true},
		{"horn on the other side only", func(m *machine.Machine) { m.Head.Horn = pitch.Trailing }, 180, sheet.Stop, false},
	} {
		b := rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Straight(m); c.edit(m) })
		got := transferred(t, from, b)
		for _, l := range got.Phases {
			const about = 0.5 // degree: the plate's tilt turns the ring a little
			off := math.Remainder(l.Change.Degrees()-c.change, 360)
			if math.Abs(off) > about || math.Abs(l.Change.Degrees()) > 180 ||
				math.Abs(math.Remainder((l.To-l.From-l.Change).Degrees(), 360)) > 2*rigtest.TidyDegrees {
				t.Errorf("%s: %+v, want a change of %v°", c.name, l, c.change)
			}
		}
		f := findingOf(got, what)
		if (f == nil) != (c.severity == "") || f != nil && f.Severity != c.severity {
			t.Errorf("%s: %+v", c.name, got.Findings)
		}
		if f != nil && got.Findings[0].Kind != f.Kind && c.severity == sheet.Stop {
			t.Errorf("%s: not first in %+v", c.name, got.Findings)
		}
		if (findingOf(got, turns) != nil) != c.turns {
			t.Errorf("%s: %+v", c.name, got.Findings)
		}
	}
}

// A rate beyond the radio's is found, and so are corners that clip on the other machine
// alone, a throttle curve of another drive, and one that is live at low stick.
func TestTransferFindings(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	a := rigtest.Rig(t, data, rigtest.Straight)
	from := a.Modes()[0]
	b := rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Straight(m); m.Head.HornRadius = 34 * units.Millimetre })
	got := transferred(t, from, b)
	if f := findingOf(got, sheet.RateTooHigh); f == nil || got.Enter.Rates.Right <= 1 {
		t.Errorf("%+v: %+v", got.Enter, got.Findings)
	}
	const throttle = sheet.ThrottleCopied
	if findingOf(got, throttle) != nil {
		t.Errorf("the files give one drive: %+v", got.Findings)
	}
	for _, edit := range []func(*machine.Machine){
		func(m *machine.Machine) { m.Power.Battery.Cells++ },
		func(m *machine.Machine) { m.Rotor.Radius += 10 * units.Millimetre },
		func(m *machine.Machine) { m.Power = nil },
	} {
		other := rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Straight(m); edit(m) })
		if f := findingOf(transferred(t, from, other), throttle); f == nil || f.Severity != sheet.Fix {
			t.Errorf("another drive: %+v", f)
		}
	}
	if got = transferred(t, from, a); findingOf(got, throttle) != nil || len(got.Cautions) == 0 {
		t.Errorf("%+v", got.Findings)
	}
	const corners, live = sheet.LimitAtCorners, sheet.LiveAtLowStick
	all := rigtest.Rig(t, data, func(m *machine.Machine) { m.Modes[1].Targets.Cyclic = 6 * units.Degree })
	flown := all.Modes()[1]
	same := transferred(t, flown, all)
	if f := findingOf(same, live); f == nil || f.Severity != sheet.Stop || same.Findings[0].Kind != live || findingOf(same, corners) != nil || findingOf(got, live) != nil {
		t.Errorf("%+v; hover: %+v", same.Findings, got.Findings)
	}
	short := rigtest.Rig(t, data, func(m *machine.Machine) {
		kind := m.Servos["bench digital"]
		kind.Max -= 150 * units.PulseMicrosecond
		m.Servos["bench digital"] = kind
	})
	if got := transferred(t, flown, short); findingOf(got, corners) == nil {
		t.Errorf("%+v", got.Findings)
	}
	// The setup transferred shares nothing with the one it came from.
	got.Mode.Throttle.Points[0][1], got.Mode.Pitch.Points[0][1] = 0.5, 0.5
	if a.Machine().Modes[0].Throttle.Points[0][1] != 0 || a.Machine().Modes[0].Pitch.Points[0][1] != -1 || got.Enter.Points[0][1] != -1 {
		t.Error("a change of the mode changed its source")
	}
	if _, err := json.Marshal(got); err != nil {
		t.Error(err)
	}
}
