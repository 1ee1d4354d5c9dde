package main

import (
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

const inTable = 10 // per cent of stick from one row of the table to the next

// collective tells the two apart over the collective stick.
func (p *page) collective() *show.Table {
	c := p.compared
	t := &show.Table{Title: "At the blade, over the collective stick, cyclic centred",
		Heads: []string{"stick", "pitch 1", "pitch 2", "2 less 1", "gain 1", "gain 2", "tilt 1", "tilt 2", "throttle 1", "throttle 2"}}
	for _, row := range c.Rows {
		if math.Mod(row.Stick.Percent(), inTable) != 0 {
			continue
		}
		a, b := side(&row.A), side(&row.B)
		by := "-"
		if row.Pitch != nil {
			by = show.Signed(*row.Pitch)
		}
		t.Add(show.Percent(row.Stick), a[0], b[0], by, a[1], b[1], a[2], b[2], show.Percent(row.A.Throttle), show.Percent(row.B.Throttle))
	}
	t.Note("Pitch: on the gauge, with the radio's steps. Gain: of pitch, for 1 %% of stick. Tilt: of the plate, and the bearing of its low side, from the nose clockwise.")
	if c.Largest != nil {
		verdict := "tells them apart"
		if c.GaugeAlike {
			verdict = "does not tell them apart"
		}
		t.Note("Pitch differs most at stick %s, by %s; a gauge with steps of %s %s.", show.Percent(c.Largest.Stick), show.Signed(c.Largest.Pitch), show.Angle(c.Resolution), verdict)
	}
	t.Note("The gauge passes through 0° %s in 1, %s in 2.", sticks(c.A.ZeroPitch), sticks(c.B.ZeroPitch))
	p.limits(t)
	return t
}

// side is what a setup does at one position: pitch, gain and tilt.
func side(s *setup.ComparedSide) [3]string {
	if s.Unreachable != nil {
		return [3]string{"stopped", "-", "-"}
	}
	cells := [3]string{show.Signed(s.Gauge), "-", ""}
	if s.Slope != nil {
		cells[1] = fmt.Sprintf("%.3f°", s.Slope.Degrees())
	}
	tilt, low := show.Tilt(s.Tilt, s.LowSide)
	if cells[2] = tilt; low != "-" {
		cells[2] += " to " + low
	}
	return cells
}

func sticks(at []units.Ratio) string {
	if len(at) == 0 {
		return "nowhere"
	}
	var words []string
	for _, stick := range at {
		words = append(words, show.Percent(stick))
	}
	return "at stick " + strings.Join(words, " and ")
}

// limits notes where a setup clips a servo, leaves the gauge's scale or does not get to.
func (p *page) limits(t *show.Table) {
	for i, of := range []func(*setup.ComparedRow) *setup.ComparedSide{
		func(row *setup.ComparedRow) *setup.ComparedSide { return &row.A },
		func(row *setup.ComparedRow) *setup.ComparedSide { return &row.B },
	} {
		said := map[string]bool{"": true}
		for k := range p.compared.Rows {
			s, what := of(&p.compared.Rows[k]), ""
			switch {
			case s.Unreachable != nil:
				what = "does not get there: " + s.Unreachable.Cause
			case s.AtLimit != "":
				what = "clips servo " + s.AtLimit
			case s.OffScale:
				what = "is beyond the gauge's scale"
			}
			if !said[what] {
				t.Note("At stick %s, and perhaps at more, %d %s.", show.Percent(p.compared.Rows[k].Stick), i+1, what)
				said[what] = true
			}
		}
	}
}

// cyclic tells the two apart at full cyclic stick.
func (p *page) cyclic() *show.Table {
	t := &show.Table{Title: "What full cyclic adds at mid stick, over a turn of the rotor",
		Heads: []string{"<stick", "pitch 1", "pitch 2", "2 less 1", "lead 1", "lead 2", "apart"}}
	for _, full := range p.compared.Cyclic {
		cells := []string{full.Stick, "stopped", "stopped", "-", "-", "-", "-"}
		for i, added := range []setup.AddedCyclic{full.A, full.B} {
			switch {
			case added.Unreachable != nil:
				t.Note("%d does not get to full %s: %s.", i+1, full.Stick, added.Unreachable.Cause)
				continue
			case added.AtLimit != "":
				t.Note("%d clips servo %s at full %s.", i+1, added.AtLimit, full.Stick)
			}
			cells[1+i], cells[4+i] = show.Angle(added.Pitch), show.Signed(added.PhaseAngle)
		}
		if d := full.Difference; d != nil {
			cells[3], cells[6] = show.Signed(d.Pitch), show.Angle(d.Apart)
		}
		t.Add(cells...)
	}
	t.Note("Lead: how far the blade has yet to turn, when it has least pitch, to the side that the stick points to. Apart: the most that the two differ by anywhere in the turn.")
	if a, b := p.compared.A.Turn, p.compared.B.Turn; a != b {
		t.Note("Rotor 1 turns %v, rotor 2 %v: lead is counted the way that each turns.", a, b)
	}
	return t
}
