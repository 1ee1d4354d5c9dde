package main

import (
	"fmt"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// The text and the page show the same tables and facts.

// fact is a line of a flight mode, under a short name.
type fact struct{ Name, Text string }

// bearings explains the bearings that the tables give.
const bearings = "Bearings count from the nose, clockwise seen from above: nose 0°, right 90°, tail 180°, left 270°."

// neutralText says where the machine stands with all functions at zero.
func neutralText(n setup.Neutral) string {
	amount, low := show.Lean(n.Lean, n.Low)
	if low != "-" {
		amount = fmt.Sprintf("leaning %s, low side at %s", amount, low)
	}
	return fmt.Sprintf("With collective and cyclic at zero: plate height %s, plate %s, gauge reads %s.",
		show.Length(n.Height), amount, show.Signed(n.Gauge))
}

func neutralTable(n setup.Neutral) *show.Table {
	t := &show.Table{Heads: []string{"<leg", "bearing", "pulse", "arm off square", "<move the arm on its spline", "then set sub-trim to"}}
	for _, leg := range n.Servos {
		move := "leave it"
		if leg.Teeth != 0 {
			side := "up"
			if leg.Teeth < 0 {
				side = "down"
			}
			move = fmt.Sprintf("%s, teeth: %d", side, max(leg.Teeth, -leg.Teeth))
		}
		bearing := "-"
		if leg.Bearing != nil {
			bearing = show.Bearing(*leg.Bearing)
		}
		t.Add(leg.Name, bearing, show.Pulse(leg.Pulse), show.Signed(leg.OffSquare), move, show.Pulse(leg.SubTrim))
	}
	return t
}

// facts are what a mode is set to, and what follows for its ends and corners.
func facts(rig *setup.Rig, m setup.SheetMode) []fact {
	hold := fmt.Sprintf("%s throttle with hold on; hold is off in this mode", show.Percent(m.Hold))
	if m.Held {
		hold = fmt.Sprintf("%s throttle; hold is on in this mode", show.Percent(m.Hold))
	}
	list := []fact{{"Throttle hold", hold}}
	if m.Unmet != "" {
		list = append(list, fact{"Targets out of reach", m.Unmet})
	}
	if !worksOut(m) {
		return list
	}
	rates := "Rates"
	if solved(rig, m.Name) {
		rates = "Rates to enter, from the targets; the tables are for these"
	}
	list = append(list,
		fact{rates, ratesText(m.Rates) + fmt.Sprintf(", expo %v", percent2(m.Expo))},
		fact{"Pitch curve, by stick", fmt.Sprintf("%s (%s)", points(m.Curve), joined(m.CurveKind))})
	if s := m.Symmetry; s != nil {
		list = append(list, fact{"Low against high", fmt.Sprintf(
			"gauge %s and %s; they differ in size by %s, of which geometry alone explains %s and settings make %s",
			show.Signed(s.Low), show.Signed(s.High), show.Signed(s.Sum), show.Signed(s.Geometry), show.Signed(s.Settings))})
	}
	list = append(list, fact{"Stick corners", corners(rig, m.Corners)})
	if e := m.Entry; e != nil && !solved(rig, m.Name) {
		list = append(list, fact{"To meet the targets, enter", fmt.Sprintf("%s; pitch curve %s", ratesText(e.Rates), points(e.Points))})
	}
	return list
}

// worksOut reports whether there is anything to tabulate of a mode: there is not
// where its targets are out of reach and it has nothing else.
func worksOut(m setup.SheetMode) bool { return len(m.Rows) > 0 }

// solved reports whether a mode's curve and rates are solved from targets.
func solved(rig *setup.Rig, mode string) bool {
	return slices.ContainsFunc(rig.Modes, func(m setup.RigMode) bool { return m.Mode.Name == mode && m.Mode.Pitch == nil })
}

func ratesText(r swash.Rates) string {
	return fmt.Sprintf("collective %v, right cyclic %v, forward cyclic %v", percent2(r.Collective), percent2(r.Right), percent2(r.Forward))
}

// percent2 returns a ratio to a hundredth of one per cent, as a radio may show
// a rate.
func percent2(r units.Ratio) units.Ratio { return units.Round(r, 2) }

// points shows a curve by its stick positions and values.
func points(curve [][2]units.Ratio) string {
	var list []string
	for _, p := range curve {
		list = append(list, fmt.Sprintf("%v at %v", percent2(p[1]), percent2(p[0])))
	}
	return strings.Join(list, ", ")
}

// joined says how a kind of curve joins its points.
func joined(kind string) string {
	switch kind {
	case "polyline":
		return "straight lines"
	case "monotone":
		return "smooth, without overshoot"
	}
	return "smooth, " + kind
}

// corners says what clips at the corners of the sticks.
func corners(rig *setup.Rig, list []setup.Corner) string {
	var bad []string
	for _, c := range list {
		if c.Stopped != "" {
			bad = append(bad, fmt.Sprintf("%s cannot be reached (%s)", c.Stick, c.Stopped))
			continue
		}
		var servos []string
		for i, p := range c.Clipped {
			if p != 0 {
				servos = append(servos, fmt.Sprintf("%s by %s", rig.Servos[i].Name, show.Pulse(max(p, -p))))
			}
		}
		if servos != nil {
			bad = append(bad, fmt.Sprintf("%s (%s)", c.Stick, strings.Join(servos, ", ")))
		}
	}
	if bad == nil {
		return fmt.Sprintf("all %d reached, no servo clips", len(list))
	}
	return fmt.Sprintf("%d of %d clip a servo: %s", len(bad), len(list), strings.Join(bad, "; "))
}

// stickTables are a mode's tables over the collective stick.
func stickTables(rig *setup.Rig, m setup.SheetMode) []*show.Table {
	if !worksOut(m) {
		return nil
	}
	return []*show.Table{gaugeTable(m), servoTable(rig, m)}
}

// limitTables are a mode's tables of cyclic and, where it has them, of targets.
func limitTables(m setup.SheetMode) []*show.Table {
	if !worksOut(m) {
		return nil
	}
	tables := []*show.Table{cyclicTable(m), roundTable(m)}
	if m.Readings != nil {
		tables = append(tables, targetTable(m))
	}
	return tables
}

func gaugeTable(m setup.SheetMode) *show.Table {
	t := &show.Table{Title: "Gauge, plate and throttle, cyclic stick centred",
		Heads: []string{"stick", "demand", "gauge reads", "plate height", "lean", "low side", "throttle"}}
	for _, r := range m.Rows {
		lean, low := show.Lean(r.Lean, r.LowSide)
		gauge := show.Signed(r.Gauge)
		if r.OffScale {
			gauge = "off scale " + gauge
		}
		t.Add(show.Percent(r.Stick), tenths(r.Demand), gauge, show.Length(r.Height), lean, low, tenths(r.Throttle))
	}
	return t
}

// tenths returns a ratio with always one decimal of one per cent, for columns.
func tenths(r units.Ratio) string { return fmt.Sprintf("%.1f %%", units.Round(r, 1).Percent()) }

func servoTable(rig *setup.Rig, m setup.SheetMode) *show.Table {
	t := &show.Table{Title: "Pulse and arm angle of each servo, up is above zero", Heads: []string{"stick"}}
	for _, leg := range rig.Servos {
		t.Heads = append(t.Heads, leg.Name, "arm")
	}
	for _, r := range m.Rows {
		cells := []string{show.Percent(r.Stick)}
		for i, p := range r.Pulses {
			pulse := show.Pulse(p)
			if r.Clipped[i] != 0 {
				pulse = "clipped " + pulse
			}
			cells = append(cells, pulse, show.Signed(r.Arms[i]))
		}
		t.Add(cells...)
	}
	return t
}

func cyclicTable(m setup.SheetMode) *show.Table {
	t := &show.Table{Title: "Full cyclic at mid stick",
		Heads: []string{"<stick", "pitch, ±", "most pitch at", "uneven by"}}
	for _, c := range m.Cyclic {
		t.Add(c.Stick, show.Angle(c.Pitch), show.Bearing(c.Phase), show.Angle(c.Residue))
	}
	return t
}

func roundTable(m setup.SheetMode) *show.Table {
	t := &show.Table{Title: "Round limit: the lean that every side allows",
		Heads: []string{"stick", "lean", "cyclic pitch", "tightest at", "<because"}}
	for _, r := range m.Rounds {
		t.Add(show.Percent(r.Stick), show.Angle(r.Lean), show.Angle(r.Pitch), show.Bearing(r.At), r.Cause)
	}
	return t
}

func targetTable(m setup.SheetMode) *show.Table {
	t := &show.Table{Title: "Gauge at the targets",
		Heads: []string{"stick", "wanted", "exact", "as entered"}}
	for _, r := range m.Readings {
		t.Add(show.Percent(r.Target.Stick), show.Signed(r.Target.Pitch), show.Signed(r.Exact), show.Signed(r.Entered))
	}
	return t
}

// stepsTitle says what the table of steps holds for.
func stepsTitle(rig *setup.Rig) string {
	m := show.Working(rig)
	if m == nil {
		return "What one step changes: no flight mode can be worked out"
	}
	return fmt.Sprintf("What one step changes, in mode %s, all else left alone", m.Mode.Name)
}

// stepsText explains the columns of the table of steps.
const stepsText = "For a cyclic rate, the gauge column is the change of the blade's pitch, ±. A step that leans the plate changes the gauge by another amount at another blade bearing."

func stepsTable(steps []setup.Step) *show.Table {
	t := &show.Table{Heads: []string{"<adjustment", "<measured at", "gauge", "lean", "low side"}}
	for _, s := range steps {
		if s.Stopped != "" {
			t.Add(fmt.Sprintf("%s: cannot be made (%s)", s.What, s.Stopped), s.At, "-", "-", "-")
			continue
		}
		lean, low := show.Lean(s.Lean, s.LowSide)
		if low == "-" {
			lean = "-"
		}
		pitch := show.Signed(s.Pitch)
		if pitch == show.Angle(0) && s.Pitch != 0 {
			pitch = "< 0.01°"
		}
		t.Add(s.What, s.At, pitch, lean, low)
	}
	return t
}

// gaugeText says where the gauge goes.
func gaugeText(rig *setup.Rig) string {
	g := rig.Machine.Gauge
	return fmt.Sprintf("Gauge readings are for the blade at bearing %s, cyclic stick centred; the gauge goes from %v to %v and shows steps of %v.",
		show.Bearing(g.Bearing), g.Low, g.High, g.Step)
}
