package show

import (
	"image/color"
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Text is the face and size of the pictures' text.
func Text(size vg.Length) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
}

// Words is the style of black text whose first line stands under a point, to the right of
// it.
func Words(size vg.Length) draw.TextStyle {
	return draw.TextStyle{Color: color.Black, Font: Text(size), YAlign: draw.YTop, Handler: plot.DefaultTextHandler}
}

// The sizes of what stands in a chart, in points. TextSize is that of all but its title.
const (
	TextSize  = 8
	titleSize = 9
	row       = 12 // from one line of text to the next
	side      = 8  // kept clear at the left and right edges
	apart     = 4  // between the plot and what is above and below it
)

// Chart is a plot with words about it: above it what there is to see and what its upright
// axis shows, and under it the key. Nothing of it is cut at an edge, however long a name is:
// titles and names of the key go on in the next line.
type Chart struct {
	*plot.Plot
	title, y string
	key      key
}

// NewChart returns a chart that is empty. The names of the axes say what and in what unit.
func NewChart(title, x, y string) *Chart {
	c := &Chart{Plot: plot.New(), title: title, y: y}
	c.X.Label.Text = x
	for _, axis := range []*plot.Axis{&c.X, &c.Y} {
		axis.Label.TextStyle.Font, axis.Tick.Label.Font = Text(TextSize), Text(TextSize)
		axis.Label.Padding = 2
	}
	return c
}

// Explain adds an entry to the key: a name, after the signs that it explains.
func (c *Chart) Explain(name string, signs ...plot.Thumbnailer) {
	c.key = append(c.key, entry{name, signs})
}

// Title is the style of a picture's title, as Words.
func Title() draw.TextStyle {
	style := Words(titleSize)
	style.Font.Weight = xfont.WeightBold
	return style
}

// above is the height of what stands above the plot of a chart of some width.
func (c *Chart) above(width vg.Length) vg.Length {
	lines := 1 + len(Fold(Title(), c.title, width-2*side))
	return row*vg.Length(lines) + apart
}

// below is the height of the key.
func (c *Chart) below(width vg.Length) vg.Length {
	_, rows := c.key.places(width)
	return row*vg.Length(rows) + apart
}

// draw draws the chart on a canvas, with room kept above and below its plot.
func (c *Chart) draw(on draw.Canvas, above, below vg.Length) {
	width := on.Max.X - on.Min.X
	at := vg.Point{X: on.Min.X + side, Y: on.Max.Y}
	write := func(style draw.TextStyle, line string) {
		on.FillText(style, at, line)
		at.Y -= row
	}
	for _, line := range Fold(Title(), c.title, width-2*side) {
		write(Title(), line)
	}
	write(Words(TextSize), c.y)
	c.Plot.Draw(draw.Crop(on, side, -side, below, -above))
	on.Max.Y = on.Min.Y + below - apart
	c.key.draw(on)
}

// key explains the signs of a chart. Its entries stand one after another, in lines.
type key []entry

type entry struct {
	name  string
	signs []plot.Thumbnailer
}

const (
	lineWidth, markWidth = 26, 10 // of signs
	signApart            = 5      // from a sign to its name
	keyApart             = 14     // from one entry to the next
)

// width is how wide the signs are.
func (e *entry) width() vg.Length {
	var width vg.Length
	for _, s := range e.signs {
		if _, ok := s.(*plotter.Scatter); !ok {
			return lineWidth
		}
		width = markWidth
	}
	return width
}

// indent is how far to the right of its signs a name begins.
func (e *entry) indent() vg.Length {
	if len(e.signs) == 0 {
		return 0
	}
	return e.width() + signApart
}

// place is where an entry stands: its lines, and how far it is from the left and, in lines,
// from the top.
type place struct {
	lines []string
	left  vg.Length
	row   int
}

// places returns where the entries go, and how many lines they take.
func (k key) places(width vg.Length) (places []place, rows int) {
	left, top := vg.Length(side), 0
	for _, e := range k {
		p := place{Fold(Words(TextSize), e.name, width-2*side-e.indent()), left, top}
		var wide vg.Length
		for _, line := range p.lines {
			wide = max(wide, Words(TextSize).Width(line))
		}
		wide += e.indent()
		if left > side && left+wide > width-side {
			p.left, p.row = side, rows
		}
		left, top = p.left+wide+keyApart, p.row
		rows = max(rows, p.row+len(p.lines))
		places = append(places, p)
	}
	return places, rows
}

// draw draws the key from the top of a canvas.
func (k key) draw(c draw.Canvas) {
	places, _ := k.places(c.Max.X - c.Min.X)
	for i, p := range places {
		at := vg.Point{X: c.Min.X + p.left, Y: c.Max.Y - row*vg.Length(p.row)}
		const drop = 1 // from the top of the letters' line to that of the sign
		sign := draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{
			Min: vg.Point{X: at.X, Y: at.Y - drop - TextSize}, Max: vg.Point{X: at.X + k[i].width(), Y: at.Y - drop}}}
		for _, s := range k[i].signs {
			s.Thumbnail(&sign)
		}
		at.X += k[i].indent()
		for _, line := range p.lines {
			c.FillText(Words(TextSize), at, line)
			at.Y -= row
		}
	}
}

// Fold breaks text into lines that fit across some width. Numbers stay with their units,
// and words that are too long are cut.
func Fold(style draw.TextStyle, text string, across vg.Length) []string {
	var lines []string
	line := ""
	for _, word := range strings.FieldsFunc(Tie(text), func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		longer := line + " " + word
		if line == "" {
			longer = word
		}
		if line != "" && style.Width(longer) > across {
			lines, longer = append(lines, line), word
		}
		line = longer
		for style.Width(line) > across {
			runes := []rune(line)
			n := len(runes) - 1
			for n > 1 && style.Width(string(runes[:n])) > across {
				n--
			}
			if n < 1 {
				break
			}
			lines, line = append(lines, string(runes[:n])), string(runes[n:])
		}
	}
	lines = append(lines, line)
	for i := range lines {
		lines[i] = untie.Replace(lines[i])
	}
	return lines
}
