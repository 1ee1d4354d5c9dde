package show

import (
	"bytes"
	"html"
	"image/color"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Drawing is anything that draws itself on a canvas.
type Drawing interface {
	Draw(c draw.Canvas) error
}

// aside is how far all drawings stand aside of where they should, in points. Round numbers,
// which are common in what is drawn, would else often stand in the middle between two that
// can be written, and which of them is would hang on the last bit: not all machines get the
// same one, as some round a product and a sum in one step.
const aside = 1e-5

// SVG returns the drawings side by side, each of the given size in points, as
// an SVG element that can stand in a page or a file. The warnings stand above them,
// in lines of their own. The description is for those who cannot see the picture.
func SVG(width, height vg.Length, warnings []string, description string, drawings ...Drawing) (string, error) {
	across := width * vg.Length(len(drawings))
	lines := warningLines(warnings, across)
	strip := 2*warningTop + warningRow*vg.Length(len(lines))
	canvas := vgsvg.New(across, height+strip)
	whole := draw.New(canvas)
	for i, line := range lines {
		whole.FillText(warningStyle(), vg.Point{X: warningMargin, Y: whole.Max.Y - warningTop - warningRow*vg.Length(i)}, line)
	}
	whole = draw.Crop(whole, aside, aside, aside, aside-strip)
	for i, d := range drawings {
		left := vg.Length(i) * width
		right := vg.Length(len(drawings)-1-i) * width
		if err := d.Draw(draw.Crop(whole, left, -right, 0, 0)); err != nil {
			return "", err
		}
	}
	var out bytes.Buffer
	if _, err := canvas.WriteTo(&out); err != nil {
		return "", err
	}
	// What goes before the element has no place in a page, and the font may
	// be missing where the picture is looked at.
	svg := out.String()
	svg = svg[strings.Index(svg, "<svg"):]
	svg = strings.ReplaceAll(svg, "font-family:Liberation Sans;", "font-family:Liberation Sans,Arial,Helvetica,sans-serif;")
	open := strings.Index(svg, ">")
	text := html.EscapeString(strings.Join(append(slices.Clone(warnings), description), " "))
	return svg[:open] + ` role="img" aria-label="` + text + `"><title>` + text + "</title>" + svg[open+1:], nil
}

// The size of warnings, in points.
const (
	warningSize   = 6.5
	warningRow    = 8
	warningMargin = 6
	warningTop    = 2
)

func warningStyle() draw.TextStyle {
	return draw.TextStyle{Color: color.Black, Font: Text(warningSize), YAlign: draw.YTop, Handler: plot.DefaultTextHandler}
}

// warningLines breaks warnings into lines that fit across a picture.
func warningLines(warnings []string, across vg.Length) []string {
	style := warningStyle()
	var lines []string
	for _, warning := range warnings {
		line := ""
		for _, word := range strings.Fields(Tie(warning)) {
			if longer := line + " " + word; line != "" && style.Width(longer) <= across-2*warningMargin {
				line = longer
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			line = word
		}
		lines = append(lines, line)
	}
	return lines
}
