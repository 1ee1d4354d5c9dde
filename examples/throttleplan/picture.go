package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

const atMarks = 25 // one point of so many is marked

// svg draws the throttle of each mode in a panel of its own, and beside them the motor's
// current or the engine's power.
func (p *plan) svg() (string, error) {
	work := &show.Panel{Title: "Engine power to hold the rotor speed", Y: "engine power to hold the rotor speed", Unit: "W"}
	draws := func(h *load.Held) float64 { return h.Operation.Power.Watts() }
	if p.electric() {
		work = &show.Panel{Title: "Motor current" + p.with(0), Y: "motor current to hold the rotor speed", Unit: "A"}
		if most := p.rig.Machine().Power.Motor.MaxCurrent; most != nil {
			work.Title += ": must stay under the limit"
			work.Limit = most.Amperes()
		}
		draws = func(h *load.Held) float64 { return h.Operation.MotorCurrent.Amperes() }
	}
	var charts []show.Charter
	for i := range p.modes {
		m := &p.modes[i]
		if m.why != "" {
			continue
		}
		charts = append(charts, p.panel(m))
		work.Series = append(work.Series, m.held(m.Name(), 0, draws))
	}
	charts = append(charts, work)
	warnings := []string{show.Caution(sheet.WithoutBlades, p.rig.Machine())}
	if p.electric() {
		warnings = append(warnings, stop+live)
	}
	for i := range p.modes {
		if text := p.tooFast(&p.modes[i]); text != "" {
			warnings = append(warnings, stop+"Mode "+p.modes[i].Name()+": "+text)
		}
	}
	const width, height = 340, 200
	return show.Charts(width, height, warnings, "What it takes over the collective stick of each flight mode to hold the rotor speed. The tables give the figures.", charts...)
}

// panel draws the throttle of one mode.
func (p *plan) panel(m *mode) *show.Panel {
	share := p.share()
	panel := &show.Panel{Title: fmt.Sprintf("Mode %q: %s to hold %.0f rpm", m.Name(), share, m.spin.At.Speed.RPM()), Y: share, Unit: "%", Lo: 0, Hi: 100}
	for i := range p.supplies {
		panel.Series = append(panel.Series, m.held(share+" to hold the speed"+p.with(i), i, func(h *load.Held) float64 { return h.Operation.Throttle.Percent() }))
	}
	if p.electric() {
		panel.Series = append(panel.Series, m.series("own curve, as the mode has it now", func(q *point) float64 { return q.own.Percent() }))
	}
	for i := range p.supplies {
		if m.short(i) != "" {
			panel.Y = share + ", and rotor speed in parts of the speed asked for"
			panel.Series = append(panel.Series, m.held("rotor speed"+p.with(i), i, func(h *load.Held) float64 { return units.Ratio(h.Speed / m.spin.At.Speed).Percent() }))
		}
	}
	return panel
}

// held is one figure of a supply over the stick, broken where there is none.
func (m *mode) held(name string, supply int, of func(*load.Held) float64) show.Series {
	return m.series(name, func(q *point) float64 {
		if q.held[supply].Unsolved != nil {
			return math.NaN()
		}
		return of(&q.held[supply])
	})
}

// series is one figure over the stick, broken where the blade does not get there.
func (m *mode) series(name string, of func(*point) float64) show.Series {
	s := show.Series{Name: name}
	for i := range m.points {
		q := &m.points[i]
		y := math.NaN()
		if q.unreachable == "" {
			y = of(q)
		}
		s.Line = append(s.Line, plotter.XY{X: q.stick.Percent(), Y: y})
		if i%atMarks == 0 {
			s.Marks = append(s.Marks, s.Line[i])
		}
	}
	return s
}
