package main

import (
	"fmt"
	"io"

	"gonum.org/v1/plot/plotter"

	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// print writes the map as tables.
func (m *tiltMap) print(w io.Writer) {
	mode, leg := m.mode.Name(), m.rig.Servos()[m.leg].Name
	show.PrintCaution(w, sheet.WithBlades, m.rig.Machine())
	show.Print(w, "", "", fmt.Sprintf("%s, flight mode %q, cyclic stick centred.", m.rig.Name(), mode))
	if note := m.rig.Machine().Note; note != "" {
		show.Print(w, "", "", note)
	}
	fmt.Fprintln(w)
	what := "The rate moves all servos alike, so it leaves a level plate level. One servo's end points tilt the plate. That tilt is cyclic pitch that nobody asked for."
	if m.rig.Machine().Plate.BellCranks != nil {
		what = "On bell cranks each servo moves one control alone. Its end points change that control. They tilt the plate no more than the rate does."
	}
	show.Print(w, "", "", fmt.Sprintf("Set travel with the rates. The tables make the same change in two ways: to both end points of servo %s, and to the collective rate. ", leg)+what)
	show.Print(w, "", "", fmt.Sprintf("Tilt is the tilt of the swashplate. Low side is the direction of its low side. Height is the height of the swashplate. Gauge is the pitch of the blade at %s; + is leading edge up. "+
		"Directions count clockwise from the nose, so 90° is the right side and 180° the tail. The radio's pulse steps are left out.",
		show.Bearing(m.rig.Gauge().Bearing)))
	for i, by := range changes {
		fmt.Fprintln(w)
		m.table(i, by).Print(w)
	}
}

// result is the map for JSON.
func (m *tiltMap) result() results.Tilt {
	r := results.Tilt{About: results.Of(sheet.WithBlades, m.rig.Machine()), Mode: m.mode.Name(), Servo: m.rig.Servos()[m.leg].Name}
	for i, by := range changes {
		r.Changes = append(r.Changes, results.TiltChange{Factor: by, EndPoints: m.ends[i], Rate: m.rate[i]})
	}
	return r
}

func (m *tiltMap) table(i int, by units.Ratio) *show.Table {
	t := &show.Table{
		Title: fmt.Sprintf("End points or rate at %s of the present value", show.Percent(by)),
		Heads: []string{"stick", "| end points: tilt", "low side", "height", "gauge", "| rate: tilt", "low side", "height", "gauge"},
	}
	for k := 0; k <= steps; k += quarter {
		cells := []string{show.Percent(m.ends[i][k].Stick)}
		for _, row := range []setup.Row{m.ends[i][k], m.rate[i][k]} {
			tilt, low := show.Tilt(row.Tilt, row.LowSide)
			cells = append(cells, tilt, low, show.Length(row.Height), show.Signed(row.Gauge))
		}
		t.Add(cells...)
	}
	return t
}

// svg draws the tilt of both ways side by side, to one scale.
func (m *tiltMap) svg() (string, error) {
	leg := m.rig.Servos()[m.leg].Name
	ends := &show.Panel{Title: fmt.Sprintf("Tilt when the end points of servo %q are changed", leg), Y: "swashplate tilt", Unit: "degrees", Hi: m.rig.Limits().Tilt.Degrees()}
	rate := &show.Panel{Title: "Tilt when the collective rate of all servos is changed", Y: ends.Y, Unit: ends.Unit, Hi: ends.Hi}
	for i, by := range changes {
		name := show.Percent(by) + " of the present value"
		for _, p := range []struct {
			panel *show.Panel
			rows  []setup.Row
		}{{ends, m.ends[i]}, {rate, m.rate[i]}} {
			s := show.Series{Name: name, Line: tilts(p.rows)}
			// Marks one after another, where lines lie on each other.
			for k := quarter / len(changes) * i; k <= steps; k += quarter {
				s.Marks = append(s.Marks, s.Line[k])
			}
			last := p.rows[steps]
			if _, low := show.Tilt(last.Tilt, last.LowSide); low != "-" {
				s.Name += ", low side " + low + " at high stick"
				p.panel.Note = "Low side: 0° is the nose, 90° is the right side."
			}
			p.panel.Series = append(p.panel.Series, s)
			for _, point := range s.Line {
				ends.Hi, rate.Hi = max(ends.Hi, point.Y), max(rate.Hi, point.Y)
			}
		}
	}
	const width, height = 340, 200
	return show.Charts(width, height, []string{show.Caution(sheet.WithBlades, m.rig.Machine())}, "Tilt of the swashplate over the collective stick: on the left with one servo's end points changed, on the right with the collective rate changed.", ends, rate)
}

func tilts(rows []setup.Row) plotter.XYs {
	points := make(plotter.XYs, len(rows))
	for k, r := range rows {
		points[k] = plotter.XY{X: r.Stick.Percent(), Y: r.Tilt.Degrees()}
	}
	return points
}
