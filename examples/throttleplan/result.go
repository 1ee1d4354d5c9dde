package main

import (
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/pitch/sheet"
)

// result is the plan for JSON.
func (p *plan) result() results.Throttle {
	r := results.Throttle{About: results.Of(sheet.WithoutBlades, p.rig.Machine())}
	for i := range p.supplies {
		supply := results.Supply{}
		if p.electric() {
			supply.Charge = &p.supplies[i].charge
		}
		r.Supplies = append(r.Supplies, supply)
	}
	for i := range p.modes {
		m := &p.modes[i]
		one := results.ThrottleMode{Name: m.Name(), None: m.why}
		if m.why == "" {
			one.Speed, one.TipSpeed = m.spin.At.Speed, m.spin.Rotor.TipSpeed(m.spin.At)
			one.CannotFly, one.Hover = m.grounded, m.hover
			if p.electric() && m.short(0) == "" {
				one.Lasts = &m.lasts
			}
		}
		for k := range m.points {
			q := &m.points[k]
			one.Points = append(one.Points, results.ThrottlePoint{Stick: q.stick, Pitch: q.pitch, Own: q.own, Held: q.held, Unreachable: q.unreachable})
		}
		r.Modes = append(r.Modes, one)
	}
	return r
}
