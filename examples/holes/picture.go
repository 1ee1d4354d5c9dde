package main

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/units"
)

// cloud is a chart of all combinations by resolution and one thing
// more.
type cloud struct {
	title, y             string
	level, tilting       plotter.XYs // of the best trade-offs
	beaten, not, present plotter.XYs
	labelled             plotter.XYLabels
}

// Chart returns the cloud as a chart.
func (d *cloud) Chart() (*show.Chart, error) {
	c := show.NewChart(d.title, "resolution: smallest change of blade pitch, degrees", d.y)
	grey := color.Gray{110}
	for _, s := range []struct {
		name   string
		points plotter.XYs
		style  draw.GlyphStyle
	}{
		{"does not meet the limits", d.not, draw.GlyphStyle{Color: grey, Radius: 2.5, Shape: draw.CrossGlyph{}}},
		{"another is as good or better on every point", d.beaten, draw.GlyphStyle{Color: color.Black, Radius: 2.5, Shape: draw.RingGlyph{}}},
		{"machine as it is", d.present, draw.GlyphStyle{Color: color.RGBA{213, 94, 0, 255}, Radius: 4.5, Shape: draw.SquareGlyph{}}},
		{"best trade-off, swashplate tilts under collective", d.tilting, draw.GlyphStyle{Color: show.Blue, Radius: 4, Shape: draw.TriangleGlyph{}}},
		{"best trade-off, swashplate stays level", d.level, draw.GlyphStyle{Color: show.Blue, Radius: 3, Shape: draw.CircleGlyph{}}},
	} {
		if len(s.points) == 0 {
			continue
		}
		marks := &plotter.Scatter{XYs: s.points, GlyphStyle: s.style}
		c.Add(marks)
		c.Explain(s.name, marks)
	}
	if len(d.labelled.Labels) > 0 {
		c.Explain("Numbers are those of the table.")
	}
	c.Add(d)
	for _, axis := range []*plot.Axis{&c.X, &c.Y} {
		room := (axis.Max - axis.Min) / 16
		axis.Min, axis.Max = axis.Min-room, axis.Max+room
		show.Scale(axis)
	}
	return c, nil
}

// Plot writes the labels beside their points, clear of all others.
func (d *cloud) Plot(c draw.Canvas, plt *plot.Plot) {
	x, y := plt.Transforms(&c)
	at := func(p plotter.XY) vg.Point { return vg.Point{X: x(p.X), Y: y(p.Y)} }
	ground := show.Ground{Canvas: c}
	for _, p := range slices.Concat(d.level, d.tilting, d.beaten, d.not, d.present) {
		const half = 3
		ground.TakeAbout(at(p), half)
	}
	for i, label := range d.labelled.Labels {
		const clear = 9
		p := at(d.labelled.XYs[i])
		ground.WriteNear(show.TextSize, p, 45*units.Degree, clear, func(units.Angle) vg.Point { return p }, label)
	}
}

// crowd is how many members of a front all have a label; of more, the best at something.
const crowd = 15

// add puts all results into the cloud, their heights told by y. Where that is NaN they are
// left out.
func (d *cloud) add(p *page, y func(*choose.Result) float64) {
	at := func(r *choose.Result) plotter.XY { return plotter.XY{X: r.Resolution().Degrees(), Y: y(r)} }
	on := map[int]bool{}
	for i, m := range p.Front {
		r := &p.Results[m.Index]
		to := &d.level
		if choose.Tilt.Of(&r.Measures) != 0 {
			to = &d.tilting
		}
		*to = append(*to, at(r))
		if len(p.Front) <= crowd || len(m.Best) > 0 {
			d.labelled.XYs, d.labelled.Labels = append(d.labelled.XYs, at(r)), append(d.labelled.Labels, fmt.Sprint(i+1))
		}
		on[m.Index] = true
	}
	for i := range p.Results {
		switch r := &p.Results[i]; {
		case on[i] || r.Resolution() == 0 || math.IsNaN(y(r)):
		case len(r.Unfit) == 0:
			d.beaten = append(d.beaten, at(r))
		default:
			d.not = append(d.not, at(r))
		}
	}
	if p.Present.Resolution() != 0 && !math.IsNaN(y(&p.Present)) {
		d.present = plotter.XYs{at(&p.Present)}
	}
}

// known is y, and NaN of a result that stopped before its loads were worked out.
func known(y func(*choose.Result) float64) func(*choose.Result) float64 {
	return func(r *choose.Result) float64 {
		if !r.Loaded {
			return math.NaN()
		}
		return y(r)
	}
}

// svg draws load and stroke over resolution, or tilt where loads are not known.
func (p *page) svg() (string, error) {
	const width, height = 340, 230
	warnings := []string{show.Caution(works, p.machine)}
	if !p.loaded() {
		tilt := &cloud{title: "Swashplate tilt and resolution of each combination: lower left is better", y: "swashplate tilt under collective, degrees"}
		tilt.add(p, func(r *choose.Result) float64 { return r.Tilt.Degrees() })
		return show.Charts(width, height, warnings, "All combinations by tilt of the swashplate and resolution. The table gives the figures of the best trade-offs.", tilt)
	}
	load := &cloud{title: "Servo load and resolution of each combination: lower left is better", y: "largest servo load, % of stall torque"}
	load.add(p, known(func(r *choose.Result) float64 { return r.Load.Percent() }))
	stroke := &cloud{title: "Stroke and resolution of each combination: lower left is better", y: "stroke: time for full collective, ms"}
	stroke.add(p, known(func(r *choose.Result) float64 { return r.Stroke.Milliseconds() }))
	return show.Charts(width, height, warnings, "All combinations by resolution, with servo load on the left and stroke on the right. The table gives the figures of the best trade-offs.", load, stroke)
}
