package networktest_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/servo/network/networktest"
	"example.org/levelhead/units"
)

const mm = units.Millimetre

// source gives numbers from 0 to 1.
type source func(name string) float64

func (s source) between(lo, hi float64, name string) float64 { return lo + (hi-lo)*s(name) }

// whole returns a whole number from 0 to n - 1.
func (s source) whole(n int, name string) int { return max(0, min(int(s(name)*float64(n)), n-1)) }

func (s source) direction(name string) r3.Vec {
	z, b := s.between(-1, 1, name+" z"), s.between(0, 2*math.Pi, name+" bearing")
	return r3.Vec{X: math.Sqrt(1-z*z) * math.Sin(b), Y: math.Sqrt(1-z*z) * math.Cos(b), Z: z}
}

func millimetres(v r3.Vec) linkage.Point { return linkage.PointOf(r3.Scale(1e-3, v)) }

// random makes a network of inputs, of cranks and sliders that ride on each other and
// are each driven by a link, and often of a plate, a ring on it and a grip.
func random(s source) (network.Spec, []float64) {
	var spec network.Spec
	var inputs []float64
	link := func(name, a string, pa r3.Vec, b string, pb r3.Vec) {
		spec.Balls = append(spec.Balls, network.Ball{Name: name + " a", Body: a, At: millimetres(pa)}, network.Ball{Name: name + " b", Body: b, At: millimetres(pb)})
		length := r3.Norm(r3.Sub(pa, pb)) + s.between(-0.3, 0.3, name+" off")
		spec.Links = append(spec.Links, network.Link{Name: name, A: name + " a", B: name + " b", Length: units.Length(length) * mm})
	}
	place := func(name string) r3.Vec {
		return r3.Vec{X: s.between(-40, 40, name+" x"), Y: s.between(-40, 40, name+" y"), Z: s.between(-20, 40, name+" z")}
	}
	pick := func(name string) string { return spec.Bodies[s.whole(len(spec.Bodies), name)].Name }
	for i := range 1 + s.whole(3, "inputs") {
		name := fmt.Sprint("servo ", i+1)
		spec.Bodies = append(spec.Bodies, network.Body{
			Name: name, Kind: network.Crank, Point: millimetres(place(name)), Axis: linkage.Direction(s.direction(name)), Input: true,
		})
		inputs = append(inputs, s.between(-0.4, 0.4, name+" angle"))
	}
	for i := range s.whole(5, "driven") {
		name := fmt.Sprint("driven ", i+1)
		b := network.Body{Name: name, Kind: network.Crank, Axis: linkage.Direction(s.direction(name))}
		at := place(name)
		b.Point = millimetres(at)
		if s(name+" rides") < 0.4 {
			b.On = pick(name + " on")
		}
		axis := r3.Vec(b.Axis)
		along := axis
		if s(name+" slides") < 0.3 {
			b.Kind = network.Slider
		} else {
			arm := r3.Cross(axis, s.direction(name+" arm"))
			if r3.Norm(arm) < 0.1 {
				arm = r3.Cross(axis, r3.Vec{X: axis.Y, Y: axis.Z, Z: axis.X + 1})
			}
			arm = r3.Scale(s.between(10, 20, name+" radius"), r3.Unit(arm))
			at = r3.Add(at, arm)
			along = r3.Unit(r3.Cross(axis, arm))
		}
		// The link lies within some 30° of the way that its ball goes.
		way := r3.Add(along, r3.Scale(0.6, s.direction(name+" way")))
		from := pick(name + " from")
		spec.Bodies = append(spec.Bodies, b)
		link(name+" link", from, r3.Add(at, r3.Scale(s.between(25, 50, name+" length"), r3.Unit(way))), name, at)
	}
	if s("plate") < 0.6 {
		plate := network.Body{Name: "plate", Kind: network.Plate, Height: 60 * mm}
		if s("marked") < 0.7 {
			plate.Mark = network.MarkAt(units.Angle(s.between(0, 2*math.Pi, "mark")))
		}
		for i := range 3 {
			name := fmt.Sprint("leg ", i+1)
			b := 2*math.Pi/3*float64(i) + s.between(-0.2, 0.2, name)
			r := s.between(18, 30, name+" radius")
			at := r3.Vec{X: r * math.Sin(b), Y: r * math.Cos(b), Z: 60 + s.between(-3, 3, name+" offset")}
			low := r3.Add(at, r3.Vec{X: s.between(-8, 8, name+" x"), Y: s.between(-8, 8, name+" y"), Z: -s.between(35, 50, name+" length")})
			link(name, pick(name+" on"), low, "plate", at)
		}
		spec.Bodies = append(spec.Bodies, plate)
		if s("ring") < 0.5 {
			b := s.between(0, 2*math.Pi, "driver")
			spec.Bodies = append(spec.Bodies,
				network.Body{Name: "ring", Kind: network.Ring, On: "plate", Mark: network.MarkAt(units.Angle(b))},
				network.Body{Name: "grip", Kind: network.Crank, Point: millimetres(r3.Vec{Z: 110}), Axis: linkage.Direction{X: 1}})
			link("grip link", "ring", r3.Vec{X: 5, Y: 20, Z: 62}, "grip", r3.Vec{X: 6, Y: 20, Z: 109})
		}
	}
	if len(spec.Links) > 0 && s("spare") < 0.25 {
		// One link too many, and stiffnesses.
		a, b := pick("spare a"), pick("spare b")
		link("spare", a, place("spare a"), b, place("spare b"))
		for i := range spec.Links {
			spec.Links[i].Stiffness = units.Stiffness(s.between(20e3, 200e3, "stiffness"))
		}
	}
	return spec, inputs
}

// Random networks hold every law.
func TestRandom(t *testing.T) {
	networktest.Test(t, func(t *rapid.T) (network.Spec, []float64) {
		spec, inputs := random(func(name string) float64 { return rapid.Float64Range(0, 1).Draw(t, name) })
		if _, err := network.New(spec); err != nil {
			t.Skip("no such network:", err)
		}
		return spec, inputs
	})
}

// FuzzRandom stretches its eight numbers to as many as are wanted, and so reaches
// networks of every make.
func FuzzRandom(f *testing.F) {
	networktest.Fuzz(f, func(numbers [8]float64) (network.Spec, []float64) {
		k := 0
		return random(func(string) float64 {
			x := numbers[k%8] + float64(k/8)*math.Phi
			k++
			if x >= 0 && x <= 1 {
				return x
			}
			_, part := math.Modf(math.Abs(x))
			return part // of NaN and infinities NaN
		})
	}, [8]float64{0.5, 0.1, 0.9, 0.3, 0.7, 0.2, 0.6, 0.4}, [8]float64{0.9, 0.8, 0.2, 0.6, 0.1, 0.3, 0.55, 0.95})
}

// FuzzFourBar makes four-bars of any dimensions, none more than twenty times the
// coupler: differences over a crank of 134 m tell little of a link of half a metre.
func FuzzFourBar(f *testing.F) {
	networktest.Fuzz(f, func(n [8]float64) (network.Spec, []float64) {
		for _, x := range n[:4] {
			if math.Abs(x) > 20*math.Abs(n[1]) {
				return network.Spec{Bodies: make([]network.Body, 1)}, nil // which is refused
			}
		}
		arms := linkage.FourBar(units.Length(n[0]), units.Length(n[1]), units.Length(n[2]), units.Length(n[3]), units.Angle(n[4]), units.Angle(n[5]))
		arms.Driven.Axis.X = n[6]
		var spec network.Spec
		for i, a := range []linkage.ArmSpec{arms.Driving, arms.Driven} {
			name := [2]string{"crank", "rocker"}[i]
			spec.Bodies = append(spec.Bodies, network.Body{Name: name, Kind: network.Crank, Point: a.Shaft, Axis: a.Axis, Input: i == 0})
			spec.Balls = append(spec.Balls, network.Ball{Name: name, Body: name, At: a.Shaft.Along(a.Neutral, a.Radius)})
		}
		spec.Links = []network.Link{{Name: "coupler", A: "crank", B: "rocker", Length: arms.Driving.Link}}
		return spec, []float64{n[7]}
	}, [8]float64{0.01, 0.05, 0.02, 0.05, 1.2, 1.9, 0.3, 0.4}, [8]float64{0.012, 0.042, 0.016, 0.042, 1.57, 1.57, 0, -1.2})
}
