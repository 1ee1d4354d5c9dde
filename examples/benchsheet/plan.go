package main

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// plan is the plate and its legs from above at neutral, the nose up, to scale.
type plan struct{ rig *setup.Rig }

// Draw draws the plan. The machine's extent decides the scale, the same across
// and along.
func (p *plan) Draw(c draw.Canvas) error {
	arms, err := p.rig.Plan()
	if err != nil {
		return err
	}
	plate := float64(p.rig.Machine().Head.RingRadius)
	extent := plate
	for _, a := range arms {
		if a.EndShaft == nil {
			plate = math.Max(plate, away(a.End))
		} else {
			extent = math.Max(extent, away(*a.EndShaft))
		}
		extent = math.Max(extent, math.Max(away(a.Shaft), away(a.Tip)))
	}
	extent = math.Max(extent, plate)
	const title, around, aside = 14, 31, 56 // room for words above the plan, above and below it, and on its sides
	s := &paper{Ground: show.Ground{Canvas: c}}
	key := s.key(p.rig.Machine().Head.Rotation)
	height := c.Max.Y - c.Min.Y - title
	radius := min(height/2-around, (key-c.Min.X)/2-aside)
	s.scale = radius / vg.Length(extent)
	s.centre = vg.Point{X: c.Min.X + aside + radius, Y: c.Min.Y + height/2}
	c.FillText(show.Title(), vg.Point{X: c.Min.X + 8, Y: c.Max.Y}, "The swashplate from above, nose up")
	places := map[string]linkage.Point{} // of each name, once where a servo has several arms
	for _, a := range slices.Backward(arms) {
		places[a.Name] = a.End
		if a.EndShaft != nil {
			places[a.Name] = a.Shaft
		}
	}
	var bearings []units.Angle
	for _, p := range places {
		bearings = append(bearings, nameBearing(p))
	}
	s.frame(p.rig, plate, extent, clearDiagonal(bearings))
	for _, a := range arms {
		for _, p := range []linkage.Point{a.Shaft, a.End} {
			s.TakeAbout(s.point(p), 3)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(places)) { // in one order, so that the page is the same every time
		p := places[name]
		const clear = 10
		s.WriteNear(8, s.point(p), nameBearing(p), clear, func(b units.Angle) vg.Point { return s.polar(b, extent) }, clip(name))
	}
	for _, a := range arms {
		s.line(faint, 1, dotted, s.point(a.Tip), s.point(a.End))
		s.line(show.Blue, 3, nil, s.point(a.Shaft), s.point(a.Tip))
		s.glyph(draw.BoxGlyph{}, 3.2, s.point(a.Shaft))
		s.glyph(draw.CircleGlyph{}, 3.2, s.point(a.End))
		if a.EndShaft != nil {
			s.line(show.Blue, 3, nil, s.point(*a.EndShaft), s.point(a.End))
			s.glyph(draw.BoxGlyph{}, 3.2, s.point(*a.EndShaft))
		}
	}
	return nil
}

// nameBearing returns where the name of what stands at a point goes: outside it, and
// to the right and left a little towards the nose, clear of those sides' own names.
func nameBearing(p linkage.Point) units.Angle {
	const clear = 12 * units.Degree
	b := math.Atan2(float64(p.X), float64(p.Y))
	if math.Abs(math.Cos(b)) < math.Sin(float64(clear)) {
		b -= math.Copysign(float64(clear), b)
	}
	return units.Angle(b)
}

// clearDiagonal returns the diagonal that is farthest from all of some bearings.
func clearDiagonal(bearings []units.Angle) units.Angle {
	var best units.Angle
	most := -1.
	for i := range 4 {
		diagonal := units.Angle(45+90*i) * units.Degree
		clear := math.Pi
		for _, b := range bearings {
			clear = min(clear, math.Abs(math.Remainder(float64(b-diagonal), 2*math.Pi)))
		}
		const alike = 0.01 // rad: of those no worse, the first
		if clear > most+alike {
			best, most = diagonal, clear
		}
	}
	return best
}

// away returns a point's distance from the mast axis.
func away(p linkage.Point) float64 { return math.Hypot(float64(p.X), float64(p.Y)) }

// frame draws what is not a leg: the machine's four sides, the plate, the guide
// pin, the blade as it stands under the gauge, and, at a bearing, the way the rotor
// turns.
func (s *paper) frame(rig *setup.Rig, plate, extent float64, turn units.Angle) {
	for i, name := range []string{"nose 0°", "right 90°", "tail 180°", "left 270°"} {
		bearing := units.Angle(i) * 90 * units.Degree
		s.line(faint, 0.5, nil, s.centre, s.polar(bearing, 1.05*extent))
		s.Write(7, s.polar(bearing, extent), bearing, 22, name)
	}
	s.arc(1.2, plate, 0, 2*math.Pi)
	s.glyph(draw.PlusGlyph{}, 4, s.centre)
	blade := rig.Gauge().Bearing
	s.line(ink, 1.6, dashed, s.polar(blade, 0.1*plate), s.polar(blade, 0.92*plate))
	if b, ok := rig.Parts().Plate.Guide.Bearing(); ok {
		s.line(ink, 2, nil, s.polar(b, plate), s.polar(b, 1.1*plate))
		s.glyph(draw.PyramidGlyph{}, 4, s.polar(b, 1.1*plate))
	}
	from, to := turn-20*units.Degree, turn+20*units.Degree
	if rig.Machine().Head.Rotation == pitch.CounterClockwise {
		from, to = to, from
	}
	outer := 1.16 * extent
	s.arc(1.2, outer, from, to)
	back := to + (from-to)/6
	s.line(ink, 1.2, nil, s.polar(back, 0.95*outer), s.polar(to, outer), s.polar(back, 1.05*outer))
	for _, b := range []units.Angle{from, turn, to} { // words keep clear of the arrow
		s.TakeAbout(s.polar(b, outer), 4)
	}
}

// key explains the signs, in the lower right corner, and returns where its left edge is.
func (s *paper) key(turn pitch.Rotation) vg.Length {
	const size, row, indent, side = 7.5, 10, 10, 8
	entries := []string{
		fmt.Sprintf("rotor turns %s", turn), "blade under gauge", "anti-rotation guide",
		"ball on swashplate", "servo link", "servo arm", "servo shaft",
	}
	var width vg.Length
	for _, words := range entries {
		width = max(width, show.Words(size).Width(words))
	}
	left := s.Max.X - side - width - indent
	place := func(i int) vg.Point { return vg.Point{X: left, Y: s.Min.Y + 6 + row*vg.Length(i)} }
	across := func(i int) (from, to vg.Point) {
		at := place(i)
		return vg.Point{X: at.X - 6, Y: at.Y}, vg.Point{X: at.X + 6, Y: at.Y}
	}
	from, to := across(0)
	s.line(ink, 1.2, nil, from, to)
	s.line(ink, 1.2, nil, to.Add(vg.Point{X: -3, Y: 3}), to, to.Add(vg.Point{X: -3, Y: -3}))
	from, to = across(1)
	s.line(ink, 1.6, dashed, from, to)
	s.glyph(draw.PyramidGlyph{}, 3.5, place(2))
	s.glyph(draw.CircleGlyph{}, 3, place(3))
	from, to = across(4)
	s.line(faint, 1, dotted, from, to)
	from, to = across(5)
	s.line(show.Blue, 3, nil, from, to)
	s.glyph(draw.BoxGlyph{}, 3, place(6))
	for i, words := range entries {
		at := place(i)
		s.words(size, vg.Point{X: at.X + indent, Y: at.Y}, draw.XLeft, draw.YCenter, words)
	}
	edge := vg.Point{X: left - indent, Y: place(len(entries)).Y}
	s.Take(vg.Rectangle{Min: vg.Point{X: edge.X, Y: s.Min.Y}, Max: vg.Point{X: s.Max.X, Y: edge.Y}})
	return edge.X
}

// clip shortens a long name.
func clip(name string) string {
	if r := []rune(name); len(r) > 14 {
		return string(r[:13]) + "…"
	}
	return name
}
