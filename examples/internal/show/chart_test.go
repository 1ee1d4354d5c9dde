package show

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"example.org/levelhead/units"
)

func TestFold(t *testing.T) {
	style := Words(TextSize)
	for _, tt := range []struct {
		text string
		want []string
	}{
		{"", []string{""}},
		{"hover", []string{"hover"}},
		{"throttle at 100 % charge", []string{"throttle at", "100 % charge"}},
		{"iiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiii WWWWWWWWWWW", []string{"iiiiiiiiiiiiiiiiiiiiiiiiiiiiii", "iiiiiiiii", "WWWWWWW", "WWWW"}},
	} {
		got := Fold(style, tt.text, 55)
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("Fold(%q) (-want +got):\n%s", tt.text, diff)
		}
		for _, line := range got {
			if width := style.Width(line); width > 55 {
				t.Errorf("%q is %v points wide", line, width)
			}
		}
	}
	if got := Fold(style, "WW", 1); len(got) != 2 {
		t.Errorf("no character fits: %q", got)
	}
}

// The strokes of a band lie between its edges, all of one slope, and are as many as fit.
func TestBand(t *testing.T) {
	low := []vg.Point{{X: 0, Y: 0}, {X: 50, Y: 10}, {X: 100, Y: 0}}
	high := []vg.Point{{X: 0, Y: 20}, {X: 50, Y: 30}, {X: 100, Y: 20}}
	for _, slope := range slopes {
		var c recorder.Canvas
		(&band{slope: slope}).draw(draw.NewCanvas(&c, 100, 100), low, high)
		strokes := 0
		for _, a := range c.Actions {
			s, ok := a.(*recorder.Stroke)
			if !ok || len(s.Path) != 2 {
				continue
			}
			strokes++
			p, q := s.Path[0].Pos, s.Path[1].Pos
			for _, end := range []vg.Point{p, q} {
				edge := 10 - math.Abs(float64(end.X)-50)/5
				if y := float64(end.Y); y < edge-1e-9 || y > edge+20+1e-9 {
					t.Errorf("slope %v: a stroke ends at %v", slope, end)
				}
			}
			if off := math.Sin(math.Atan2(float64(q.Y-p.Y), float64(q.X-p.X)) - slope); math.Abs(off) > 1e-9 {
				t.Errorf("a stroke from %v to %v, not of slope %v", p, q, slope)
			}
		}
		if strokes < 6 || strokes > 30 {
			t.Errorf("slope %v: %d strokes", slope, strokes)
		}
	}
}

// Words give way to what stands in their place, and still stand near.
func TestWriteNear(t *testing.T) {
	var c recorder.Canvas
	g := Ground{Canvas: draw.NewCanvas(&c, 100, 100)}
	p := vg.Point{X: 50, Y: 50}
	for range 60 {
		g.WriteNear(8, p, 45*units.Degree, 9, func(units.Angle) vg.Point { return p }, "1")
	}
	first := g.taken[0].Min.Sub(p)
	if first.X < 0 || first.Y < 0 || first.X > 9 || first.Y > 9 {
		t.Errorf("the first words stand %v from their point", first)
	}
	for i, a := range g.taken {
		if a.Min.X < 0 || a.Max.X > 100 || a.Min.Y < 0 || a.Max.Y > 100 {
			t.Errorf("words at %v", a)
		}
		for _, b := range g.taken[:i] {
			if a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y {
				t.Errorf("words at %v and %v", a, b)
			}
		}
	}
	if n := len(g.taken); n < 10 {
		t.Errorf("room for %d words", n)
	}
}
