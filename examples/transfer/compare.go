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

// collective compares the two over the collective stick: the blade, and the rest.
func (p *page) collective() (t, rest *show.Table) {
	c := p.compared
	t = &show.Table{Title: "At the blade, over the collective stick, with the cyclic stick centred",
		Heads: []string{"stick", "pitch 1", "pitch 2", "change", "slope 1", "slope 2"}}
	rest = &show.Table{Title: "Swashplate and throttle, over the collective stick",
		Heads: []string{"stick", "tilt 1", "low side 1", "tilt 2", "low side 2", "throttle 1", "throttle 2"}}
	for _, row := range c.Rows {
		if math.Mod(row.Stick.Percent(), inTable) != 0 {
			continue
		}
		a, b := side(&row.A), side(&row.B)
		by := "-"
		if row.Pitch != nil {
			by = show.Signed(*row.Pitch)
		}
		t.Add(show.Percent(row.Stick), a[0], b[0], by, a[1], b[1])
		rest.Add(show.Percent(row.Stick), a[2], a[3], b[2], b[3], show.Percent(row.A.Throttle), show.Percent(row.B.Throttle))
	}
	t.Note("Pitch is what the gauge reads on each setup, after rounding to radio steps; + is leading edge up.")
	t.Note("Change is the pitch of setup 2 minus that of setup 1.")
	t.Note("Slope is how far the pitch moves for 1 %% of stick.")
	rest.Note("Tilt is how far the swashplate tilts. Low side is the direction in which the plate is lowest. Directions count clockwise from the nose, so 90° is the right side.")
	rest.Note("Throttle is the value of the throttle curve.")
	if c.Largest != nil {
		verdict := "shows the difference"
		if c.GaugeAlike {
			verdict = "does not show the difference"
		}
		t.Note("Pitch differs most at stick %s, by %s. A gauge with steps of %s %s.", show.Percent(c.Largest.Stick), show.Signed(c.Largest.Pitch), show.Angle(c.Resolution), verdict)
	}
	t.Note("The gauge reads 0° on setup 1 %s, and on setup 2 %s.", sticks(c.A.ZeroPitch), sticks(c.B.ZeroPitch))
	p.limits(t)
	return t, rest
}

// side is what a setup does at one position: pitch, slope, tilt and low side.
func side(s *setup.ComparedSide) [4]string {
	if s.Unreachable != nil {
		return [4]string{"cannot get there", "-", "-", "-"}
	}
	cells := [4]string{show.Signed(s.Gauge), "-"}
	if s.Slope != nil {
		cells[1] = fmt.Sprintf("%.3f°", s.Slope.Degrees())
	}
	cells[2], cells[3] = show.Tilt(s.Tilt, s.LowSide)
	return cells
}

func sticks(at []units.Ratio) string {
	if len(at) == 0 {
		return "at no stick position"
	}
	var words []string
	for _, stick := range at {
		words = append(words, show.Percent(stick))
	}
	return "at stick " + strings.Join(words, " and ")
}

// limits notes where a servo reaches its limit, where the gauge's scale ends, and where a
// setup cannot get.
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
				what = "cannot get there: " + s.Unreachable.Cause
			case s.AtLimit != "":
				what = "has servo " + s.AtLimit + " at its limit"
			case s.OffScale:
				what = "is beyond the gauge's scale"
			}
			if !said[what] {
				t.Note("At stick %s, and perhaps at more positions, setup %d %s.", show.Percent(p.compared.Rows[k].Stick), i+1, what)
				said[what] = true
			}
		}
	}
}

// cyclic compares the two at full cyclic stick.
func (p *page) cyclic() *show.Table {
	t := &show.Table{Title: "What full cyclic adds at mid stick, over a turn of the rotor",
		Heads: []string{"<stick", "pitch 1", "pitch 2", "change", "phase angle 1", "phase angle 2", "apart"}}
	for _, full := range p.compared.Cyclic {
		cells := []string{full.Stick, "cannot get there", "cannot get there", "-", "-", "-", "-"}
		for i, added := range []setup.AddedCyclic{full.A, full.B} {
			switch {
			case added.Unreachable != nil:
				t.Note("Setup %d cannot get to full %s: %s.", i+1, full.Stick, added.Unreachable.Cause)
				continue
			case added.AtLimit != "":
				t.Note("Setup %d has servo %s at its limit at full %s.", i+1, added.AtLimit, full.Stick)
			}
			cells[1+i], cells[4+i] = show.Angle(added.Pitch), show.Signed(added.PhaseAngle)
		}
		if d := full.Difference; d != nil {
			cells[3], cells[6] = show.Signed(d.Pitch), show.Angle(d.Apart)
		}
		t.Add(cells...)
	}
	t.Note("Pitch is the largest cyclic pitch that full stick adds on each setup. Change is that of setup 2 minus that of setup 1.")
	t.Note("Phase angle is how far before the stick's side the blade has its least pitch.")
	t.Note("Apart is the largest difference between the two during one turn of the rotor.")
	if a, b := p.compared.A.Rotation, p.compared.B.Rotation; a != b {
		t.Note("The rotor of setup 1 turns %v, that of setup 2 %v. Phase angle and apart count the way each rotor turns.", a, b)
	}
	return t
}
