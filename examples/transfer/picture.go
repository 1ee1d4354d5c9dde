package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
)

// svg draws pitch over the collective stick, and how far the setups differ there.
func (p *page) svg() (string, error) {
	pitch := &show.Panel{Title: "Blade pitch of both setups", Y: "blade pitch", Unit: "degrees", Series: []show.Series{
		over(p.compared, fmt.Sprintf("setup 1, mode %q", p.one.Name()), func(row *setup.ComparedRow) float64 { return gauge(&row.A) }),
		over(p.compared, fmt.Sprintf("setup 2, mode %q", p.two.Name()), func(row *setup.ComparedRow) float64 { return gauge(&row.B) }),
	}}
	charts := []show.Charter{pitch, &show.Panel{Title: "How far the pitch of setup 2 is from that of setup 1", Y: "pitch difference", Unit: "degrees",
		Series: []show.Series{over(p.compared, "setup 2 minus setup 1", difference)}}}
	if p.transferred != nil && p.failed == nil {
		c := p.transferred.compared
		charts = append(charts, &show.Panel{Title: "Setup 1 transferred to the other machine: how far its pitch is off", Y: "pitch difference", Unit: "degrees",
			Series: []show.Series{over(c, "pitch there minus pitch of setup 1 before rounding to radio steps", difference), unread(c)}})
	}
	const width, height = 340, 190
	return show.Charts(width, height, []string{show.Caution(works, p.machines()...)}, "Blade pitch of both setups over the collective stick, and how far they differ. The tables give the figures.", charts...)
}

// over is one figure of a comparison over the stick.
func over(c *setup.Comparison, name string, of func(*setup.ComparedRow) float64) show.Series {
	s := show.Series{Name: name}
	const atMarks = 25 // per cent of stick from one mark to the next
	for i := range c.Rows {
		row := &c.Rows[i]
		s.Line = append(s.Line, plotter.XY{X: row.Stick.Percent(), Y: of(row)})
		if math.Mod(row.Stick.Percent(), atMarks) == 0 {
			s.Marks = append(s.Marks, s.Line[i])
		}
	}
	return s
}

// unread is the band of differences that are less than half a step of the gauge.
func unread(c *setup.Comparison) show.Series {
	half := c.Resolution.Degrees() / 2
	return show.Series{Name: "less than half a step of the gauge: too small to read", Bare: true, Line: plotter.XYs{{X: 0}, {X: 100}}, Band: []float64{half, half}}
}

func gauge(s *setup.ComparedSide) float64 {
	if s.Unreachable != nil {
		return math.NaN()
	}
	return s.Gauge.Degrees()
}

func difference(row *setup.ComparedRow) float64 {
	if row.Pitch == nil {
		return math.NaN()
	}
	return row.Pitch.Degrees()
}
