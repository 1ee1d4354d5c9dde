package main

import (
	"fmt"
	"math"

	"example.org/levelhead/examples/internal/show"
)

const inTable = 10 // one point of so many goes into the table

// table shows what the drive does over the stick of a mode.
func (p *plan) table(m *mode) *show.Table {
	drive := []string{"engine", "turns at"}
	if p.electric() {
		drive = []string{"motor", "battery", "volts"}
	}
	t := &show.Table{Heads: append(append([]string{"stick", "pitch", "rotor"}, drive...), "speed", "throttle", "own curve")}
	if len(p.supplies) > 1 {
		t.Heads = append(t.Heads, "at "+show.Percent(p.supplies[1].charge))
	}
	for i := 0; i < len(m.points); i += inTable {
		q := &m.points[i]
		cells := []string{show.Percent(q.stick), "-", "-"}
		for len(cells) < len(t.Heads) {
			cells = append(cells, "-")
		}
		if q.stopped == "" {
			cells[1] = show.Signed(q.pitch)
			p.fill(cells[2:], q)
		}
		t.Add(cells...)
	}
	return t
}

// fill puts the figures of a point into its cells after the pitch.
func (p *plan) fill(cells []string, q *point) {
	n := len(cells) - len(p.supplies) - 2
	if held := &q.held[0]; held.Unsolved == nil {
		o := held.Operation
		figures := []string{fmt.Sprintf("%.0f W", o.Power.Watts()), fmt.Sprintf("%.0f rpm", o.Speed.RPM())}
		if p.electric() {
			figures = []string{fmt.Sprintf("%.1f A", o.MotorCurrent.Amperes()), fmt.Sprintf("%.1f A", o.BatteryCurrent.Amperes()), fmt.Sprintf("%.2f V", o.BatteryVoltage.Volts())}
		}
		cells[0] = fmt.Sprintf("%.0f W", o.Rotor.Watts())
		copy(cells[1:], figures)
		cells[n], cells[n+1] = fmt.Sprintf("%.0f rpm", held.Speed.RPM()), show.Percent(o.Throttle)
	}
	cells[n+2] = show.Percent(q.own)
	if len(p.supplies) > 1 {
		switch landing := &q.held[1]; {
		case landing.Unsolved != nil:
		case landing.Short != nil:
			cells[n+3] = fmt.Sprintf("%.0f rpm", landing.Speed.RPM())
		default:
			cells[n+3] = show.Percent(landing.Operation.Throttle)
		}
	}
}

// lasting says how long the battery lasts in a mode: never beyond the charge to land at.
func (p *plan) lasting(m *mode) string {
	charge, land := show.Percent(p.supplies[0].charge), show.Percent(p.landAt())
	const holds = "By this theory the battery holds the speed over the whole stick down to "
	switch {
	case p.supplies[0].charge < p.landAt():
		return fmt.Sprintf("Do not fly on %s charge. The machine must be down at %s.", charge, land)
	case m.short(0) != "":
		return fmt.Sprintf("The machine must be down at %s charge.", land)
	case m.lasts > p.landAt():
		return holds + fmt.Sprintf("%s charge. It does not hold it down to %s, where the machine must be down.", show.Percent(m.lasts), land)
	}
	return holds + fmt.Sprintf("%s charge, where the machine must be down. Less charge was not looked at.", land)
}

// remarks says under a mode's table where it falls short, and how the mode's own curve
// differs from what is needed.
func (p *plan) remarks(t *show.Table, m *mode) {
	for i := range p.supplies {
		if where := m.short(i); where != "" {
			t.Note("Cannot be held%s: %.0f rpm at stick %s, since %s. The best speed, where there is one, stands in its place.", p.with(i), m.spin.At.Speed.RPM(), where, m.reason(i))
		}
	}
	if p.electric() {
		t.Note("%s", p.lasting(m))
	}
	var worst *point
	var by float64
	for i := range m.points {
		q := &m.points[i]
		if q.stopped != "" {
			t.Note("Stick %v and perhaps more: %s.", q.stick, q.stopped)
			break
		}
		if d := float64(q.own - q.held[0].Operation.Throttle); q.held[0].Unsolved == nil && math.Abs(d) > math.Abs(by) {
			worst, by = q, d
		}
	}
	if worst != nil {
		t.Note("The mode's own curve is furthest off at stick %v: %s, where %s is needed.", worst.stick, show.Percent(worst.own), show.Percent(worst.held[0].Operation.Throttle))
	}
}
