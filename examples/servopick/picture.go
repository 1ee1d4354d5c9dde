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
)

// bars is a plot with one bar for each servo.
type bars struct {
	title, y string
	names    []string
	heights  plotter.Values
	limit    float64 // drawn as a line across where it is not zero
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
	plt.Add(chart)
	if b.limit != 0 {
		last := float64(len(b.names)) - 0.5
		plt.Add(&plotter.Line{
			XYs:       plotter.XYs{{X: -0.5, Y: b.limit}, {X: last, Y: b.limit}},
			LineStyle: draw.LineStyle{Color: color.Black, Width: 1.5, Dashes: []vg.Length{6, 3}},
		})
	}
	plt.NominalX(b.names...)
	plt.Draw(draw.Crop(c, 0, -6, 0, -3))
	return nil
}

// svg draws the load against the stall torques on the left, and the pitch that is
// lost on the right.
func (c *comparison) svg() (string, error) {
	left := &bars{title: fmt.Sprintf("Stall torque at %v; the dashed line is the largest load", c.voltage), y: "kgf·cm", limit: c.largest().Peak.KilogramForceCentimetres()}
	right := &bars{title: "Blade pitch lost under the mean load at high stick", y: "degrees"}
	for i := range c.results {
		r := &c.results[i]
		name := strings.ReplaceAll(r.name, " ", "\n")
		if r.unrated != nil {
			name += fmt.Sprintf("\n(at %v)", r.at.Voltage)
		}
		left.names, left.heights = append(left.names, name), append(left.heights, r.at.Stall.KilogramForceCentimetres())
		if r.stalled != nil {
			name += "\nSTALLS"
		}
		// What the load drops altogether has no bar.
		right.names, right.heights = append(right.names, name), append(right.heights, math.Abs(r.lost.Blade.Degrees()))
	}
	const width, height = 320, 240
	return show.SVG(width, height, "Stall torque of each servo and the largest load on the left, blade pitch lost under the mean load on the right. The table gives the figures.", left, right)
}
