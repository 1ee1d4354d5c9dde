package sheet_test

import (
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// Each limit of loads is found when it is passed, in the mode that passes it, and not
// before.
func TestLoadFindings(t *testing.T) {
	rate := func(edit func(*machine.Rating)) func(*machine.Machine) {
		return func(m *machine.Machine) {
			kind := m.Servos["bench digital"]
			rating := *kind.Rating
			edit(&rating)
			kind.Rating = &rating
			m.Servos["bench digital"] = kind
		}
	}
	stall := func(t units.Torque) func(*machine.Machine) {
		return rate(func(r *machine.Rating) {
			r.Points = []machine.RatingPoint{{Voltage: 7.4, Stall: t, Speed: units.TransitSpeed(0.08)}}
		})
	}
	limits := func(edit func(*machine.Limits)) func(*machine.Machine) {
		return func(m *machine.Machine) { l := machine.DefaultLimits(); edit(&l); m.Limits = &l }
	}
	speed := func(rpm units.AngularSpeed) func(*machine.Machine) {
		return func(m *machine.Machine) { s := rpm * units.RevolutionPerMinute; m.Modes[0].RotorSpeed = &s }
	}
	plain := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Hover)).Modes[0].Loads
	peak, stroke := plain.Servos[0].Peak.Peak, *plain.Servos[0].Stroke
	for _, s := range plain.Servos {
		peak, stroke = max(peak, s.Peak.Peak), max(stroke, *s.Stroke)
	}
	motor := plain.Held[len(plain.Held)-1].Full.Motor
	battery := plain.Held[len(plain.Held)-1].Landing.Battery
	const near = 1 + 1e-4 // sheets are rounded
	const weak, slow, unrated = sheet.ServoTooWeak, sheet.ServoTooSlow, sheet.VoltageNotRated
	const held, blades, tips, current = sheet.RotorSpeedNotHeld, sheet.RotorTooFast, sheet.TipsTooFast, sheet.CurrentTooHigh
	for _, c := range []struct {
		name     string
		edit     func(*machine.Machine)
		what     sheet.Kind
		severity sheet.Severity
		count    int // of findings; 0 is none
		contains []string
	}{
		{"strong enough", stall(2 * peak * near), weak, sheet.Fix, 0, nil},
		{"too weak", stall(2 * peak / near * 0.99), weak, sheet.Fix, 3, []string{"our limit 50 %; the maker's manual decides", "stronger servo"}},
		{"stalls", stall(peak * 0.9), weak, sheet.Fix, 3, []string{"the servo stalls"}},
		{"fast enough", limits(func(l *machine.Limits) { l.Stroke = stroke * near }), slow, sheet.Fix, 0, nil},
		{"too slow", limits(func(l *machine.Limits) { l.Stroke = stroke * 0.5 }), slow, sheet.Fix, 3, []string{"full collective stick"}},
		{"rated voltage", func(m *machine.Machine) { *m.ServoVoltage = 8.4 }, unrated, sheet.Fix, 0, nil},
		{"too much voltage", func(m *machine.Machine) { *m.ServoVoltage = 9 }, unrated, sheet.Fix, 1, []string{"0.6 V above", "Never run"}},
		{"full battery", speed(2400), held, sheet.Fix, 1, []string{"full battery", "not 2400 rpm"}},
		{"landing", speed(2150), held, sheet.Fix, 1, []string{"battery at 20 %", "not 2150 rpm"}},
		{"holds", speed(1700), held, sheet.Fix, 0, nil},
		{"at the blades' limit", speed(2400), blades, sheet.Stop, 0, nil},
		{"above it", speed(2401), blades, sheet.Stop, 1, []string{"2401 rpm", "2400 rpm"}},
		{"blade tips", limits(func(l *machine.Limits) { l.TipSpeed = plain.TipSpeed * near }), tips, sheet.Fix, 0, nil},
		{"blade tips too fast", limits(func(l *machine.Limits) { l.TipSpeed = plain.TipSpeed / near }), tips, sheet.Fix, 1, []string{"m/s at 1700 rpm"}},
		{"motor", func(m *machine.Machine) { c := motor * near; m.Power.Motor.MaxCurrent = &c }, current, sheet.Fix, 0, nil},
		{"motor overloaded", func(m *machine.Machine) { c := motor / near; m.Power.Motor.MaxCurrent = &c }, current, sheet.Fix, 1, []string{"motor or controller", "stick 100 %"}},
		{"battery", func(m *machine.Machine) { c := battery * near; m.Power.Battery.MaxCurrent = &c }, current, sheet.Fix, 0, nil},
		{"battery overloaded", func(m *machine.Machine) { c := battery / near; m.Power.Battery.MaxCurrent = &c }, current, sheet.Fix, 1, []string{"battery: ", "stick 100 %"}},
		{"too heavy", func(m *machine.Machine) { *m.Mass = 100 }, sheet.CannotHover, sheet.Fix, 1, []string{"out of reach"}},
		{"too heavy, without power", func(m *machine.Machine) { *m.Mass = 100; m.Power = nil }, sheet.CannotHover, sheet.Fix, 1, nil},
		{"beyond the theory", rigtest.WideThrow, sheet.LoadsIncomplete, sheet.Note, 1, []string{"% of the stick positions"}},
		{"hover off the curve", func(m *machine.Machine) { *m.Mass = 10 }, sheet.HoverOffStick, sheet.Fix, 1, []string{"hover takes"}},
	} {
		s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Hover(m)
			c.edit(m)
		}))
		all := found(s, c.what)
		if len(all) != c.count {
			t.Errorf("%s: %d of %q: %+v", c.name, len(all), c.what, s.Findings)
		}
		for _, f := range all {
			contains(t, f, c.contains...)
			if f.Severity != c.severity || f.Mode != "hover" && c.what != unrated {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
	}
	// An overspeed is found in a mode that cannot be worked out, too.
	s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		m.Modes = m.Modes[1:2]
		m.Modes[0].Targets.Cyclic = 60 * units.Degree
		*m.Modes[0].RotorSpeed = 2500 * units.RevolutionPerMinute
	}))
	if len(found(s, blades)) != 1 || s.Modes[0].Unmet == "" {
		t.Errorf("%+v", s.Findings)
	}
}

// A machine is held to its class: F3C's limits are those of the FAI's page, each
// passed by a hair.
func TestClassFindings(t *testing.T) {
	within := func(m *machine.Machine) {
		m.Class = machine.F3C
		*m.Mass = 6.5 * units.Kilogram
		m.Rotor.Radius = 892 * units.Millimetre // 249.97 dm²
		m.Power.Battery.Cells = 12              // 50.4 V
	}
	for _, c := range []struct {
		name string
		what sheet.Kind
		edit func(*machine.Machine)
	}{
		{"within", "", func(*machine.Machine) {}},
		{"mass", sheet.ClassMass, func(m *machine.Machine) { *m.Mass = 6.51 * units.Kilogram }},
		{"disc", sheet.ClassDisc, func(m *machine.Machine) { m.Rotor.Radius = 893 * units.Millimetre }},
		{"cells", sheet.ClassVoltage, func(m *machine.Machine) { m.Power.Battery.Cells = 13 }},
		{"unknown", sheet.ClassNotChecked, func(m *machine.Machine) { m.Mass = nil }},
	} {
		s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			within(m)
			c.edit(m)
		}))
		var all []sheet.Finding
		for _, f := range s.Findings {
			if f.Where == "F3C" {
				all = append(all, f)
			}
		}
		if c.what == "" && len(all) > 0 || c.what != "" && (len(all) != 1 || all[0].Kind != c.what) {
			t.Errorf("%s: %+v", c.name, all)
		}
	}
}

// A rating on some of the servos is said to be missing on the others.
func TestServosNotAllRated(t *testing.T) {
	s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		other := m.Servos["bench digital"]
		other.Rating = nil
		m.Servos["other"] = other
		m.Plate.Legs[1].Servo.Type = "other"
	}))
	all := found(s, sheet.ServosNotRated)
	if len(all) != 1 || all[0].Where != "right rear" || all[0].Severity != sheet.Note {
		t.Errorf("%+v", all)
	}
	if all := found(sheetOf(t, rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json"))), sheet.ServosNotRated); len(all) != 0 {
		t.Errorf("all rated: %+v", all)
	}
}

// With hold on there is no throttle to work out, and a stalled servo loses no pitch that
// could be told.
func TestSheetLeavesOut(t *testing.T) {
	s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		speed := 1800 * units.RevolutionPerMinute
		m.Modes[2].RotorSpeed = &speed
		*m.ServoVoltage = 7.4
	}))
	if l := s.Modes[2].Loads; l == nil || l.Held != nil || l.Hover != nil || len(l.Servos) != 3 || l.Lost == nil {
		t.Errorf("with hold on: %+v", l)
	}
	s = sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		rigtest.Hover(m)
		m.Servos["bench digital"].Rating.Points = []machine.RatingPoint{{Voltage: 7.4, Stall: 0.01, Speed: 10}}
	}))
	if l := s.Modes[0].Loads; l.Lost != nil || l.Deadband == nil || l.Servos[0].Stroke != nil {
		t.Errorf("stalled: %+v", l)
	}
}

// The shortfall named is the largest: at high stick, where pitch is highest.
func TestWorstShortfall(t *testing.T) {
	s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		rigtest.Hover(m)
		m.Power.Battery.Cells = 1
	}))
	all := found(s, sheet.RotorSpeedNotHeld)
	if len(all) != 1 {
		t.Fatalf("%+v", all)
	}
	contains(t, all[0], "stick 100 %")
}
