package showtest

import (
	"encoding/xml"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// layout checks where the texts of a picture stand, as its elements are read. Text that is
// cut at an edge, texts that run into each other, and lines through text are faults.
type layout struct {
	width, height float64
	groups        []move // of the elements that are open, the innermost last
	texts         []box
	lines         [][]point
	faults        []string
}

type point struct{ x, y float64 }

// move takes a point of an element to the picture: x' = a x + c y + e, y' = b x + d y + f.
type move struct{ a, b, c, d, e, f float64 }

func (m move) of(p point) point { return point{m.a*p.x + m.c*p.y + m.e, m.b*p.x + m.d*p.y + m.f} }

func (m move) after(n move) move {
	return move{m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b, m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d, m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f}
}

// box is where a text stands.
type box struct {
	text     string
	min, max point
}

func (b *box) String() string {
	return fmt.Sprintf("%q at %.0f to %.0f across, %.0f to %.0f down", b.text, b.min.x, b.max.x, b.min.y, b.max.y)
}

var (
	transforms = regexp.MustCompile(`(\w+)\(([^)]*)\)`)
	fontSize   = regexp.MustCompile(`font-size:([\d.]+)px`)
	steps      = regexp.MustCompile(`([MLZ])([^MLZAQC]*)`)
	curved     = regexp.MustCompile(`[AQC]`)
)

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func numbers(text string) []float64 {
	var all []float64
	for _, field := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' }) {
		x, err := strconv.ParseFloat(field, 64)
		if err != nil {
			x = math.NaN()
		}
		all = append(all, x)
	}
	return all
}

// open takes in an element as it begins.
func (l *layout) open(e xml.StartElement) {
	here := move{a: 1, d: 1}
	if len(l.groups) > 0 {
		here = l.groups[len(l.groups)-1]
	}
	for _, t := range transforms.FindAllStringSubmatch(attribute(e, "transform"), -1) {
		n := append(numbers(t[2]), 0)
		switch t[1] {
		case "translate":
			here = here.after(move{a: 1, d: 1, e: n[0], f: n[1]})
		case "scale":
			here = here.after(move{a: n[0], d: n[1]})
		case "rotate":
			sin, cos := math.Sincos(n[0] * math.Pi / 180)
			here = here.after(move{a: cos, b: sin, c: -sin, d: cos})
		default:
			l.faults = append(l.faults, "transform "+t[1]+" is not looked at")
		}
	}
	l.groups = append(l.groups, here)
	switch e.Name.Local {
	case "svg":
		box := append(numbers(attribute(e, "viewBox")), 0, 0, 0, 0)
		l.width, l.height = box[2], box[3]
		if l.width == 0 || attribute(e, "width") != "100%" || attribute(e, "height") != "" {
			l.faults = append(l.faults, "it does not scale with the window")
		}
	case "text":
		l.texts = append(l.texts, l.box(e, here))
	case "path":
		if style := attribute(e, "style"); strings.Contains(style, "stroke:#") && strings.Contains(style, "fill:none") && !curved.MatchString(attribute(e, "d")) {
			l.path(attribute(e, "d"), here)
		}
	}
}

// box is where a text stands: as wide as the picture says, from two tenths of the letters'
// size under its line to seven above.
func (l *layout) box(e xml.StartElement, here move) box {
	size := 0.
	if found := fontSize.FindStringSubmatch(attribute(e, "style")); found != nil {
		size = numbers(found[1])[0]
	}
	at := point{append(numbers(attribute(e, "x")), 0)[0], append(numbers(attribute(e, "y")), 0)[0]}
	width := append(numbers(attribute(e, "textLength")), 0)[0]
	b := box{min: point{math.Inf(1), math.Inf(1)}, max: point{math.Inf(-1), math.Inf(-1)}}
	for _, corner := range []point{{0, 0.2 * size}, {0, -0.7 * size}, {width, 0.2 * size}, {width, -0.7 * size}} {
		p := here.of(point{at.x + corner.x, at.y + corner.y})
		b.min = point{min(b.min.x, p.x), min(b.min.y, p.y)}
		b.max = point{max(b.max.x, p.x), max(b.max.y, p.y)}
	}
	if width == 0 {
		l.faults = append(l.faults, "a text whose width is not set, and hangs on the font")
	}
	if size < 6 {
		l.faults = append(l.faults, fmt.Sprintf("a text of %v points", size))
	}
	return b
}

// path takes in a line.
func (l *layout) path(d string, here move) {
	var line []point
	for _, step := range steps.FindAllStringSubmatch(d, -1) {
		n := numbers(step[2])
		if step[1] == "M" {
			l.lines, line = append(l.lines, line), nil
		}
		if len(n) == 2 {
			line = append(line, here.of(point{n[0], n[1]}))
		}
	}
	l.lines = append(l.lines, line)
}

// close ends an element.
func (l *layout) close() { l.groups = l.groups[:len(l.groups)-1] }

// check returns what is wrong.
func (l *layout) check() []string {
	const edge = 1 // kept clear, in points
	for i := range l.texts {
		t := &l.texts[i]
		if t.min.x < edge || t.max.x > l.width-edge || t.min.y < edge || t.max.y > l.height-edge {
			l.faults = append(l.faults, fmt.Sprintf("%v is cut: the picture is %.0f by %.0f", t, l.width, l.height))
		}
		for k := range i {
			o := &l.texts[k]
			if t.min.x < o.max.x && o.min.x < t.max.x && t.min.y < o.max.y && o.min.y < t.max.y {
				l.faults = append(l.faults, fmt.Sprintf("%v runs into %v", t, o))
			}
		}
		for _, line := range l.lines {
			for k := 1; k < len(line); k++ {
				if t.crossed(line[k-1], line[k]) {
					l.faults = append(l.faults, fmt.Sprintf("a line through %v, from %.0f to %.0f", t, line[k-1], line[k]))
				}
			}
		}
	}
	return l.faults
}

// crossed reports whether a line runs through a text, more than by its rim.
func (b *box) crossed(p, q point) bool {
	const rim = 0.5
	from, to := 0., 1. // the part of the line that is within
	for _, side := range []struct{ at, step, min, max float64 }{
		{p.x, q.x - p.x, b.min.x + rim, b.max.x - rim}, {p.y, q.y - p.y, b.min.y + rim, b.max.y - rim},
	} {
		if side.step == 0 {
			if side.at < side.min || side.at > side.max {
				return false
			}
			continue
		}
		a, b := (side.min-side.at)/side.step, (side.max-side.at)/side.step
		from, to = max(from, min(a, b)), min(to, max(a, b))
	}
	return from < to
}
