package main

import (
	"fmt"
	"image/color"
	"strconv"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// bars is a chart of the joints of one machine that give most play alone: two bars for each
// joint, under its number in the key.
type bars struct {
	title  string
	joints []contributor
	most   units.Angle // up to where the upright axis goes
}

// The sizes of the charts, in points, without their titles and keys.
const width, height = 370, 200

// Chart returns the bars as a chart.
func (b *bars) Chart() (*show.Chart, error) {
	const wide = 14
	c := show.NewChart(b.title, "joint", "play, degrees")
	c.Y.Min, c.Y.Max = 0, b.most.Degrees()
	for _, bar := range []struct {
		name   string
		colour color.Color
		left   vg.Length
		of     func(contributor) units.Angle
	}{
		{"play of the blade's pitch", show.Blue, -wide / 2, func(c contributor) units.Angle { return c.play.Blade }},
		{"play of the swashplate's tilt", color.White, wide / 2, func(c contributor) units.Angle { return c.play.Tilt }},
	} {
		var heights plotter.Values
		for _, joint := range b.joints {
			heights = append(heights, bar.of(joint).Degrees())
		}
		if heights == nil {
			heights = plotter.Values{0} // no joint has play
		}
		chart, err := plotter.NewBarChart(heights, wide)
		if err != nil {
			return nil, err
		}
		chart.Color, chart.Offset = bar.colour, bar.left
		chart.LineStyle = draw.LineStyle{Color: color.Black, Width: 0.7}
		c.Add(chart)
		c.Explain(bar.name, chart)
	}
	var numbers []string
	for i, joint := range b.joints {
		numbers = append(numbers, strconv.Itoa(i+1))
		c.Explain(fmt.Sprintf("%d: %s", i+1, joint.name))
	}
	c.NominalX(numbers...)
	show.Scale(&c.Y)
	return c, nil
}

// svg draws the joints of both machines that give most play alone, to one scale.
func svg(a, b *played) (string, error) {
	left := &bars{title: "A: the joints that give most play, each alone", joints: a.largest(shown)}
	right := &bars{title: "B: the joints that give most play, each alone", joints: b.largest(shown)}
	for _, joints := range [][]contributor{left.joints, right.joints} {
		for _, joint := range joints {
			left.most = max(left.most, joint.most())
		}
	}
	right.most = left.most
	return show.Charts(width, height, []string{show.Caution(sheet.WithBlades, a.rig.Machine(), b.rig.Machine())},
		"How far the blade and the swashplate of two machines can be moved because of single joints, with the largest first. The tables give the figures.", left, right)
}
