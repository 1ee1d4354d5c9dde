package main

import (
	"fmt"
	"math"

	"example.org/levelhead/examples/internal/show"
)

const inTable = 10 // one point of so many goes into the table

// table shows what the power train does over the stick of a mode.
func (p *plan) table(m *mode) *show.Table {
	t := &show.Table{Heads: []string{"stick", "pitch", "rotor", "engine", "turns at", "speed", p.share()}}
	if p.electric() {
		t.Heads = []string{"stick", "pitch", "rotor", "motor", "battery", "volts", "speed", p.share(), "own curve"}
	}
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
			copy(cells[2:], p.figures(q))
		}
		t.Add(cells...)
	}
	return t
}

// figures are the cells of a point after the pitch.
func (p *plan) figures(q *point) []string {
	held := &q.held[0]
	o, speed, share := held.Operation, fmt.Sprintf("%.0f rpm", held.Speed.RPM()), show.Percent(held.Operation.Throttle)
	cells := []string{fmt.Sprintf("%.0f W", o.Rotor.Watts())}
	if p.electric() {
		cells = append(cells, fmt.Sprintf("%.1f A", o.MotorCurrent.Amperes()), fmt.Sprintf("%.1f A", o.BatteryCurrent.Amperes()), fmt.Sprintf("%.2f V", o.BatteryVoltage.Volts()), speed, share)
	} else {
		cells = append(cells, fmt.Sprintf("%.0f W", o.Power.Watts()), fmt.Sprintf("%.0f rpm", o.Speed.RPM()), speed, share)
	}
	if held.Unsolved != nil {
		for i := range cells {
			cells[i] = "-"
		}
	}
	if !p.electric() {
		return cells
	}
	cells = append(cells, show.Percent(q.own))
	if len(p.supplies) > 1 {
		switch landing := &q.held[1]; {
		case landing.Unsolved != nil:
		case landing.Short != nil:
			cells = append(cells, fmt.Sprintf("%.0f rpm", landing.Speed.RPM()))
		default:
			cells = append(cells, show.Percent(landing.Operation.Throttle))
		}
	}
	return cells
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
	if worst != nil && p.electric() {
		t.Note("The mode's own curve is furthest off at stick %v. It has %s, and %s is needed.", worst.stick, show.Percent(worst.own), show.Percent(worst.held[0].Operation.Throttle))
	}
}
