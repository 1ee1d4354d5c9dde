package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

const (
	atMarks = 25 // one point of so many is marked
	keyRows = 3
)

// svg draws the throttle of each mode in a panel of its own, and beside them the motor's
// current or the engine's power.
func (p *plan) svg() (string, error) {
	work := &show.Panel{Title: "Power of the engine", Y: "power, W", KeyRows: keyRows}
	draws := func(h *setup.Held) float64 { return h.Operation.Power.Watts() }
	if p.electric() {
		work = &show.Panel{Title: "Current of the motor" + p.with(0), Y: "current, A", KeyRows: keyRows}
		if most := p.rig.Machine.Power.Motor.MaxCurrent; most != nil {
			work.Limit = most.Amperes()
		}
		draws = func(h *setup.Held) float64 { return h.Operation.MotorCurrent.Amperes() }
	}
	var drawings []show.Drawing
	for i := range p.modes {
		m := &p.modes[i]
		if m.why != "" {
			continue
		}
		drawings = append(drawings, p.panel(m))
		work.Series = append(work.Series, m.held(m.Mode.Name, 0, draws))
	}
	drawings = append(drawings, work)
	warnings := []string{show.Caution(setup.WithoutBlades, p.rig.Machine), stop + live}
	for i := range p.modes {
		if text := p.tooFast(&p.modes[i]); text != "" {
			warnings = append(warnings, stop+"Mode "+p.modes[i].Mode.Name+": "+text)
		}
	}
	const width, height = 300, 270
	return show.SVG(width, height, warnings, "Throttle over the collective stick of each flight mode, and what the drive gives for it. The tables give the figures.", drawings...)
}

// panel draws the throttle of one mode.
func (p *plan) panel(m *mode) *show.Panel {
	panel := &show.Panel{Title: fmt.Sprintf("%s, at %.0f rpm", m.Mode.Name, m.spin.At.Speed.RPM()), Y: "%", Lo: 0, Hi: 100, KeyRows: keyRows}
	for i := range p.supplies {
		panel.Series = append(panel.Series, m.held("throttle"+p.with(i), i, func(h *setup.Held) float64 { return h.Operation.Throttle.Percent() }))
	}
	panel.Series = append(panel.Series, m.series("own curve", func(q *point) float64 { return q.own.Percent() }))
	for i := range p.supplies {
		if m.short(i) != "" {
			panel.Series = append(panel.Series, m.held("rotor speed"+p.with(i), i, func(h *setup.Held) float64 { return units.Ratio(h.Speed / m.spin.At.Speed).Percent() }))
		}
	}
	return panel
}

// held is one figure of a supply over the stick, broken where there is none.
func (m *mode) held(name string, supply int, of func(*setup.Held) float64) show.Series {
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
