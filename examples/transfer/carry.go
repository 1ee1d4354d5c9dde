package main

import (
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// print writes what to enter on the other machine, what speaks against it first.
func (c *carried) print(w io.Writer, from setup.Setup) {
	show.Print(w, "", "", fmt.Sprintf("On %s, so that its blades do what 1 does", c.to.Machine.Name))
	if note := c.to.Machine.Note; note != from.Rig.Machine.Note {
		show.Print(w, "  ", "  ", note)
	}
	if c.failed != nil {
		show.Print(w, "  STOP: ", "    ", fmt.Sprintf("It cannot, and there is nothing to enter: %v.", c.failed))
		return
	}
	t := c.transfer
	for _, f := range t.Findings {
		label := strings.ToUpper(string(f.Severity))
		show.Print(w, "  "+label+": ", "    ", fmt.Sprintf("%s: %s. %s", f.What, f.Figure, f.Do))
	}
	m := &t.Mode
	held := ""
	if m.Held {
		held = ", on in this mode"
	}
	show.Print(w, "  ", "    ", fmt.Sprintf("Enter rates: collective %v, right cyclic %v, forward cyclic %v; expo %v.", m.Rates.Collective, m.Rates.Right, m.Rates.Forward, m.Expo))
	show.Print(w, "  ", "    ", fmt.Sprintf("Throttle, as 1 has it: %v curve %s; hold %v%s.", m.Throttle.Kind, points(m.Throttle.Points), m.ThrottleHold, held))
	fmt.Fprintln(w)
	c.points().Print(w)
	fmt.Fprintln(w)
	c.full().Print(w)
}

func points(all [][2]units.Ratio) string {
	var words []string
	for _, p := range all {
		words = append(words, fmt.Sprintf("%v at stick %v", p[1], p[0]))
	}
	return strings.Join(words, ", ")
}

// points are the points of the pitch curve, and what the gauge should read at each.
func (c *carried) points() *show.Table {
	t := c.transfer
	table := &show.Table{Title: fmt.Sprintf("Enter the pitch curve, %v, and read the gauge at its points", t.Mode.Pitch.Kind),
		Heads: []string{"stick", "enter", "gauge should read", "wanted", "off"}}
	for i, r := range t.Readings {
		table.Add(show.Percent(r.Target.Stick), show.Percent(t.Enter.Points[i][1]), show.Signed(r.Entered), show.Signed(r.Target.Pitch), show.Signed(r.Entered-r.Target.Pitch))
	}
	table.Note("Wanted: what 1 reads, its radio's steps aside.")
	table.Note("Over the whole stick, what is entered is furthest off at stick %s, by %s; without the radio's steps at stick %s, by %s.",
		show.Percent(t.WorstEntered.Stick), show.Signed(t.WorstEntered.Pitch), show.Percent(t.Worst.Stick), show.Signed(t.Worst.Pitch))
	if t.Enough > len(t.Readings) {
		table.Note("With -points %d it is given more points.", t.Enough)
	}
	return table
}

// full is what full cyclic does there.
func (c *carried) full() *show.Table {
	table := &show.Table{Title: "What full cyclic then adds at mid stick",
		Heads: []string{"<stick", "here", "in 1", "off", "lead here", "lead in 1", "change", "apart"}}
	for _, full := range c.compared.Cyclic {
		cells := []string{full.Stick, "stopped", show.Angle(full.A.Pitch), "-", "-", show.Signed(full.A.PhaseAngle), "-", "-"}
		if d := full.Difference; d != nil {
			copy(cells[1:], []string{show.Angle(full.B.Pitch), show.Angle(full.A.Pitch), show.Signed(d.Pitch), show.Signed(full.B.PhaseAngle), show.Signed(full.A.PhaseAngle), show.Signed(d.Lead), show.Angle(d.Apart)})
		}
		table.Add(cells...)
	}
	return table
}
