package main

import (
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/units"
)

// print writes the comparison, cautions first.
func (c *comparison) print(w io.Writer) {
	show.PrintCaution(w)
	show.Print(w, "", "", fmt.Sprintf("%s, flight mode %s: servos at %v with the rotor at %.0f rpm.",
		c.rig.Machine.Name, c.mode.Mode.Name, c.voltage, c.speed.RPM()))
	if note := c.rig.Machine.Note; note != "" {
		show.Print(w, "", "", note)
	}
	show.Print(w, "", "", fmt.Sprintf("The servos and the rotor are invented: %d blades of %v each, %v from mast to tip, chord %v.",
		blades.Blades, bladeMass, blades.Radius, blades.Chord))
	fmt.Fprintln(w)
	show.Print(w, "", "  ", fmt.Sprintf("Largest load over all sticks: %s, servo %s at %s. One radio pulse step on all servos is %.3f° of blade pitch at high stick.",
		torque(c.largest().Peak), c.rig.Servos[c.worst].Name, c.largest().At, c.step.Degrees()))
	fmt.Fprintln(w)
	c.table().Print(w)
	fmt.Fprintln(w)
	show.Print(w, "", "", "Theory, from the blades' feathering moments alone: friction, the weight of the parts and gusts are not in it, so leave room. "+
		"A servo cannot hold its stall torque for long. Measure how far an arm gives way before you trust the pitch lost: makers do not say it.")
}

func (c *comparison) table() *show.Table {
	t := &show.Table{Heads: []string{"<servo", "stall", "60° in", "load", "stroke", "| lost: pitch", "lean", "| deadband", "<"}}
	for i := range c.results {
		r := &c.results[i]
		stroke, pitch, lean, remark := "STALLS", "-", "-", ""
		if r.stalled == nil {
			stroke = fmt.Sprintf("%.0f ms", float64(r.stroke/units.Millisecond))
		} else {
			t.Note("%s: stalls under the largest load, and is not for this machine.", r.name)
		}
		if r.dropped == nil {
			pitch, lean = show.Signed(r.lost.Blade), show.Angle(r.lost.Lean)
		}
		if r.unrated != nil {
			remark = "not rated"
			t.Note("%s: not rated, since %s. Its row is for %v. Never run a servo above its highest rated voltage.", r.name, strings.TrimPrefix(r.unrated.Error(), "servo: "), r.at.Voltage)
		}
		t.Add(r.name, torque(r.at.Stall), fmt.Sprintf("%.0f ms", 1000*r.at.Speed.SecondsPer60Degrees()), fmt.Sprintf("%.0f %%", 100*float64(c.largest().Peak/r.at.Stall)),
			stroke, pitch, lean, fmt.Sprintf("±%.3f°", r.deadband.Degrees()), remark)
	}
	t.Note("Load: the largest, as part of the stall torque. Stroke: of the full collective stick with that load against it all the way, the slowest servo's.")
	t.Note("Lost: what the mean load at high stick takes from blade pitch, and the lean it leaves. Deadband: of blade pitch at high stick, all servos together.")
	return t
}

func torque(t units.Torque) string { return fmt.Sprintf("%.2f kgf·cm", t.KilogramForceCentimetres()) }
