package main

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// bars is a chart with one bar for each kind of servo.
type bars struct {
	title, y string
	names    []string
	heights  plotter.Values
	limit    float64 // drawn as a line across
	whose    string  // the limit is
}

// The sizes of the charts, in points, without their titles and keys.
const width, height = 370, 230

// Chart returns the bars as a chart.
func (b *bars) Chart() (*show.Chart, error) {
	const (
		wide = 24
		room = width - 70 // for all names
	)
	c := show.NewChart(b.title, "servo", b.y)
	c.Y.Min = 0
	chart, err := plotter.NewBarChart(b.heights, wide)
	if err != nil {
		return nil, err
	}
	chart.Color, chart.LineStyle.Width = show.Blue, 0
	last := float64(len(b.names)) - 0.5
	limit := &plotter.Line{
		XYs:       plotter.XYs{{X: -0.5, Y: b.limit}, {X: last, Y: b.limit}},
		LineStyle: draw.LineStyle{Color: color.Black, Width: 1.5, Dashes: []vg.Length{6, 3}},
	}
	c.Add(chart, limit)
	c.Explain(fmt.Sprintf("%s limit: %.3g %% of stall torque", b.whose, b.limit), limit)
	names := make([]string, len(b.names))
	for i, name := range b.names {
		names[i] = strings.Join(show.Fold(show.Words(show.TextSize), name, room/vg.Length(len(names))), "\n")
	}
	c.NominalX(names...)
	show.Scale(&c.Y)
	return c, nil
}

// svg draws the load of each kind of servo against its stall torque, and beside it the
// pitch that those within the load limit lose over the collective stick.
func (c *comparison) svg() (string, error) {
	left := &bars{
		title: fmt.Sprintf("Largest load on each servo at %v: must stay under the limit", c.voltage),
		y:     "load, % of stall torque",
		limit: c.rig.Limits().ServoLoad.Percent(),
		whose: "the",
	}
	if c.rig.Limits().ServoLoad == machine.DefaultLimits().ServoLoad {
		left.whose = "our"
	}
	right := &show.Panel{Title: fmt.Sprintf("Pitch lost under load at %.0f rpm by servos within the load limit: less is better", c.turning.Spin.At.Speed.RPM()), Y: "pitch lost", Unit: "degrees"}
	for i := range c.results {
		r := &c.results[i]
		name := r.name
		if beyond := unrated(r.Performance); beyond != nil {
			name += fmt.Sprintf(" (at\u00a0%s)", strings.ReplaceAll(hardest(r.Performance).At.Voltage.String(), " ", "\u00a0"))
		}
		left.names, left.heights = append(left.names, name), append(left.heights, hardest(r.Performance).Load.Percent())
		if hardest(r.Performance).Load <= c.rig.Limits().ServoLoad {
			right.Series = append(right.Series, c.lost(r))
		}
	}
	return show.Charts(width, height, []string{show.Caution(sheet.WithoutBlades, c.rig.Machine())}, "Load of each servo in parts of its stall torque on the left, blade pitch that those within the load limit lose over the collective stick on the right. The tables give the figures.", left, right)
}

// lost is the amount of pitch that servos lose over the stick, broken where they stall. It
// passes by the stick where the blade loads nothing: there it is anywhere in the deadband.
func (c *comparison) lost(r *result) show.Series {
	const atMarks = 25 // one point of so many is marked
	s := show.Series{Name: r.name}
	for percent := range 101 {
		stick := units.Ratio(percent) * units.Percent
		y := math.NaN()
		if give, err := c.turning.LostAt(stick, r.ratings, c.voltage); err == nil {
			y = math.Abs(give.Blade.Degrees())
		}
		const nothing = 1e-9 // degrees
		if y < nothing {
			continue
		}
		p := plotter.XY{X: stick.Percent(), Y: y}
		s.Line = append(s.Line, p)
		if percent%atMarks == 0 {
			s.Marks = append(s.Marks, p)
		}
	}
	return s
}
