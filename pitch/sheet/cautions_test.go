package sheet_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/sheet"
)

// Each machine is spoken of as what it is, for work without blades and with them, at
// length and in one line.
func TestCautionsSuitMachineAndWork(t *testing.T) {
	electric, burns, unknown := &machine.Machine{Power: &machine.Power{Motor: new(machine.Motor)}}, &machine.Machine{Power: &machine.Power{Engine: []machine.EnginePoint{{}}}}, &machine.Machine{}
	const without, with = sheet.WithoutBlades, sheet.WithBlades
	const leads, glow, named, stick, binding, frame, level = "motor leads apart", "glow and spark current", "Electric: ", "throttle stick low", "binding", "analogue", "level with the disc"
	const off, on, head, held = "main blades off", "blades on only for readings", "Hold the head", "Switch throttle hold on, and leave it on while you read, in every mode."
	for name, c := range map[string]struct {
		work     sheet.Work
		machines []*machine.Machine
		first    []string // in the short caution
		rest     []string // besides those in the full ones
		never    []string
	}{
		"electric, without":       {without, []*machine.Machine{electric}, []string{off, leads}, []string{stick, "battery goes in", binding, frame, level}, []string{glow, "ngine", named, on, head}},
		"electric, with":          {with, []*machine.Machine{electric}, []string{on, leads, head, held}, []string{stick, "battery goes in", binding, frame, level}, []string{glow, "ngine", named, off}},
		"engine, without":         {without, []*machine.Machine{burns}, []string{off, "Stop the engine", "tank line", glow}, []string{stick, "starts the engine", binding, frame, level}, []string{"otor lead", "battery", named, on, head}},
		"engine, with":            {with, []*machine.Machine{burns, burns}, []string{on, "Stop the engine", "tank line", glow, head, held}, []string{stick, "starts the engine", binding, frame, level}, []string{"otor lead", "battery", named, off}},
		"no power in the file":    {with, []*machine.Machine{unknown}, []string{on, named + "Pull the motor leads apart", "Engine: Stop the engine", head, held}, []string{stick, binding, frame, level}, []string{off}},
		"one of each, both works": {without | with, []*machine.Machine{burns, electric}, []string{off, on, named + "Pull the motor leads apart", "Engine: Stop the engine", head, held}, []string{stick, binding, frame, level}, nil},
		"no machine":              {without, nil, []string{off, named, "Engine: "}, []string{stick}, nil},
		"no pointer":              {without, []*machine.Machine{nil}, []string{off, named, "Engine: "}, []string{stick}, nil},
	} {
		all, short := sheet.Cautions(c.work, c.machines...), sheet.Caution(c.work, c.machines...)
		long := strings.Join(all, " ")
		for _, part := range c.first {
			if !strings.Contains(short, part) || !strings.Contains(long, part) {
				t.Errorf("%s: no %q in %q or in %q", name, part, short, long)
			}
		}
		for _, part := range slices.Concat(c.rest, []string{"failsafe", "law", "club", "makers", "experienced pilot", "eye protection", "rotor disc"}) {
			if !strings.Contains(long, part) {
				t.Errorf("%s: no %q in %q", name, part, long)
			}
		}
		for _, part := range c.never {
			if strings.Contains(long, part) {
				t.Errorf("%s: %q in %q", name, part, long)
			}
		}
		if !strings.HasPrefix(long, strings.SplitAfter(short, ".")[0]) {
			t.Errorf("%s: %q does not begin as %q", name, long, short)
		}
	}
}

// What to do about live throttle suits what turns the rotor.
func TestThrottleAdviceSuitsTheDrive(t *testing.T) {
	for file, want := range map[string][2]string{
		"direct.json":     {"the battery goes in", "the motor leads apart"},
		"flybar.json":     {"anybody starts the engine", "the engine stopped"},
		"bellcranks.json": {"the battery goes in or anybody starts the engine", "the motor leads apart or the engine stopped"},
	} {
		s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+file), func(m *machine.Machine) {
			for i := range m.Modes {
				m.Modes[i].Held = false
				m.Modes[i].Throttle.Points[0][1] = 0.5
			}
		}))
		var first, later bool
		for _, f := range s.Findings {
			if f.Kind == sheet.LiveAtLowStick {
				first = first || strings.Contains(f.Do, " before "+want[0]+".")
				later = later || strings.Contains(f.Do, " keep "+want[1]+".")
			}
		}
		if !first || !later {
			t.Errorf("%s: %+v", file, s.Findings)
		}
	}
}
