package network

import (
	"math"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

const mm = units.Millimetre

func pt(x, y, z float64) linkage.Point {
	return linkage.Point{X: units.Length(x) * mm, Y: units.Length(y) * mm, Z: units.Length(z) * mm}
}

// a bell-crank plate of twelve unknowns
func bellcranks() Spec {
	s := Spec{}
	s.Bodies = append(s.Bodies, Body{Name: "plate", Kind: Plate, Height: 60 * mm, Mark: MarkAt(180 * units.Degree)})
	for i, name := range []string{"left", "right", "back"} {
		b := float64(i)*2*math.Pi/3 + 0.1
		at := func(r, off, z float64) linkage.Point {
			return pt(r*math.Sin(b)+off*math.Cos(b), r*math.Cos(b)-off*math.Sin(b), z)
		}
		axis := linkage.Direction{X: math.Cos(b), Y: -math.Sin(b)}
		s.Bodies = append(s.Bodies,
			Body{Name: name + " servo", Kind: Crank, Point: at(60, 0, -10), Axis: axis, Input: true},
			Body{Name: name + " crank", Kind: Crank, Point: at(62, 2, 20), Axis: axis},
			Body{Name: name + " second", Kind: Crank, Point: at(45, -1, 12), Axis: axis},
			Body{Name: name + " third", Kind: Crank, Point: at(40, -1, 0), Axis: axis})
		link := func(link, a string, pa linkage.Point, c string, pc linkage.Point) {
			s.Balls = append(s.Balls, Ball{Name: name + link + " a", Body: a, At: pa}, Ball{Name: name + link + " b", Body: c, At: pc})
			s.Links = append(s.Links, Link{Name: name + link, A: name + link + " a", B: name + link + " b"})
		}
		link(" rod", name+" servo", at(75, 1, -10), name+" crank", at(76, 2, 21))
		link(" middle", name+" crank", at(62, 3, 32), name+" second", at(45, 0, 25))
		link(" next", name+" second", at(33, 0, 13), name+" third", at(28, 0, 1))
		link(" up", name+" third", at(52, 0, 0), "plate", at(25, 0, 61))
	}
	return s
}

func TestFirst(t *testing.T) {
	n, err := New(bellcranks())
	if err != nil {
		t.Fatal(err)
	}
	t.Log(len(n.unknown), len(n.blocks), n.widest)
	s := n.NewState()
	for _, in := range [][]float64{{.1, .1, .1}, {.4, -.2, .1}, {.5, .5, .5}, {-.5, -.5, -.5}, {0, 0, 0}} {
		err := s.Solve(in)
		t.Log(in, s.view.x, err)
		s.stand()
		for _, f := range s.view.strain {
			if math.Abs(f) > 1e-15 {
				t.Error(f)
			}
		}
	}
}

func BenchmarkCold(b *testing.B) {
	n, err := New(bellcranks())
	if err != nil {
		b.Fatal(err)
	}
	s := n.NewState()
	in := []float64{.4, -.2, .3}
	b.ReportAllocs()
	for b.Loop() {
		s.solved = false
		if err := s.Solve(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkNear(b *testing.B) {
	n, err := New(bellcranks())
	if err != nil {
		b.Fatal(err)
	}
	s := n.NewState()
	in := [][]float64{{.3, -.2, .1}, {.28, -.19, .12}}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		i ^= 1
		if err := s.Solve(in[i]); err != nil {
			b.Fatal(err)
		}
	}
}
