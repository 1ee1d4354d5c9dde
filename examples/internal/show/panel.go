package show

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Series is one curve of a panel, and the points on it that are marked.
type Series struct {
	Name  string
	Line  plotter.XYs // broken where Y is NaN
	Marks plotter.XYs // left out where Y is NaN
	Band  []float64   // half the height of a band about each point of Line; nil is none
	Bars  []float64   // half the height of a bar through each of Marks; nil is none
}

// Panel is a plot over the collective stick, 0 to 100.
type Panel struct {
	Title   string
	Y       string  // label of the y axis
	Lo, Hi  float64 // of the y axis; widened to take the series in
	Limit   float64 // drawn as a thin line where it is not zero
	Whose   string  // the limit is: "our limit"; "limit" where it is left out
	KeyRows int     // kept for the key at least, so that neighbours have plots of one height
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

// Text is the face and size of the pictures' text.
func Text(size vg.Length) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
}

const (
	titleSize = 9
	textSize  = 8
)

// Draw draws the panel on c, its key under it.
func (p *Panel) Draw(c draw.Canvas) error {
	plt := plot.New()
	plt.Title.Text, plt.Title.TextStyle.Font, plt.Title.Padding = p.Title, Text(titleSize), 5
	plt.X.Label.Text, plt.Y.Label.Text = "collective stick, %", p.Y
	plt.X.Min, plt.X.Max, plt.Y.Min, plt.Y.Max = -past, 100+past, p.Lo, p.Hi
	plt.X.Tick.Marker = plot.ConstantTicks{{Value: 0, Label: "0"}, {Value: 25, Label: "25"}, {Value: 50, Label: "50"}, {Value: 75, Label: "75"}, {Value: 100, Label: "100"}}
	for _, axis := range []*plot.Axis{&plt.X, &plt.Y} {
		axis.Label.TextStyle.Font, axis.Tick.Label.Font = Text(textSize), Text(textSize)
		axis.Label.Padding = 2
	}
	var key key
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = pale, pale
	plt.Add(grid)
	if p.Limit != 0 {
		limit := &plotter.Line{XYs: plotter.XYs{{X: 0, Y: p.Limit}, {X: 100, Y: p.Limit}}, LineStyle: draw.LineStyle{Color: grey, Width: 0.7}}
		plt.Add(limit)
		key.add(fmt.Sprintf("%s, %.3g", cmp.Or(p.Whose, "limit"), p.Limit), limit)
	}
	for i, s := range p.Series {
		colour := colours[i%len(colours)]
		// The first lines are the widest, so that one under another shows.
		style := draw.LineStyle{Color: colour, Dashes: dashes[i%len(dashes)], Width: vg.Length(max(1.2, 2.4-0.5*float64(i)))}
		if err := s.spread(plt, colour); err != nil {
			return err
		}
		for _, run := range runs(s.Line) {
			plt.Add(&plotter.Line{XYs: run, LineStyle: style})
		}
		marks := &plotter.Scatter{XYs: slices.Concat(runs(s.Marks)...),
			GlyphStyle: draw.GlyphStyle{Color: colour, Radius: 2.8, Shape: shapes[i%len(shapes)]}}
		plt.Add(marks)
		var thumbs []plot.Thumbnailer
		if len(s.Line) > 0 {
			thumbs = append(thumbs, &plotter.Line{LineStyle: style})
		}
		if len(s.Marks) > 0 {
			thumbs = append(thumbs, marks)
		}
		key.add(s.Name, thumbs...)
	}
	Scale(&plt.Y)
	strip := max(key.height(c), keyRow*vg.Length(p.KeyRows))
	plt.Draw(draw.Crop(c, 0, -6, strip, -3))
	key.draw(c, strip)
	return nil
}

// spread adds the band and the bars of a series. The error is that of NaN among what they
// stand about.
func (s *Series) spread(plt *plot.Plot, colour color.Color) error {
	if s.Band != nil {
		r, g, b, _ := colour.RGBA()
		outline := make(plotter.XYs, 2*len(s.Line)) // along the top, and back along the bottom
		for i, p := range s.Line {
			outline[i] = plotter.XY{X: p.X, Y: p.Y + s.Band[i]}
			outline[len(outline)-1-i] = plotter.XY{X: p.X, Y: p.Y - s.Band[i]}
		}
		band, err := plotter.NewPolygon(outline)
		if err != nil {
			return err
		}
		const faint = 50
		band.Color, band.LineStyle.Width = color.NRGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), faint}, 0
		plt.Add(band)
	}
	if s.Bars != nil {
		bars := &plotter.YErrorBars{XYs: s.Marks, YErrors: make(plotter.YErrors, len(s.Bars)),
			LineStyle: draw.LineStyle{Color: colour, Width: 1}, CapWidth: 6}
		for i, half := range s.Bars {
			bars.YErrors[i].Low, bars.YErrors[i].High = half, half
		}
		plt.Add(bars)
	}
	return nil
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

// key is the key of a panel: its entries stand in lines under the plot.
type key []plot.Legend

const (
	keyIndent = 24
	keyRow    = 12
)

func (k *key) add(name string, thumbs ...plot.Thumbnailer) {
	entry := plot.NewLegend()
	entry.TextStyle.Font, entry.Left, entry.ThumbnailWidth = Text(textSize), true, 26
	entry.Add(name, thumbs...)
	*k = append(*k, entry)
}

// places returns where the entries go, in points from the left and in rows.
func (k key) places(c draw.Canvas) (left []vg.Length, row []int) {
	x, y := vg.Length(keyIndent), 0
	for i := range k {
		width := k[i].Rectangle(c).Size().X + 12
		if x > keyIndent && x+width > c.Max.X-c.Min.X {
			x, y = keyIndent, y+1
		}
		left, row = append(left, x), append(row, y)
		x += width
	}
	return left, row
}

func (k key) height(c draw.Canvas) vg.Length {
	_, row := k.places(c)
	if len(row) == 0 {
		return 0
	}
	return keyRow * vg.Length(row[len(row)-1]+1)
}

// draw draws the key from the top of a strip along the bottom.
func (k key) draw(c draw.Canvas, strip vg.Length) {
	left, row := k.places(c)
	for i := range k {
		k[i].Draw(draw.Crop(c, left[i], 0, strip-keyRow*vg.Length(row[i]+1)+2, 0))
	}
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
