package show

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Series is one curve of a panel, and the points on it that are marked.
type Series struct {
	Name  string
	Line  plotter.XYs // broken where Y is NaN
	Marks plotter.XYs // left out where Y is NaN
	Band  []float64   // half the height of a hatched band about each point of Line; nil is none
	Bars  []float64   // half the height of a bar through each of Marks; nil is none
	Bare  bool        // the band stands without its line
}

// Panel is a plot over the collective stick, 0 to 100.
type Panel struct {
	Title   string  // says what to see
	Y, Unit string  // what the upright axis shows
	Lo, Hi  float64 // of that axis; widened to take the series in
	Limit   float64 // drawn as a thin line where it is not zero
	Whose   string  // the limit is: "our limit"; "limit" where it is left out
	Note    string  // at the end of the key
	Series  []Series
}

// Blue is the first colour of the palette.
var Blue = color.RGBA{0, 114, 178, 255}

// Dark colours of the palette for all kinds of colour vision by M. Okabe and K.
// Ito, Color Universal Design (2002, 2008).
var colours = []color.Color{
	Blue,
	color.RGBA{213, 94, 0, 255},    // vermilion
	color.Black,                    // black
	color.RGBA{0, 158, 115, 255},   // bluish green
	color.RGBA{204, 121, 167, 255}, // reddish purple
}

// Dashes and shapes tell series apart without colour. Their numbers have no
// common factor with the colours', so that many series differ.
var (
	dashes = [][]vg.Length{nil, {6, 3}, {1.5, 2.5}, {8, 2, 1.5, 2}}
	shapes = []draw.GlyphDrawer{draw.CircleGlyph{}, draw.BoxGlyph{}, draw.TriangleGlyph{}, draw.CrossGlyph{}, draw.RingGlyph{}, draw.SquareGlyph{}, draw.PlusGlyph{}}
	grey   = color.Gray{110}
	pale   = color.Gray{215}
)

// Chart returns the panel as a chart.
func (p *Panel) Chart() (*Chart, error) {
	c := NewChart(p.Title, "collective stick, %", p.Y+", "+p.Unit)
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = -past, 100+past, p.Lo, p.Hi
	c.X.Tick.Marker = plot.ConstantTicks{{Value: 0, Label: "0"}, {Value: 25, Label: "25"}, {Value: 50, Label: "50"}, {Value: 75, Label: "75"}, {Value: 100, Label: "100"}}
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = pale, pale
	c.Add(grid)
	if p.Limit != 0 {
		limit := &plotter.Line{XYs: plotter.XYs{{X: 0, Y: p.Limit}, {X: 100, Y: p.Limit}}, LineStyle: draw.LineStyle{Color: grey, Width: 0.7}}
		c.Add(limit)
		c.Explain(fmt.Sprintf("%s: %.3g %s", cmp.Or(p.Whose, "limit"), p.Limit, p.Unit), limit)
	}
	for i, s := range p.Series {
		colour := colours[i%len(colours)]
		// The first lines are the widest, so that one under another shows.
		style := draw.LineStyle{Color: colour, Dashes: dashes[i%len(dashes)], Width: vg.Length(max(1.2, 2.4-0.5*float64(i)))}
		var signs []plot.Thumbnailer
		if s.Band != nil {
			b := s.band(colour, slopes[i%len(slopes)])
			c.Add(b)
			signs = append(signs, b)
		}
		if s.Bars != nil {
			c.Add(s.bars(colour))
		}
		line := runs(s.Line)
		if s.Bare {
			line = nil
		}
		for _, run := range line {
			c.Add(&plotter.Line{XYs: run, LineStyle: style})
		}
		marks := &plotter.Scatter{XYs: slices.Concat(runs(s.Marks)...),
			GlyphStyle: draw.GlyphStyle{Color: colour, Radius: 2.8, Shape: shapes[i%len(shapes)]}}
		c.Add(marks)
		if len(line) > 0 {
			signs = append(signs, &plotter.Line{LineStyle: style})
		}
		if len(s.Marks) > 0 {
			signs = append(signs, marks)
		}
		c.Explain(s.Name, signs...)
	}
	if p.Note != "" {
		c.Explain(p.Note)
	}
	Scale(&c.Y)
	return c, nil
}

// band is what lies about the line of a series.
func (s *Series) band(colour color.Color, slope float64) *band {
	b := &band{colour: colour, slope: slope}
	for i, p := range s.Line {
		b.low, b.high = append(b.low, plotter.XY{X: p.X, Y: p.Y - s.Band[i]}), append(b.high, plotter.XY{X: p.X, Y: p.Y + s.Band[i]})
	}
	return b
}

// bars are those through the marks of a series.
func (s *Series) bars(colour color.Color) *plotter.YErrorBars {
	bars := &plotter.YErrorBars{XYs: s.Marks, YErrors: make(plotter.YErrors, len(s.Bars)),
		LineStyle: draw.LineStyle{Color: colour, Width: 1}, CapWidth: 6}
	for i, half := range s.Bars {
		bars.YErrors[i].Low, bars.YErrors[i].High = half, half
	}
	return bars
}

// runs returns the runs of points between those whose Y is NaN.
func runs(points plotter.XYs) []plotter.XYs {
	var runs []plotter.XYs
	broken := true
	for _, p := range points {
		switch last := len(runs) - 1; {
		case math.IsNaN(p.Y):
			broken = true
		case broken:
			runs, broken = append(runs, plotter.XYs{p}), false
		default:
			runs[last] = append(runs[last], p)
		}
	}
	return runs
}

// Scale sets an axis to whole steps of 1, 2 or 5 times a power of ten, at most
// six of them, that take in its range and have a label each.
func Scale(axis *plot.Axis) {
	span := axis.Max - axis.Min
	if !(span > flat) {
		span = 1
	}
	step := math.Pow(10, math.Floor(math.Log10(span/6)))
	for _, k := range []float64{2, 2.5, 2} { // 1, 2, 5, 10
		if span/step > 6 {
			step *= k
		}
	}
	var ticks plot.ConstantTicks
	first, last := math.Floor(axis.Min/step+slack), math.Ceil(axis.Max/step-slack)
	for i := first; i <= last; i++ {
		ticks = append(ticks, plot.Tick{Value: i * step, Label: strconv.FormatFloat(i*step, 'g', 4, 64)})
	}
	axis.Min, axis.Max, axis.Tick.Marker = first*step, last*step, ticks
	if last > first {
		axis.Min, axis.Max = axis.Min-past*step, axis.Max+past*step
	}
}

// flat is the range of an axis below which all of it is rounding.
const flat = 1e-9

// past is the part of a step by which an axis runs past its first and last marks, so that
// these are on it whichever way a machine rounds.
const past = 1e-9

// slack is the part of a step by which an axis may pass its last one, so that
// rounding does not add a step.
const slack = 0.02
