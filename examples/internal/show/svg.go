package show

import (
	"bytes"
	"fmt"
	"html"
	"image/color"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Drawing is anything that draws itself on a canvas.
type Drawing interface {
	Draw(c draw.Canvas) error
}

// Charter is anything that is drawn as a chart.
type Charter interface {
	Chart() (*Chart, error)
}

// aside is how far all drawings stand aside of where they should, in points. Round numbers,
// which are common in what is drawn, would else often stand in the middle between two that
// can be written, and which of them is would hang on the last bit: not all machines get the
// same one, as some round a product and a sum in one step.
const aside = 1e-5

// SVG returns a drawing of the given size in points as an SVG element that can stand in a
// page or a file, and is as wide as the page or the window lets it be. The warnings stand
// above it, in lines of their own. The description is for those who cannot see the picture.
func SVG(width, height vg.Length, warnings []string, description string, drawing Drawing) (string, error) {
	lines := warningLines(warnings, width)
	strip := 2*warningTop + warningRow*vg.Length(len(lines))
	canvas := vgsvg.New(width, height+strip)
	whole := draw.New(canvas)
	whole.SetColor(color.White) // what it is looked at on may be dark
	whole.Fill(whole.Path())
	for i, line := range lines {
		whole.FillText(Words(warningSize), vg.Point{X: warningMargin, Y: whole.Max.Y - warningTop - warningRow*vg.Length(i)}, line)
	}
	if err := drawing.Draw(draw.Crop(whole, aside, aside, aside, aside-strip)); err != nil {
		return "", err
	}
	var out bytes.Buffer
	if _, err := canvas.WriteTo(&out); err != nil {
		return "", err
	}
	// What goes before the element has no place in a page.
	svg := out.String()
	svg = svg[strings.Index(svg, "<svg"):]
	svg = size.ReplaceAllString(svg, `<svg width="100%"`)
	svg = anyFont(svg)
	open := strings.Index(svg, ">")
	text := html.EscapeString(strings.Join(append(slices.Clone(warnings), description), " "))
	return svg[:open] + ` role="img" aria-label="` + text + `"><title>` + text + "</title>" + svg[open+1:], nil
}

var (
	size  = regexp.MustCompile(`<svg width="[^"]*" height="[^"]*"`)
	words = regexp.MustCompile(`(?s)<text ([^>]*font-family:)Liberation Sans(;[^>]*font-weight:(\w+);[^>]*font-size:([\d.]+)px[^>]*)>(.*?)</text>`)
)

// anyFont lets text be shown in another font where its own is missing, as wide as in its
// own: else it would run over an edge, or into what stands beside it.
func anyFont(svg string) string {
	return words.ReplaceAllStringFunc(svg, func(element string) string {
		part := words.FindStringSubmatch(element)
		style := Title()
		if part[3] != "bold" {
			style = Words(0)
		}
		points, _ := strconv.ParseFloat(part[4], 64) // the expression lets nothing else through that is written
		style.Font.Size = vg.Length(points)
		width := style.Width(html.UnescapeString(part[5]))
		return fmt.Sprintf(`<text textLength="%.2f" lengthAdjust="spacingAndGlyphs" %sLiberation Sans,Arial,Helvetica,sans-serif%s>%s</text>`, width+aside, part[1], part[2], part[5])
	})
}

// Charts is SVG for charts that stand two in a row and have plots of one height.
func Charts(width, height vg.Length, warnings []string, description string, charts ...Charter) (string, error) {
	g := grid{width: width}
	for _, of := range charts {
		c, err := of.Chart()
		if err != nil {
			return "", err
		}
		g.charts = append(g.charts, c)
		g.above, g.below = max(g.above, c.above(width)), max(g.below, c.below(width))
	}
	g.height = g.above + height + g.below + rowApart
	columns := min(len(charts), 2)
	rows := (len(charts) + 1) / 2
	return SVG(width*vg.Length(columns), g.height*vg.Length(rows), warnings, description, &g)
}

const rowApart = 6

// grid is charts in rows of two.
type grid struct {
	charts        []*Chart
	width, height vg.Length // of each
	above, below  vg.Length // of all plots
}

// Draw draws the charts on c.
func (g *grid) Draw(c draw.Canvas) error {
	for i, chart := range g.charts {
		left, top := c.Min.X+g.width*vg.Length(i%2), c.Max.Y-g.height*vg.Length(i/2)
		on := draw.Canvas{Canvas: c.Canvas, Rectangle: vg.Rectangle{Min: vg.Point{X: left, Y: top - g.height + rowApart}, Max: vg.Point{X: left + g.width, Y: top}}}
		chart.draw(on, g.above, g.below)
	}
	return nil
}

// The size of warnings, in points.
const (
	warningSize   = 7
	warningRow    = 8.5
	warningMargin = side
	warningTop    = 3
)

// warningLines breaks warnings into lines that fit across a picture.
func warningLines(warnings []string, across vg.Length) []string {
	var lines []string
	for _, warning := range warnings {
		lines = append(lines, Fold(Words(warningSize), warning, across-2*warningMargin)...)
	}
	return lines
}
