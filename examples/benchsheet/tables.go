package main

import (
	"fmt"
	"slices"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// unknown stands in place of a figure that the machine does not have.
const unknown = "-"

// modeTables are a mode's tables: over the collective stick, of cyclic and, where it
// has them, of targets.
func modeTables(rig *setup.Rig, m sheet.Mode) []*show.Table {
	if !worksOut(m) {
		return nil
	}
	tables := []*show.Table{gaugeTable(m), servoTable(rig, m)}
	if len(rig.Servos()) > 3 {
		tables = append(tables, fightTables(rig, m)...)
	}
	tables = append(tables, cyclicTable(m), circularTable(m))
	if m.Readings != nil {
		tables = append(tables, targetTable(m))
	}
	return append(tables, loadTables(rig, m)...)
}

func gaugeTable(m sheet.Mode) *show.Table {
	t := &show.Table{Title: "Gauge, plate and throttle, cyclic stick centred",
		Heads: []string{"stick", "demand", "gauge reads", "plate height", "tilt", "low side", "throttle"}}
	for _, r := range m.Rows {
		stick, demand, throttle := show.Percent(r.Stick), tenths(r.Demand), tenths(r.Throttle)
		if r.Unreachable != "" {
			t.Add(stick, demand, unknown, unknown, unknown, unknown, throttle)
			t.Note("Stick %s cannot be reached: %s.", stick, r.Unreachable)
			continue
		}
		tilt, low := show.Tilt(r.Tilt, r.LowSide)
		gauge := show.Signed(r.Gauge)
		if r.OffScale {
			gauge = "off scale " + gauge
		}
		t.Add(stick, demand, gauge, show.Length(r.Height), tilt, low, throttle)
	}
	return t
}

// tenths returns a ratio with always one decimal of one per cent, for columns.
func tenths(r units.Ratio) string { return fmt.Sprintf("%.1f %%", units.Round(r, 1).Percent()) }

func servoTable(rig *setup.Rig, m sheet.Mode) *show.Table {
	t := &show.Table{Title: "Pulse and arm angle of each servo; + is arm up", Heads: []string{"stick"}}
	for _, leg := range rig.Servos() {
		t.Heads = append(t.Heads, leg.Name, "arm")
	}
	for _, r := range m.Rows {
		cells := []string{show.Percent(r.Stick)}
		for i, p := range r.Pulses {
			pulse, arm := show.Pulse(p), show.Signed(r.Arms[i])
			switch {
			case r.Unreachable != "":
				pulse, arm = unknown, unknown
			case r.BeyondLimit[i] != 0:
				pulse = "limit " + pulse
			}
			cells = append(cells, pulse, arm)
		}
		t.Add(cells...)
	}
	return t
}

// fightTables show how servos fight over a plate that has more than three: the strain and,
// where the file gives the stiffness, what it makes of it.
func fightTables(rig *setup.Rig, m sheet.Mode) []*show.Table {
	tables := []*show.Table{fightTable(rig, m, "Strain of each link in mm; + is stretched", nil,
		func(f swash.Fight) []string { return []string{show.Plain(f.Strain.Millimetres(), 2)} })}
	// The stiffness is given for all legs or for none.
	if first := rig.Machine().Plate.Legs[0]; first.LinkStiffness != nil || first.MountStiffness != nil {
		tables = append(tables, fightTable(rig, m, "Force in each link in N, + is pull; servo torque in N·m, + is arm up", []string{"N·m"},
			func(f swash.Fight) []string {
				return []string{show.Plain(f.Force.Newtons(), 1), show.Plain(f.Torque.NewtonMetres(), 3)}
			}))
	}
	return tables
}

// fightTable is a table of the figures that of gives for each servo: the first under its
// name, the others under more.
func fightTable(rig *setup.Rig, m sheet.Mode, title string, more []string, of func(swash.Fight) []string) *show.Table {
	t := &show.Table{Title: title, Heads: []string{"stick"}}
	for _, s := range rig.Servos() {
		t.Heads = append(append(t.Heads, s.Name), more...)
	}
	for _, r := range m.Rows {
		cells := []string{show.Percent(r.Stick)}
		for i := range rig.Servos() {
			figures := slices.Repeat([]string{unknown}, 1+len(more))
			if r.Unreachable == "" {
				figures = of(r.Fights[i])
			}
			cells = append(cells, figures...)
		}
		t.Add(cells...)
	}
	return t
}

func cyclicTable(m sheet.Mode) *show.Table {
	t := &show.Table{Title: "Full cyclic at mid stick",
		Heads: []string{"<stick", "pitch, ±", "most pitch at", "uneven by"}}
	for _, c := range m.Cyclic {
		if c.Unreachable != "" {
			t.Add(c.Stick, unknown, unknown, unknown)
			t.Note("Full %s cannot be reached: %s.", c.Stick, c.Unreachable)
			continue
		}
		t.Add(c.Stick, show.Angle(c.Pitch), show.Bearing(c.Phase), show.Angle(c.Residue))
	}
	return t
}

func circularTable(m sheet.Mode) *show.Table {
	t := &show.Table{Title: "Circular cyclic limit (cyclic ring)",
		Heads: []string{"stick", "tilt", "cyclic pitch", "tightest at", "<because"}}
	for _, r := range m.CircularLimits {
		tilt, pitch, at := show.Angle(r.Tilt), show.Angle(r.Pitch), show.Bearing(r.At)
		if r.Tilt == 0 {
			tilt, at = "none", unknown
		}
		if r.Pitch == 0 { // none, or none that the head can follow
			pitch = unknown
		}
		t.Add(show.Percent(r.Stick), tilt, pitch, at, r.Cause)
	}
	return t
}

func targetTable(m sheet.Mode) *show.Table {
	t := &show.Table{Title: "Gauge at the targets",
		Heads: []string{"<stick", "wanted", "exact", "as entered"}}
	for _, r := range m.Readings {
		t.Add(show.Percent(r.Target.Stick), show.Signed(r.Target.Pitch), show.Signed(r.Exact), show.Signed(r.Entered))
	}
	for _, r := range m.Added {
		t.Add(r.Stick+" adds", "±"+show.Angle(r.Wanted), "±"+show.Angle(r.Exact), "±"+show.Angle(r.Entered))
	}
	return t
}
