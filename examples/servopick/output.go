package main

import (
	"fmt"
	"io"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// print writes the comparison, cautions first.
func (c *comparison) print(w io.Writer) {
	m, largest := c.rig.Machine(), c.largest()
	show.PrintCaution(w, sheet.WithoutBlades, m)
	show.Print(w, "", "", fmt.Sprintf("%s, flight mode %q: servos at %v, rotor at %.0f rpm.", m.Name, c.mode.Name(), c.voltage, c.turning.Spin.At.Speed.RPM()))
	if m.Note != "" {
		show.Print(w, "", "", m.Note)
	}
	compared := "The servos compared are invented."
	if !c.results[0].own {
		compared += " The machine's own servos are left out: the file does not rate them all."
	}
	show.Print(w, "", "", compared)
	fmt.Fprintln(w)
	if most := m.Rotor.MaxSpeed; most != nil && c.turning.Spin.At.Speed > *most {
		show.Print(w, "STOP: ", "      ", fmt.Sprintf("the blades' maker allows %.0f rpm. A blade that comes off kills.", most.RPM()))
	}
	show.Print(w, "", "  ", fmt.Sprintf("The largest load over all stick positions is %s, on servo %s at %s.", torque(largest.Peak), c.rig.Servos()[c.worst].Name, largest.At))
	for _, t := range []*show.Table{c.strength(), c.hold(), c.trades()} {
		fmt.Fprintln(w)
		t.Print(w)
	}
	fmt.Fprintln(w)
	show.Print(w, "", "", "Loads are theory: they come only from the moments that twist the blades. Friction, the weight of the parts and gusts are not included, so leave room. "+
		"A servo cannot hold its stall torque for long. Measure how far a servo arm yields under load. Makers do not publish it, so pitch lost rests on a guess.")
}

// strength shows how strong and fast servos are, and how they compare with the limits.
func (c *comparison) strength() *show.Table {
	t := &show.Table{Title: "Strength and speed", Heads: []string{"<servo", "stall", "60° in", "load", "margin", "stroke", "<verdict"}}
	for i := range c.results {
		r := &c.results[i]
		one := hardest(r.Performance)
		t.Add(r.name, torque(one.At.Stall), fmt.Sprintf("%.0f ms", 1000*one.At.Speed.SecondsPer60Degrees()), percent(one.Load),
			fmt.Sprintf("%.1f times", 1/float64(one.Load)), stroke(r.Performance), verdict(r.Performance, c.rig.Limits()))
		if beyond := unrated(r.Performance); beyond != nil {
			why := "Never run a servo above its highest rated voltage."
			if beyond.Beyond < 0 {
				why = "It can be weak or slow there. Nobody has rated it."
			}
			t.Note("%s is not rated: %v. Its row is for %v. %s", r.name, beyond, one.At.Voltage, why)
		}
	}
	limits, ours := c.rig.Limits(), machine.DefaultLimits()
	t.Note("Stall is the stall torque of the servo.")
	t.Note("60° in is the time the servo takes for 60° without load.")
	t.Note("Load is the largest load over all stick positions, as a share of the stall torque (%s).", machine.LimitText(limits.ServoLoad, ours.ServoLoad))
	t.Note("Margin is the stall torque divided by the largest load.")
	t.Note("Stroke is how long the slowest servo takes for full collective against its largest load, including one frame (%s). "+
		"A digital servo's short frame counts only if the receiver sends as often.", machine.LimitText(limits.Stroke, ours.Stroke))
	t.Note("Verdict is about load, stroke and rated voltage alone. Heat, current, gears, size, weight and life were not looked at.")
	return t
}

// hold shows how firmly servos hold the blades, and how finely they can be set.
func (c *comparison) hold() *show.Table {
	t := &show.Table{Title: "How firmly servos hold the blade, at high collective stick", Heads: []string{"<servo", "pitch lost", "tilt", "stiffness", "deadband", "radio step"}}
	for i := range c.results {
		r := &c.results[i]
		pitch, tilt := "-", "-"
		if r.Dropped == nil {
			pitch, tilt = show.Signed(r.Lost.Blade), show.Angle(r.Lost.Tilt)
		}
		t.Add(r.name, pitch, tilt, stiffness(r.stiffness), "±"+fine(r.Deadband), fine(c.demand.Step))
	}
	t.Note("Pitch lost is how far the blade yields under the average load, half the deadband included; minus is leading edge down.")
	t.Note("Tilt is how far that load tilts the swashplate.")
	t.Note("Stiffness is the moment on each blade that takes one degree more of pitch.")
	t.Note("Deadband is how far the pitch can be off to either side without load.")
	t.Note("Radio step is how far the pitch moves when all servos of the collective move by one pulse step. A servo with a wider deadband does not follow one step.")
	t.Note("Digital and analogue servos are treated alike. Each has its own deadband and frame, and its own angle at which it pulls with full torque.")
	return t
}

func stroke(s *load.Performance) string {
	time, stalled := slowest(s)
	if stalled != nil {
		return "-"
	}
	return milliseconds(time)
}

func torque(t units.Torque) string     { return show.Torque(t) + " kgf·cm" }
func percent(r units.Ratio) string     { return fmt.Sprintf("%.0f %%", r.Percent()) }
func milliseconds(t units.Time) string { return fmt.Sprintf("%.0f ms", float64(t/units.Millisecond)) }
func fine(a units.Angle) string        { return fmt.Sprintf("%.3f°", a.Degrees()) }

// stiffness returns one in N·m per radian as N·m per degree.
func stiffness(s units.Torque) string {
	return fmt.Sprintf("%.2f N·m/°", s.NewtonMetres()*(1*units.Degree).Radians())
}
