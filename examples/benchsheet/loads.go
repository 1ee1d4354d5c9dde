package main

import (
	"fmt"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// loadFacts say what holding a mode's rotor speed, and its blades, comes to.
func loadFacts(rig *setup.Rig, m setup.SheetMode) []fact {
	l := m.Loads
	if l == nil {
		return nil
	}
	speed := fmt.Sprintf("%.0f rpm, tip speed %.0f m/s", l.Speed.RPM(), l.TipSpeed.MetresPerSecond())
	if l.Unsolved != "" {
		return []fact{{"Rotor speed", speed + "; loads cannot be worked out: " + l.Unsolved}}
	}
	list := []fact{{"Rotor speed", speed}}
	if l.NoHover != "" {
		list = append(list, fact{"Hover", l.NoHover})
	} else if h := l.Hover; h != nil {
		list = append(list, fact{"Hover", hoverText(rig, h)})
	}
	text := "the radio has no steps"
	if l.PulseStep > 0 {
		text = fmt.Sprintf("one radio step of the collective changes the pitch by %.3f°", l.PulseStep.Degrees())
	}
	if l.Deadband != nil {
		text += fmt.Sprintf(". The servos' deadband is ±%.3f° of pitch", l.Deadband.Degrees())
	}
	if l.Lost != nil {
		text += fmt.Sprintf(". The load changes the pitch by %s and the tilt of the plate by %s", show.Signed(l.Lost.Blade), show.Angle(l.Lost.Tilt))
	}
	return append(list, fact{"At high stick", text})
}

// hoverText says what hover takes.
func hoverText(rig *setup.Rig, h *setup.SheetHeld) string {
	at := "at stick " + show.Percent(units.Round(h.Stick, 0))
	if h.OffStick {
		at = "which no stick position reaches"
	}
	text := fmt.Sprintf("pitch %s, %s. Rotor power %.0f W. Throttle %s", show.Signed(h.Pitch), at, h.Rotor.Watts(), throttleText(h.Full))
	if h.Landing != nil {
		text += fmt.Sprintf(" with a full battery, and %s with the battery at %s", throttleText(*h.Landing), show.Percent(rig.Machine.Power.Battery.LandAt))
	}
	return text
}

// throttleText is the throttle of a power train, or that it cannot hold the speed.
func throttleText(d setup.SheetPowerTrain) string {
	switch {
	case d.Unsolved != "":
		return unknown
	case d.Short:
		return fmt.Sprintf("full, for at most %.0f rpm", d.Speed.RPM())
	}
	return show.Percent(units.Round(d.Throttle, 0))
}

// loadTables are a mode's tables of servo loads and of the throttle that holds its
// rotor speed.
func loadTables(rig *setup.Rig, m setup.SheetMode) []*show.Table {
	l := m.Loads
	if l == nil || l.Unsolved != "" {
		return nil
	}
	tables := []*show.Table{servoLoadTable(l)}
	if l.Held != nil {
		tables = append(tables, holdTable(rig, l))
	}
	return tables
}

func servoLoadTable(l *setup.SheetLoads) *show.Table {
	t := &show.Table{Title: "Servo loads from the blades, kgf·cm", Heads: []string{"<servo", "largest", "at high stick", "stall", "load", "full stroke"}}
	for _, s := range l.Servos {
		stall, load, stroke := unknown, unknown, unknown
		if s.Stall != nil {
			stall, load, stroke = torque(*s.Stall), fmt.Sprintf("%.0f %%", s.Load.Percent()), "STALLS"
		}
		if s.Stroke != nil {
			stroke = fmt.Sprintf("%.0f ms", float64(*s.Stroke/units.Millisecond))
		}
		t.Add(s.Name, torque(s.Peak.Peak), torque(s.Hold), stall, load, stroke)
	}
	return t
}

func torque(t units.Torque) string { return fmt.Sprintf("%.2f", t.KilogramForceCentimetres()) }

func holdTable(rig *setup.Rig, l *setup.SheetLoads) *show.Table {
	electric := rig.Machine.Power.Battery != nil
	t := &show.Table{Title: fmt.Sprintf("Throttle that holds %.0f rpm in hover", l.Speed.RPM()), Heads: []string{"stick", "pitch", "rotor power", "throttle"}}
	if electric {
		landing := "battery at " + show.Percent(rig.Machine.Power.Battery.LandAt)
		t.Heads = []string{"stick", "pitch", "rotor power", "battery full", landing, "motor"}
	}
	for _, h := range l.Held {
		row := []string{show.Percent(h.Stick), show.Signed(h.Pitch), fmt.Sprintf("%.0f W", h.Rotor.Watts()), throttleText(h.Full)}
		if electric {
			row = append(row, throttleText(*h.Landing), fmt.Sprintf("%.0f A", h.Full.Motor.Amperes()))
		}
		t.Add(row...)
		if h.Full.Unsolved != "" {
			t.Note("Stick %s: %s.", show.Percent(h.Stick), h.Full.Unsolved)
		}
	}
	return t
}
