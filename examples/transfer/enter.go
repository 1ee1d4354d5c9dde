package main

import (
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// print writes what to enter on the other machine, with the findings first.
func (t *transferred) print(w io.Writer, from setup.Setup) {
	show.Print(w, "", "", fmt.Sprintf("Enter this on %s. Then its blades get the pitch of setup 1.", t.to.Name()))
	if note := t.to.Machine().Note; note != from.Rig().Machine().Note {
		show.Print(w, "  ", "  ", note)
	}
	if t.failed != nil {
		show.Print(w, "  STOP: ", "    ", fmt.Sprintf("Enter nothing. The machine cannot give that pitch: %v.", t.failed))
		return
	}
	for _, f := range t.transfer.Findings {
		label := strings.ToUpper(string(f.Severity))
		show.Print(w, "  "+label+": ", "    ", fmt.Sprintf("%s: %s. %s", f.What, f.Figure, f.Do))
	}
	m := &t.transfer.Mode
	held := ""
	if m.Held {
		held = ", on in this mode"
	}
	show.Print(w, "  ", "    ", fmt.Sprintf("Enter these rates: collective %v, right cyclic %v, forward cyclic %v; expo %v.", m.Rates.Collective, m.Rates.Right, m.Rates.Forward, m.Expo))
	show.Print(w, "  ", "    ", fmt.Sprintf("Keep the throttle of setup 1: a curve (%s) with %s; throttle hold %v%s.", show.Joined(m.Throttle.Kind.String()), points(m.Throttle.Points), m.ThrottleHold, held))
	fmt.Fprintln(w)
	t.points().Print(w)
	fmt.Fprintln(w)
	t.full().Print(w)
}

func points(all [][2]units.Ratio) string {
	var words []string
	for _, p := range all {
		words = append(words, fmt.Sprintf("%v at stick %v", p[1], p[0]))
	}
	return strings.Join(words, ", ")
}

// points are the points of the pitch curve, and what the gauge should read at each.
func (t *transferred) points() *show.Table {
	of := t.transfer
	table := &show.Table{Title: fmt.Sprintf("Enter this pitch curve (%s) and read the gauge at its points", show.Joined(of.Mode.Pitch.Kind.String())),
		Heads: []string{"stick", "enter", "gauge should read", "wanted", "off"}}
	for i, r := range of.Readings {
		table.Add(show.Percent(r.Target.Stick), show.Percent(of.Enter.Points[i][1]), show.Signed(r.Entered), show.Signed(r.Target.Pitch), show.Signed(r.Entered-r.Target.Pitch))
	}
	table.Note("Enter is the value of the curve at that stick position.")
	table.Note("Gauge should read is the blade pitch after rounding to radio steps; + is leading edge up.")
	table.Note("Wanted is the blade pitch of setup 1 before rounding to radio steps.")
	table.Note("Off is gauge should read minus wanted.")
	table.Note("The largest error over the whole stick is %s, at stick %s. Without the radio's rounding it is %s, at stick %s.",
		show.Signed(of.WorstEntered.Pitch), show.Percent(of.WorstEntered.Stick), show.Signed(of.Worst.Pitch), show.Percent(of.Worst.Stick))
	if of.Enough > len(of.Readings) {
		table.Note("Use -points %d to come closer.", of.Enough)
	}
	return table
}

// full is what full cyclic does there.
func (t *transferred) full() *show.Table {
	table := &show.Table{Title: "What full cyclic then adds at mid stick",
		Heads: []string{"<stick", "here", "wanted", "off", "angle here", "angle wanted", "angle off", "apart"}}
	for _, full := range t.compared.Cyclic {
		cells := []string{full.Stick, "cannot get there", show.Angle(full.A.Pitch), "-", "-", show.Signed(full.A.PhaseAngle), "-", "-"}
		if d := full.Difference; d != nil {
			copy(cells[1:], []string{show.Angle(full.B.Pitch), show.Angle(full.A.Pitch), show.Signed(d.Pitch), show.Signed(full.B.PhaseAngle), show.Signed(full.A.PhaseAngle), show.Signed(d.PhaseAngle), show.Angle(d.Apart)})
		}
		table.Add(cells...)
	}
	table.Note("Here is the largest cyclic pitch on this machine. Wanted is that of setup 1 before rounding to radio steps. Off is here minus wanted.")
	table.Note("Angle here and angle wanted are the phase angles, as in the table above. Angle off is angle here minus angle wanted.")
	table.Note("Apart is the largest difference during one turn of the rotor.")
	return table
}
