package show

import (
	"bytes"
	"html"
	"strings"

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
// an SVG element that can stand in a page or a file. The description is for
// those who cannot see the picture.
func SVG(width, height vg.Length, description string, drawings ...Drawing) (string, error) {
	canvas := vgsvg.New(width*vg.Length(len(drawings)), height)
	whole := draw.Crop(draw.New(canvas), aside, aside, aside, aside)
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
	text := html.EscapeString(description)
	return svg[:open] + ` role="img" aria-label="` + text + `"><title>` + text + "</title>" + svg[open+1:], nil
}
