package show

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/levelhead/units"
)

// Faint is the colour of thin lines that are no part of what is shown; they can still be
// seen on white.
var Faint = color.Gray{115}

// Ground is a canvas on which words keep clear of what stands there, and of each other.
type Ground struct {
	draw.Canvas
	taken []vg.Rectangle
}

// Take keeps words off a rectangle.
func (g *Ground) Take(r vg.Rectangle) { g.taken = append(g.taken, r) }

// TakeAbout keeps words off a square around a point.
func (g *Ground) TakeAbout(p vg.Point, half vg.Length) {
	g.Take(vg.Rectangle{Min: vg.Point{X: p.X - half, Y: p.Y - half}, Max: vg.Point{X: p.X + half, Y: p.Y + half}})
}

// Write writes words on the far side of a point in some direction, clockwise from straight
// up, where there is room for them; it reports whether there was.
func (g *Ground) Write(size vg.Length, from vg.Point, direction units.Angle, clear vg.Length, words string) bool {
	sin, cos := math.Sincos(float64(direction))
	at := outside(from, direction, clear)
	style := Words(size)
	style.XAlign, style.YAlign = draw.XAlignment((sin-1)/2), draw.YAlignment((cos-1)/2)
	width := style.Width(words)
	box := vg.Rectangle{Min: at.Add(vg.Point{X: vg.Length(style.XAlign) * width, Y: vg.Length(style.YAlign) * size})}
	box.Max = box.Min.Add(vg.Point{X: width, Y: size})
	if box.Min.X < g.Min.X || box.Max.X > g.Max.X || box.Min.Y < g.Min.Y || box.Max.Y > g.Max.Y {
		return false
	}
	const apart = 2
	for _, r := range g.taken {
		if r.Min.X < box.Max.X+apart && box.Min.X < r.Max.X+apart && r.Min.Y < box.Max.Y+apart && box.Min.Y < r.Max.Y+apart {
			return false
		}
	}
	g.Take(box)
	g.FillText(style, at, words)
	return true
}

// WriteNear writes words at the edge of what stands at a point, in a direction, or else as
// near to there as there is room, with a line to the point. Where there is none, they stand
// there nevertheless, on white.
func (g *Ground) WriteNear(size vg.Length, of vg.Point, direction units.Angle, clear vg.Length, edge func(units.Angle) vg.Point, words string) {
	const (
		turn    = 12 * units.Degree // from one try to the next
		farther = 10                // likewise, in points
		rings   = 5
		short   = 3 // from the end of a line to the words
	)
	for _, turns := range []int{5, 15} { // to either side: first not far round
		for ring := range rings {
			for i := range 2*turns + 1 {
				to := direction + turn*units.Angle((i+1)/2)
				if i%2 == 1 {
					to = direction - turn*units.Angle((i+1)/2)
				}
				off := clear + farther*vg.Length(ring)
				if !g.Write(size, edge(to), to, off, words) {
					continue
				}
				if ring > 0 || edge(to) != edge(direction) {
					g.StrokeLines(draw.LineStyle{Color: Faint, Width: 0.5}, []vg.Point{of, outside(edge(to), to, off-short)})
				}
				return
			}
		}
	}
	style := Words(size)
	at := outside(edge(direction), direction, clear)
	g.SetColor(color.White)
	g.Fill(vg.Rectangle{Min: at.Sub(vg.Point{Y: size}), Max: at.Add(vg.Point{X: style.Width(words)})}.Path())
	g.FillText(style, at, words)
}

// outside is a point some way from another in a direction, clockwise from straight up.
func outside(from vg.Point, direction units.Angle, by vg.Length) vg.Point {
	sin, cos := math.Sincos(float64(direction))
	return from.Add(vg.Point{X: by * vg.Length(sin), Y: by * vg.Length(cos)})
}
