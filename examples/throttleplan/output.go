package main

import (
	"fmt"
	"io"
	"math"

	"gonum.org/v1/plot/plotter"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

const (
	inTable = 10 // one point of so many goes into the table
	atMarks = 25 // and is marked in the picture
)

// print writes the plan, cautions first.
func (p *plan) print(w io.Writer) {
	show.PrintCaution(w)
	show.Print(w, "", "", fmt.Sprintf("%s: the throttle that holds %.0f rpm, with the battery at %s charge, in air of %.1f °C, %.0f hPa and %.3f kg/m³.",
		p.rig.Machine.Name, p.at.Speed.RPM(), show.Percent(p.charge), p.air.Temperature.Celsius(), float64(p.air.Pressure/rotor.Hectopascal), float64(p.air.Density)))
	if note := p.rig.Machine.Note; note != "" {
		show.Print(w, "", "", note)
	}
	spec := p.rotor.Spec()
	show.Print(w, "", "", fmt.Sprintf("The rotor and drive are invented: %d blades, %v from mast to tip, chord %v; motor %.0f rpm for each volt, %v to 1; battery of %d cells; %v in all.",
		spec.Blades, spec.Radius, spec.Chord, motor.SpeedConstant.RPM(), float64(gear.Ratio), battery.Cells, mass))
	fmt.Fprintln(w)
	show.Print(w, "", "  ", "Hover: "+p.hovering())
	for _, m := range p.modes {
		fmt.Fprintln(w)
		p.table(m).Print(w)
	}
	fmt.Fprintln(w)
	show.Print(w, "", "", "Theory, for a rotor that neither climbs nor sinks: rotor power can be 15 % off, and more below 4° or past stall. "+
		"Throttle is the share of the battery's voltage; whether your controller's is, its manual says. "+
		"Check the speed against the log of a flight before you trust a curve.")
}

// hovering says what hover takes.
func (p *plan) hovering() string {
	h := p.hover
	switch {
	case p.grounded != nil:
		return "the rotor cannot carry the machine: " + p.grounded.Error() + "."
	case h.stopped != "":
		return fmt.Sprintf("at a pitch of %s, but %s.", show.Signed(h.Pitch), h.stopped)
	case h.short != nil:
		return fmt.Sprintf("it takes a pitch of %s, but %s.", show.Signed(h.Pitch), h.short)
	}
	return fmt.Sprintf("pitch %s, throttle %s, rotor power %.0f W, motor current %.1f A; tip speed %.0f m/s.",
		show.Signed(h.Pitch), show.Percent(h.Operation.Throttle), h.Operation.Rotor.Watts(), h.Operation.MotorCurrent.Amperes(), float64(p.rotor.TipSpeed(p.at)))
}

// table shows a mode, or says why there is nothing to show.
func (p *plan) table(m mode) *show.Table {
	t := &show.Table{Title: "Flight mode: " + m.Mode.Name, Heads: []string{"stick", "pitch", "power", "motor", "battery", "rotor speed", "throttle", "<"}}
	switch {
	case !m.Works():
		return &show.Table{Title: fmt.Sprintf("Flight mode: %s, which cannot be worked out: %v", m.Mode.Name, m.Unmet)}
	case m.Mode.Held:
		return &show.Table{Title: fmt.Sprintf("Flight mode: %s, whose throttle hold is on. There is no throttle to enter.", m.Mode.Name)}
	}
	for i := 0; i < len(m.points); i += inTable {
		q := m.points[i]
		if q.stopped != "" {
			t.Add(show.Percent(q.stick), "-", "-", "-", "-", "-", "-", q.stopped)
			continue
		}
		remark := ""
		if q.short != nil {
			remark = "cannot be held"
		}
		o := q.Operation
		t.Add(show.Percent(q.stick), show.Signed(q.Pitch), fmt.Sprintf("%.0f W", o.Rotor.Watts()), fmt.Sprintf("%.1f A", o.MotorCurrent.Amperes()),
			fmt.Sprintf("%.2f V", o.BatteryVoltage.Volts()), fmt.Sprintf("%.0f rpm", q.speed.RPM()), show.Percent(o.Throttle), remark)
		if q.short != nil && len(t.Notes) == 0 {
			t.Note("Cannot be held: %.0f rpm is beyond the drive at that pitch, because %s. The row shows the best speed instead, and what it takes.", q.short.Wanted.RPM(), q.short.Reason)
		}
	}
	return t
}

// svg draws throttle and rotor speed in one panel, and the current beside it.
func (p *plan) svg() (string, error) {
	left := &show.Panel{Title: fmt.Sprintf("Throttle, and rotor speed in %% of %.0f rpm", p.at.Speed.RPM()), Y: "%", Lo: 70, Hi: 100}
	right := &show.Panel{Title: "Current of the motor", Y: "current, A"}
	var speeds []show.Series // after the throttles, so that those have the colours of the currents
	for _, m := range p.modes {
		if len(m.points) == 0 {
			continue
		}
		left.Series = append(left.Series, series(m, ", throttle", func(q point) float64 { return q.Operation.Throttle.Percent() }))
		speeds = append(speeds, series(m, ", speed", func(q point) float64 { return units.Ratio(q.speed / p.at.Speed).Percent() }))
		right.Series = append(right.Series, series(m, "", func(q point) float64 { return q.Operation.MotorCurrent.Amperes() }))
	}
	left.Series = append(left.Series, speeds...)
	right.KeyRows = len(p.modes)
	left.KeyRows = right.KeyRows
	const width, height = 300, 260
	return show.SVG(width, height, "Throttle and rotor speed over the collective stick on the left, the motor's current on the right. The tables give the figures.", left, right)
}

// series is one figure of a mode over the stick, broken where there is none.
func series(m mode, name string, of func(point) float64) show.Series {
	s := show.Series{Name: m.Mode.Name + name}
	for i, q := range m.points {
		y := math.NaN()
		if q.stopped == "" {
			y = of(q)
		}
		s.Line = append(s.Line, plotter.XY{X: q.stick.Percent(), Y: y})
		if i%atMarks == 0 {
			s.Marks = append(s.Marks, s.Line[i])
		}
	}
	return s
}
