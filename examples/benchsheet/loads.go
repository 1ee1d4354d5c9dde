package main

import (
	"fmt"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// hovering names the line of what hovering takes, in every mode.
const hovering = "Hovering flight"

// loadFacts say what holding a mode's rotor speed, and its blades, comes to.
func loadFacts(rig *setup.Rig, m sheet.Mode) []fact {
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
		list = append(list, fact{hovering, l.NoHover})
	} else if h := l.Hover; h != nil {
		list = append(list, fact{hovering, hoverText(rig, h)})
	}
	text := "the radio has no steps"
	if l.PulseStep > 0 {
		text = fmt.Sprintf("one radio step of the collective changes the pitch by %.3f°", l.PulseStep.Degrees())
	}
	if l.Deadband != nil {
		text += fmt.Sprintf(". The servos' deadband is ±%.3f° of pitch", l.Deadband.Degrees())
	}
	if l.Lost != nil {
		text += ". The load " + lostText(l.Lost)
	}
	return append(list, fact{"At high stick", text})
}

// lostText says what the load does to the pitch and the plate.
func lostText(l *load.Yield) string {
	pitch, tilt := show.Signed(l.Blade), show.Angle(l.Tilt)
	changes, tilts := "changes the pitch by "+pitch, "tilts the plate by "+tilt
	if pitch == show.Angle(0) {
		changes = "does not change the pitch"
	}
	if tilt == show.Angle(0) {
		tilts = "does not tilt the plate"
	}
	return changes + " and " + tilts
}

// hoverText says what hover takes.
func hoverText(rig *setup.Rig, h *sheet.Held) string {
	at := "at stick " + show.Percent(units.Round(h.Stick, 0))
	if h.OffStick {
		at = "which no stick position reaches"
	}
	text := fmt.Sprintf("pitch %s, %s. Rotor power %.0f W. %s %s", show.Signed(h.Pitch), at, h.Rotor.Watts(), capital(throttleWord(rig)), throttleText(h.Full))
	if h.Landing != nil {
		text += fmt.Sprintf(" with a full battery, and %s with the battery at %s", throttleText(*h.Landing), show.Percent(rig.Machine().Power.Battery.LandAt))
	}
	return text
}

// throttleWord is what the throttle of a power train is a share of: of an engine it is not
// what a radio is given.
func throttleWord(rig *setup.Rig) string {
	if rig.Machine().Power.Battery == nil {
		return "power share"
	}
	return "throttle"
}

// throttleText is the throttle of a power train, or that it cannot hold the speed.
func throttleText(d sheet.PowerTrain) string {
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
func loadTables(rig *setup.Rig, m sheet.Mode) []*show.Table {
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

func servoLoadTable(l *sheet.Loads) *show.Table {
	t := &show.Table{Title: "Servo loads from the blades, kgf·cm", Heads: []string{"<servo", "largest", "at high stick", "stall", "load", "full stroke"}}
	for _, s := range l.Servos {
		stall, load, stroke := unknown, unknown, unknown
		if s.Stall != nil {
			stall, load, stroke = show.Torque(*s.Stall), fmt.Sprintf("%.0f %%", s.Load.Percent()), "STALLS"
		}
		if s.Stroke != nil {
			stroke = fmt.Sprintf("%.0f ms", float64(*s.Stroke/units.Millisecond))
		}
		t.Add(s.Name, show.Torque(s.Peak.Peak), show.Torque(s.Hold), stall, load, stroke)
	}
	return t
}

func holdTable(rig *setup.Rig, l *sheet.Loads) *show.Table {
	electric := rig.Machine().Power.Battery != nil
	t := &show.Table{Title: fmt.Sprintf("%s that holds %.0f rpm, neither climbing nor sinking", capital(throttleWord(rig)), l.Speed.RPM()), Heads: []string{"stick", "pitch", "rotor power", throttleWord(rig)}}
	if electric {
		landing := "battery at " + show.Percent(rig.Machine().Power.Battery.LandAt)
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
