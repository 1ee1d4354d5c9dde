package main

import (
	"html/template"
	"math"
	"slices"

	"gonum.org/v1/plot/plotter"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
)

// The sizes of the pictures, in points.
const (
	pictureWidth = 262
	plotHeight   = 95
	planHeight   = 156
)

// panels are gauge, tilt and throttle over the stick.
func panels(rig *setup.Rig, s *sheet.Sheet) (gauge, tiltPanel, throttle *show.Panel) {
	tilt := rig.Limits().Tilt.Degrees()
	gauge = &show.Panel{Title: "What the pitch gauge should read", Y: "blade pitch", Unit: "degrees"}
	tiltPanel = &show.Panel{Title: "Collective alone must not tilt the swashplate",
		Y: "swashplate tilt", Unit: "degrees", Hi: 1.2 * tilt, Limit: tilt}
	if rig.Limits().Tilt == machine.DefaultLimits().Tilt {
		tiltPanel.Whose = "our limit"
	}
	throttle = &show.Panel{Title: "What the throttle does in each mode", Y: "throttle", Unit: "%", Hi: 100}
	for _, m := range rig.Modes() {
		shown := slices.IndexFunc(s.Modes, func(o sheet.Mode) bool { return o.Name == m.Name() })
		if shown < 0 || !m.Works() {
			continue
		}
		rows := sweep(m)
		marks := s.Modes[shown].Rows
		for _, p := range []struct {
			panel *show.Panel
			of    func(setup.Row) float64
		}{
			{gauge, reached(func(r setup.Row) float64 { return r.Gauge.Degrees() })},
			{tiltPanel, reached(func(r setup.Row) float64 { return r.Tilt.Degrees() })},
			{throttle, func(r setup.Row) float64 { return r.Throttle.Percent() }},
		} {
			p.panel.Series = append(p.panel.Series, show.Series{Name: m.Name(), Line: curve(rows, p.of), Marks: curve(marks, p.of)})
		}
	}
	return gauge, tiltPanel, throttle
}

// svg draws the curves of the page in one picture.
func svg(rig *setup.Rig, s *sheet.Sheet) (string, error) {
	const width, height = 340, 200
	gauge, tilt, throttle := panels(rig, s)
	return show.Charts(width, height, []string{show.Caution(sheet.WithBlades|sheet.WithoutBlades, rig.Machine())},
		"Curves of the gauge reading, of the swashplate's tilt and of throttle over the collective stick, one for each flight mode. The tables give the figures.", gauge, tilt, throttle)
}

// pictures draws what the page shows: gauge, tilt and throttle over the stick,
// and the plate from above.
func pictures(rig *setup.Rig, s *sheet.Sheet) ([]template.HTML, error) {
	gauge, tiltPanel, throttle := panels(rig, s)
	caution := func(work sheet.Work) []string { return []string{show.Caution(work, rig.Machine())} }
	var svgs []template.HTML
	for _, p := range []struct {
		panel *show.Panel
		work  sheet.Work
		text  string
	}{
		{gauge, sheet.WithBlades, "Curves of the gauge reading over the collective stick, one for each flight mode. The tables give the figures."},
		{tiltPanel, sheet.WithBlades, "Curves of the swashplate's tilt over the collective stick, one for each flight mode, with the limit. The tables give the figures."},
		{throttle, sheet.WithoutBlades, "Curves of throttle over the collective stick, one for each flight mode. The tables give the figures."},
	} {
		svg, err := show.Charts(pictureWidth, plotHeight, caution(p.work), p.text, p.panel)
		if err != nil {
			return nil, err
		}
		svgs = append(svgs, template.HTML(svg)) // escaped by show.SVG and gonum/plot
	}
	svg, err := show.SVG(pictureWidth, planHeight, caution(sheet.WithoutBlades), "The swashplate seen from above, nose up, with its balls, servo arms and anti-rotation guide.", &plan{rig})
	return append(svgs, template.HTML(svg)), err
}

// sweep works out a mode at closely spaced positions of the collective stick.
func sweep(m setup.Setup) []setup.Row {
	const steps = 100
	rows := make([]setup.Row, steps+1)
	for i := range rows {
		rows[i] = m.RowOrStop(float64(i) / steps)
	}
	return rows
}

// reached leaves out what the machine cannot reach.
func reached(of func(setup.Row) float64) func(setup.Row) float64 {
	return func(r setup.Row) float64 {
		if r.Unreachable != "" {
			return math.NaN()
		}
		return of(r)
	}
}

// curve returns one figure of the rows over the stick in per cent.
func curve(rows []setup.Row, of func(setup.Row) float64) plotter.XYs {
	points := make(plotter.XYs, len(rows))
	for i, r := range rows {
		points[i] = plotter.XY{X: r.Stick.Percent(), Y: of(r)}
	}
	return points
}
