package main

import (
	"fmt"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// bars is a plot with one bar for each kind of servo.
type bars struct {
	title, y string
	names    []string
	heights  plotter.Values
	limit    float64 // drawn as a line across
}

// Draw draws the bars on c.
func (b *bars) Draw(c draw.Canvas) error {
	const (
		titleSize, textSize = 9, 8
		width               = 24
	)
	plt := plot.New()
	plt.Title.Text, plt.Title.TextStyle.Font, plt.Title.Padding = b.title, show.Text(titleSize), 5
	plt.Y.Label.Text, plt.Y.Min = b.y, 0
	for _, axis := range []*plot.Axis{&plt.X, &plt.Y} {
		axis.Label.TextStyle.Font, axis.Tick.Label.Font = show.Text(textSize), show.Text(textSize)
	}
	chart, err := plotter.NewBarChart(b.heights, width)
	if err != nil {
		return err
	}
	chart.Color, chart.LineStyle.Width = show.Blue, 0
	last := float64(len(b.names)) - 0.5
	plt.Add(chart, &plotter.Line{
		XYs:       plotter.XYs{{X: -0.5, Y: b.limit}, {X: last, Y: b.limit}},
		LineStyle: draw.LineStyle{Color: color.Black, Width: 1.5, Dashes: []vg.Length{6, 3}},
	})
	plt.NominalX(b.names...)
	show.Scale(&plt.Y)
	plt.Draw(draw.Crop(c, 0, -6, 0, -3))
	return nil
}

// svg draws the load of each kind of servo against its stall torque, and beside it the
// pitch that those within the load limit lose over the collective stick.
func (c *comparison) svg() (string, error) {
	whose := "the"
	if c.rig.Limits.ServoLoad == setup.DefaultLimits().ServoLoad {
		whose = "our"
	}
	left := &bars{
		title: fmt.Sprintf("Largest load at %v, in %% of stall; the dashed line is %s limit", c.voltage, whose),
		y:     "%",
		limit: c.rig.Limits.ServoLoad.Percent(),
	}
	right := &show.Panel{Title: fmt.Sprintf("Blade pitch lost by servos within the load limit, at %.0f rpm", c.spin.At.Speed.RPM()), Y: "degrees", KeyRows: 3}
	for i := range c.results {
		r := &c.results[i]
		name := strings.ReplaceAll(r.name, " ", "\n")
		if beyond := unrated(r.Performance); beyond != nil {
			name += fmt.Sprintf("\n(at %v)", hardest(r.Performance).At.Voltage)
		}
		left.names, left.heights = append(left.names, name), append(left.heights, hardest(r.Performance).Load.Percent())
		if hardest(r.Performance).Load <= c.rig.Limits.ServoLoad {
			right.Series = append(right.Series, c.lost(r))
		}
	}
	const width, height = 370, 300
	return show.SVG(width, height, []string{show.Caution(setup.WithoutBlades, c.rig.Machine)}, "Load of each servo in parts of its stall torque on the left, blade pitch that those within the load limit lose over the collective stick on the right. The tables give the figures.", left, right)
}

// lost is the amount of pitch that servos lose over the stick, broken where they stall.
func (c *comparison) lost(r *result) show.Series {
	const atMarks = 25 // one point of so many is marked
	s := show.Series{Name: r.name}
	for percent := range 101 {
		stick := units.Ratio(percent) * units.Percent
		y := math.NaN()
		if give, err := c.rig.LostAt(c.mode, stick, &c.spin, r.ratings, c.voltage); err == nil {
			y = math.Abs(give.Blade.Degrees())
		}
		s.Line = append(s.Line, plotter.XY{X: stick.Percent(), Y: y})
		if percent%atMarks == 0 {
			s.Marks = append(s.Marks, s.Line[percent])
		}
	}
	return s
}
