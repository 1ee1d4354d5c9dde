package network_test

import (
	"math"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/units"
)

// bellCranks is a plate on twelve unknowns: three servos, each with a rod to a first
// crank, a link to a second and one to a third, and a link from there up to the plate.
// All dimensions are invented.
func bellCranks() network.Spec {
	var s network.Spec
	for i, name := range []string{"left", "right", "back"} {
		b := float64(i)*2*math.Pi/3 + 0.1
		out := func(r, off, z float64) linkage.Point {
			return at(r*math.Sin(b)+off*math.Cos(b), r*math.Cos(b)-off*math.Sin(b), z)
		}
		axis := linkage.Direction{X: math.Cos(b), Y: -math.Sin(b)}
		crank := func(what string, p linkage.Point) {
			s.Bodies = append(s.Bodies, network.Body{Name: name + what, Kind: network.Crank, Point: p, Axis: axis, Input: what == " servo"})
		}
		crank(" servo", out(60, 0, -10))
		crank(" first", out(62, 2, 20))
		crank(" second", out(45, -1, 12))
		crank(" third", out(40, -1, 0))
		link := func(what, a string, pa linkage.Point, c string, pc linkage.Point) {
			s.Balls = append(s.Balls, network.Ball{Name: name + what + " a", Body: a, At: pa}, network.Ball{Name: name + what + " b", Body: c, At: pc})
			s.Links = append(s.Links, network.Link{Name: name + what, A: name + what + " a", B: name + what + " b"})
		}
		link(" rod", name+" servo", out(75, 1, -10), name+" first", out(76, 2, 21))
		link(" link", name+" first", out(62, 3, 32), name+" second", out(45, 0, 25))
		link(" next", name+" second", out(33, 0, 13), name+" third", out(28, 0, 1))
		link(" up", name+" third", out(52, 0, 0), "plate", out(25, 0, 61))
	}
	s.Bodies = append(s.Bodies, network.Body{Name: "plate", Kind: network.Plate, Height: 60 * mm, Mark: network.MarkAt(180 * units.Degree)})
	return s
}

// legs is a plate on so many legs.
func legs(n int) network.Spec {
	s := network.Spec{Bodies: []network.Body{{Name: "plate", Kind: network.Plate, Height: 60 * mm}}}
	for i := range n {
		b := float64(i) * 2 * math.Pi / float64(n)
		sin, cos := math.Sincos(b)
		name := string(rune('a' + i))
		s.Bodies = append(s.Bodies, network.Body{Name: name, Kind: network.Crank, Point: at(15*sin, 15*cos, 0), Axis: linkage.Direction{X: cos, Y: -sin}, Input: true})
		s.Balls = append(s.Balls, network.Ball{Name: name + " arm", Body: name, At: at(30*sin, 30*cos, 0)}, network.Ball{Name: name + " plate", Body: "plate", At: at(30*sin, 30*cos, 60)})
		s.Links = append(s.Links, network.Link{Name: name, A: name + " arm", B: name + " plate"})
	}
	return s
}

func newState(b *testing.B, spec network.Spec) *network.State {
	b.Helper()
	n, err := network.New(spec)
	if err != nil {
		b.Fatal(err)
	}
	return n.NewState()
}

// near solves for inputs a degree or two from each other, in turn; cold for inputs far
// from each other and from neutral.
func benchmark(b *testing.B, spec network.Spec, inputs ...[]float64) {
	s := newState(b, spec)
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if err := s.Solve(inputs[i%len(inputs)]); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

func BenchmarkBellCranksNear(b *testing.B) {
	benchmark(b, bellCranks(), []float64{0.3, -0.2, 0.1}, []float64{0.28, -0.19, 0.12})
}

func BenchmarkBellCranksCold(b *testing.B) {
	benchmark(b, bellCranks(), []float64{0.4, -0.2, 0.3}, []float64{-0.4, 0.3, -0.3})
}

func BenchmarkThreeLegsNear(b *testing.B) {
	benchmark(b, legs(3), []float64{0.3, -0.2, 0.1}, []float64{0.28, -0.19, 0.12})
}

func BenchmarkThreeLegsCold(b *testing.B) {
	benchmark(b, legs(3), []float64{0.4, -0.2, 0.3}, []float64{-0.4, 0.3, -0.3})
}

func BenchmarkFourLegsNear(b *testing.B) {
	benchmark(b, legs(4), []float64{0.3, -0.2, -0.3, 0.2}, []float64{0.28, -0.19, -0.29, 0.19})
}

func BenchmarkFourLegsCold(b *testing.B) {
	benchmark(b, legs(4), []float64{0.4, -0.2, -0.4, 0.2}, []float64{-0.4, 0.2, 0.4, -0.2})
}

// Pose and derivatives of every coordinate over forty parts.
func BenchmarkBellCranksEffects(b *testing.B) {
	s := newState(b, bellCranks())
	parts := s.Network().Parts()[:40]
	dst := make([]float64, len(s.Network().Coordinates()))
	inputs := [][]float64{{0.3, -0.2, 0.1}, {0.28, -0.19, 0.12}}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if err := s.Solve(inputs[i%2]); err != nil {
			b.Fatal(err)
		}
		for _, p := range parts {
			if err := s.Effect(dst, p); err != nil {
				b.Fatal(err)
			}
		}
		i++
	}
}

// Pose, and the derivatives of the plate's height over forty parts.
func BenchmarkBellCranksGradient(b *testing.B) {
	s := newState(b, bellCranks())
	parts := s.Network().Parts()[:40]
	dst := make([]float64, len(parts))
	weights := make([]float64, len(s.Network().Coordinates()))
	height, _ := s.Network().Coordinate("plate")
	weights[height] = 1
	inputs := [][]float64{{0.3, -0.2, 0.1}, {0.28, -0.19, 0.12}}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if err := s.Solve(inputs[i%2]); err != nil {
			b.Fatal(err)
		}
		if err := s.Gradient(dst, weights, parts); err != nil {
			b.Fatal(err)
		}
		i++
	}
}
