package main

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/choose"
)

// cloud is a plot of all combinations by resolution and one thing more.
type cloud struct {
	title, y             string
	level, tilting       plotter.XYs // of the front
	beaten, not, present plotter.XYs
	labelled             plotter.XYLabels
}

// Draw draws the cloud on c.
func (d *cloud) Draw(c draw.Canvas) error {
	const titleSize, textSize, keyHeight = 9, 8, 14
	plt := plot.New()
	plt.Title.Text, plt.Title.TextStyle.Font, plt.Title.Padding = d.title, show.Text(titleSize), 5
	plt.X.Label.Text, plt.Y.Label.Text = "blade pitch cannot be set finer than, degrees", d.y
	for _, axis := range []*plot.Axis{&plt.X, &plt.Y} {
		axis.Label.TextStyle.Font, axis.Tick.Label.Font = show.Text(textSize), show.Text(textSize)
	}
	key := plot.NewLegend()
	key.TextStyle.Font, key.Left, key.ThumbnailWidth = show.Text(textSize), true, 12
	x := vg.Length(24)
	grey := color.Gray{130}
	for _, s := range []struct {
		name   string
		points plotter.XYs
		style  draw.GlyphStyle
	}{
		{"does not suit", d.not, draw.GlyphStyle{Color: grey, Radius: 2.5, Shape: draw.CrossGlyph{}}},
		{"beaten", d.beaten, draw.GlyphStyle{Color: color.Black, Radius: 2.5, Shape: draw.RingGlyph{}}},
		{"as it is", d.present, draw.GlyphStyle{Color: color.RGBA{213, 94, 0, 255}, Radius: 4.5, Shape: draw.SquareGlyph{}}},
		{"best trade-off, tilting", d.tilting, draw.GlyphStyle{Color: show.Blue, Radius: 4, Shape: draw.TriangleGlyph{}}},
		{"best trade-off, level", d.level, draw.GlyphStyle{Color: show.Blue, Radius: 3, Shape: draw.CircleGlyph{}}},
	} {
		if len(s.points) == 0 {
			continue
		}
		marks := &plotter.Scatter{XYs: s.points, GlyphStyle: s.style}
		plt.Add(marks)
		entry := key
		entry.Add(s.name, marks)
		entry.Draw(draw.Crop(c, x, 0, 2, 0))
		x += entry.Rectangle(c).Size().X + 10
	}
	labels, err := plotter.NewLabels(d.labelled)
	if err != nil {
		return err
	}
	for i := range labels.TextStyle {
		labels.TextStyle[i].Font = show.Text(textSize)
	}
	labels.Offset = vg.Point{X: 4, Y: 3}
	plt.Add(labels)
	for _, axis := range []*plot.Axis{&plt.X, &plt.Y} {
		room := (axis.Max - axis.Min) / 16
		axis.Min, axis.Max = axis.Min-room, axis.Max+room
	}
	plt.Draw(draw.Crop(c, 0, -12, keyHeight, -3))
	return nil
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
	const width, height = 340, 280
	if !p.loaded() {
		tilt := &cloud{title: "Tilt under collective against resolution", y: "degrees"}
		tilt.add(p, func(r *choose.Result) float64 { return r.Tilt.Degrees() })
		return show.SVG(width, height, []string{show.Caution(works, p.machine)}, "All combinations by tilt of the plate and resolution; the table gives the figures of the best trade-offs.", tilt)
	}
	load := &cloud{title: "Servo load against resolution", y: "largest load, % of stall torque"}
	load.add(p, known(func(r *choose.Result) float64 { return r.Load.Percent() }))
	stroke := &cloud{title: "Stroke against resolution", y: "full collective stick, ms"}
	stroke.add(p, known(func(r *choose.Result) float64 { return r.Stroke.Milliseconds() }))
	return show.SVG(width, height, []string{show.Caution(works, p.machine)}, "All combinations by resolution, with servo load on the left and stroke on the right; the table gives the figures of the best trade-offs.", load, stroke)
}
