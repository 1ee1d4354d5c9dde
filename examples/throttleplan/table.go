package main

import (
	"fmt"
	"math"

	"example.org/levelhead/examples/internal/show"
)

const inTable = 10 // one point of so many goes into the table

// table shows what the power train does over the stick of a mode.
func (p *plan) table(m *mode) *show.Table {
	train := []string{"engine", "turns at"}
	if p.electric() {
		train = []string{"motor", "battery", "volts"}
	}
	t := &show.Table{Heads: append(append([]string{"stick", "pitch", "rotor"}, train...), "speed", "throttle", "own curve")}
	if len(p.supplies) > 1 {
		t.Heads = append(t.Heads, "at "+show.Percent(p.supplies[1].charge))
	}
	for i := 0; i < len(m.points); i += inTable {
		q := &m.points[i]
		cells := []string{show.Percent(q.stick), "-", "-"}
		for len(cells) < len(t.Heads) {
			cells = append(cells, "-")
		}
		if q.unreachable == "" {
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
	const holds = "By this theory the battery holds the speed at every stick position down to "
	down := fmt.Sprintf(" The machine must be down at %s charge.", land)
	switch {
	case p.supplies[0].charge < p.landAt():
		return fmt.Sprintf("Do not fly on %s charge.", charge) + down
	case m.short(0) != "":
		return down[1:]
	case m.lasts > p.landAt():
		return holds + fmt.Sprintf("%s charge. It does not hold the speed down to %s.", show.Percent(m.lasts), land) + down
	}
	return holds + land + " charge." + down + " Less charge was not looked at."
}

// remarks says under a mode's table where it falls short, and how the mode's own curve
// differs from what is needed.
func (p *plan) remarks(t *show.Table, m *mode) {
	for i := range p.supplies {
		if where := m.short(i); where != "" {
			t.Note("%.0f rpm cannot be held%s with the stick at %s: %s. The table gives the best speed there, if there is one.", m.spin.At.Speed.RPM(), p.with(i), where, m.reason(i))
		}
	}
	if p.electric() {
		t.Note("%s", p.lasting(m))
	}
	var worst *point
	var by float64
	for i := range m.points {
		q := &m.points[i]
		if q.unreachable != "" {
			t.Note("At stick %v, and perhaps at more positions: %s.", q.stick, q.unreachable)
			break
		}
		if d := float64(q.own - q.held[0].Operation.Throttle); q.held[0].Unsolved == nil && math.Abs(d) > math.Abs(by) {
			worst, by = q, d
		}
	}
	if worst != nil {
		t.Note("The mode's own curve is furthest off at stick %v. It has %s, and %s is needed.", worst.stick, show.Percent(worst.own), show.Percent(worst.held[0].Operation.Throttle))
	}
}
