package main

import (
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// print writes the comparison, cautions first.
func (c *comparison) print(w io.Writer) {
	m, largest := c.rig.Machine, c.largest()
	show.PrintCaution(w, setup.WithoutBlades, m)
	show.Print(w, "", "", fmt.Sprintf("%s, flight mode %s: servos at %v with the rotor at %.0f rpm.", m.Name, c.mode.Mode.Name, c.voltage, c.spin.At.Speed.RPM()))
	if m.Note != "" {
		show.Print(w, "", "", m.Note)
	}
	compared := "The servos compared are invented."
	if !c.results[0].own {
		compared += " The machine's own are not among them: the file does not rate them all."
	}
	show.Print(w, "", "", compared)
	fmt.Fprintln(w)
	if most := m.Rotor.MaxSpeed; most != nil && c.spin.At.Speed > *most {
		show.Print(w, "STOP: ", "      ", fmt.Sprintf("the blades' maker allows %.0f rpm. A blade that comes off kills.", most.RPM()))
	}
	show.Print(w, "", "  ", fmt.Sprintf("Largest load over all sticks: %s, servo %s at %s.", torque(largest.Peak), c.rig.Servos[c.worst].Name, largest.At))
	for _, t := range []*show.Table{c.strength(), c.hold(), c.trades()} {
		fmt.Fprintln(w)
		t.Print(w)
	}
	fmt.Fprintln(w)
	show.Print(w, "", "", "Theory, from the blades' feathering moments alone: friction, the weight of the parts and gusts are not in it, so leave room. "+
		"A servo cannot hold its stall torque for long. Measure how far an arm gives way before you trust what is lost: makers do not say it.")
}

// strength shows how strong and fast servos are against what is asked of them.
func (c *comparison) strength() *show.Table {
	t := &show.Table{Title: "Strength and speed", Heads: []string{"<servo", "stall", "60° in", "load", "margin", "stroke", "<verdict"}}
	for i := range c.results {
		r := &c.results[i]
		one := hardest(r.Performance)
		t.Add(r.name, torque(one.At.Stall), fmt.Sprintf("%.0f ms", 1000*one.At.Speed.SecondsPer60Degrees()), percent(one.Load),
			fmt.Sprintf("%.1f times", 1/float64(one.Load)), stroke(r.Performance), verdict(r.Performance, &c.rig.Limits))
		if beyond := unrated(r.Performance); beyond != nil {
			t.Note("%s: not rated, since %s. The row is for %v. Never run a servo above its highest rated voltage.", r.name, strings.TrimPrefix(beyond.Error(), "servo: "), one.At.Voltage)
		}
	}
	limits, ours := c.rig.Limits, setup.DefaultLimits()
	t.Note("Load is the largest over all sticks, as part of the stall torque (%s). Margin is the stall torque in loads.", setup.LimitText(limits.ServoLoad, ours.ServoLoad))
	t.Note("Stroke is the time the slowest servo takes for full collective, against its largest load (%s). One frame of waiting for the pulse is in it. "+
		"A digital servo's short frame counts only where the receiver sends as often.", setup.LimitText(limits.Stroke, ours.Stroke))
	t.Note("Verdict is about load, stroke and rated voltage alone. Heat, current, gears, size, weight and life were not looked at.")
	return t
}

// hold shows how firmly and finely servos hold the blades.
func (c *comparison) hold() *show.Table {
	t := &show.Table{Title: "Hold at the blade, at high stick", Heads: []string{"<servo", "pitch lost", "tilt", "stiffness", "deadband", "radio step"}}
	for i := range c.results {
		r := &c.results[i]
		pitch, tilt := "-", "-"
		if r.Dropped == nil {
			pitch, tilt = show.Signed(r.Lost.Blade), show.Angle(r.Lost.Tilt)
		}
		t.Add(r.name, pitch, tilt, stiffness(r.stiffness), "±"+fine(r.Deadband), fine(c.duty.Step))
	}
	t.Note("Lost: what the mean load takes from blade pitch, half the deadband in it, and the tilt it leaves. Stiffness: the moment on each blade for one degree more of pitch lost.")
	t.Note("Deadband: how far the pitch can be off to either side without load. Radio step: of pitch, where the servos that carry the collective move by one pulse step; a servo whose deadband is wider does not follow it.")
	t.Note("Digital and analogue servos are held to the same: each has its own deadband, frame, and angle by which it must be off to pull with all its torque.")
	return t
}

func stroke(s *setup.Performance) string {
	time, stalled := slowest(s)
	if stalled != nil {
		return "-"
	}
	return milliseconds(time)
}

func torque(t units.Torque) string     { return fmt.Sprintf("%.2f kgf·cm", t.KilogramForceCentimetres()) }
func percent(r units.Ratio) string     { return fmt.Sprintf("%.0f %%", r.Percent()) }
func milliseconds(t units.Time) string { return fmt.Sprintf("%.0f ms", float64(t/units.Millisecond)) }
func fine(a units.Angle) string        { return fmt.Sprintf("%.3f°", a.Degrees()) }

// stiffness returns one in N·m per radian as N·m per degree.
func stiffness(s units.Torque) string {
	return fmt.Sprintf("%.2f N·m/°", s.NewtonMetres()*(1*units.Degree).Radians())
}
