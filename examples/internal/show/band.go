package show

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// band is what lies between two curves, hatched. Two of them on one another stay two, in
// print without colour too, as each has a slope of its own.
type band struct {
	low, high plotter.XYs
	colour    color.Color
	slope     float64 // of the strokes, in radians
}

// slopes of the bands of a panel, one after another.
var slopes = []float64{math.Pi / 4, -math.Pi / 4, math.Pi / 2, 0}

// The strokes of a band, in points.
const (
	strokeWidth = 0.5
	strokeApart = 5
	strokeFirst = 1.3 // an odd distance, so that no stroke meets a corner
)

// DataRange returns the range that the band takes.
func (b *band) DataRange() (xmin, xmax, ymin, ymax float64) {
	return plotter.XYRange(slices.Concat(b.low, b.high))
}

// Plot draws the band.
func (b *band) Plot(c draw.Canvas, plt *plot.Plot) {
	x, y := plt.Transforms(&c)
	on := func(points plotter.XYs) []vg.Point {
		var all []vg.Point
		for _, p := range points {
			all = append(all, vg.Point{X: x(p.X), Y: y(p.Y)})
		}
		return all
	}
	b.draw(c, on(b.low), on(b.high))
}

// Thumbnail draws a piece of the band for a key.
func (b *band) Thumbnail(c *draw.Canvas) {
	b.draw(*c, []vg.Point{c.Min, {X: c.Max.X, Y: c.Min.Y}}, []vg.Point{{X: c.Min.X, Y: c.Max.Y}, c.Max})
}

// draw draws the edges of the band and the strokes between them.
func (b *band) draw(c draw.Canvas, low, high []vg.Point) {
	style := draw.LineStyle{Color: b.colour, Width: strokeWidth}
	c.StrokeLines(style, low, high)
	back := slices.Clone(high)
	slices.Reverse(back)
	around := slices.Concat(low, back)
	sin, cos := math.Sincos(b.slope)
	// Along and across are a point's distances from the origin in the strokes' own frame.
	along := func(p vg.Point) float64 { return float64(p.X)*cos + float64(p.Y)*sin }
	across := func(p vg.Point) float64 { return float64(p.Y)*cos - float64(p.X)*sin }
	first, last := math.Inf(1), math.Inf(-1)
	for _, p := range around {
		first, last = min(first, across(p)), max(last, across(p))
	}
	for v := first + strokeFirst; v < last; v += strokeApart {
		var cuts []float64
		for i, p := range around {
			q := around[(i+1)%len(around)]
			if (across(p) < v) != (across(q) < v) {
				part := (v - across(p)) / (across(q) - across(p))
				cuts = append(cuts, along(p)+part*(along(q)-along(p)))
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			at := func(u float64) vg.Point { return vg.Point{X: vg.Length(u*cos - v*sin), Y: vg.Length(u*sin + v*cos)} }
			c.StrokeLines(style, []vg.Point{at(cuts[i]), at(cuts[i+1])})
		}
	}
}
