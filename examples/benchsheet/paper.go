package main

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

var (
	ink   = color.Black
	faint = show.Faint

	dashed, dotted = []vg.Length{5, 2}, []vg.Length{2, 2}
)

// paper places points of the machine on a canvas.
type paper struct {
	show.Ground
	centre vg.Point
	scale  vg.Length // points for a metre
}

func (s *paper) at(x, y float64) vg.Point {
	return vg.Point{X: s.centre.X + vg.Length(x)*s.scale, Y: s.centre.Y + vg.Length(y)*s.scale}
}

func (s *paper) point(p linkage.Point) vg.Point { return s.at(float64(p.X), float64(p.Y)) }

func (s *paper) polar(bearing units.Angle, radius float64) vg.Point {
	sin, cos := math.Sincos(float64(bearing))
	return s.at(radius*sin, radius*cos)
}

func (s *paper) line(c color.Color, width vg.Length, dashes []vg.Length, points ...vg.Point) {
	s.StrokeLines(draw.LineStyle{Color: c, Width: width, Dashes: dashes}, points)
}

// arc draws an arc of the given radius between two bearings.
func (s *paper) arc(width vg.Length, radius float64, from, to units.Angle) {
	const chords = 72
	points := make([]vg.Point, chords+1)
	for i := range points {
		points[i] = s.polar(from+(to-from)*units.Angle(i)/chords, radius)
	}
	s.line(ink, width, nil, points...)
}

func (s *paper) glyph(shape draw.GlyphDrawer, radius vg.Length, at vg.Point) {
	s.DrawGlyph(draw.GlyphStyle{Color: ink, Radius: radius, Shape: shape}, at)
}

// words writes text at a place.
func (s *paper) words(size vg.Length, at vg.Point, x draw.XAlignment, y draw.YAlignment, words string) {
	style := show.Words(size)
	style.XAlign, style.YAlign = x, y
	s.FillText(style, at, words)
}
