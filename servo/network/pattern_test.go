package network_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/servo/network/networktest"
	"example.org/levelhead/units"
)

// same is how near a network's answer must be to that of a type that solves one pattern
// exactly, relative to a radian or to the lengths, over how well its links hold.
const same = 1e-12

func lengthOf(t *rapid.T, lo, hi float64, name string) units.Length {
	return units.Length(rapid.Float64Range(lo, hi).Draw(t, name)) * mm
}

func angleOf(t *rapid.T, lo, hi float64, name string) units.Angle {
	return units.Angle(rapid.Float64Range(lo, hi).Draw(t, name)) * units.Degree
}

// addArm adds an arm of package linkage as a crank with a ball.
func addArm(s *network.Spec, name string, a linkage.ArmSpec, input bool) {
	s.Bodies = append(s.Bodies, network.Body{Name: name, Kind: network.Crank, Point: a.Shaft, Axis: a.Axis, Input: input})
	s.Balls = append(s.Balls, network.Ball{Name: name + " ball", Body: name, At: a.Shaft.Along(a.Neutral, a.Radius)})
}

// drawArms draws two arms and their link, in space.
func drawArms(t *rapid.T) linkage.ArmsSpec {
	spec := linkage.FourBar(lengthOf(t, 10, 16, "crank"), lengthOf(t, 34, 48, "link"), lengthOf(t, 12, 22, "rocker"), 42*mm,
		angleOf(t, 60, 120, "crank at"), angleOf(t, 60, 120, "rocker at"))
	spec.Driven.Shaft.Z = lengthOf(t, -6, 6, "out of plane")
	to, tip := spec.Driven.Neutral, rapid.Float64Range(-0.4, 0.4).Draw(t, "tip")
	spec.Driven.Axis = linkage.Direction{X: -tip * to.Y, Y: tip * to.X, Z: 1}
	return spec
}

func solved(t *rapid.T, spec network.Spec, inputs ...float64) *network.State {
	n, err := network.New(spec)
	if err != nil {
		t.Skip("no such network:", err)
	}
	s := n.NewState()
	if err := s.Solve(inputs); err != nil {
		t.Skip("out of reach:", err)
	}
	return s
}

func hold(s *network.State) float64 { return math.Min(1, math.Abs(s.Hold())) }

// A network of two arms is an ArmToArm: place, slope and the link's effect.
func TestArmToArm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		arms := drawArms(t)
		exact, err := linkage.NewArmToArm(arms)
		if err != nil {
			t.Skip("no such linkage:", err)
		}
		var spec network.Spec
		addArm(&spec, "driving", arms.Driving, true)
		addArm(&spec, "driven", arms.Driven, false)
		spec.Links = []network.Link{{Name: "link", A: "driving ball", B: "driven ball", Length: arms.Driving.Link}}
		q := float64(angleOf(t, -40, 40, "arm"))
		s := solved(t, spec, q)
		want, err := exact.Move(q)
		if err != nil {
			t.Skip("out of travel:", err)
		}
		// The linkage takes the nearer of the two branches at neutral, the network the
		// one that the drawing leads to: not always one.
		if math.Abs(s.Coordinate(1)-want.Out) > 0.2 {
			t.Skip("another branch")
		}
		d := make([]float64, 2)
		if err := s.InputEffect(d, 0); err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(s.Coordinate(1) - want.Out); !(off <= same/hold(s)) {
			t.Errorf("driven at %v, want %v: off by %g", s.Coordinate(1), want.Out, off)
		}
		if off := math.Abs(d[1] - want.Slope); !(off <= same*math.Abs(want.Slope)/hold(s)/hold(s)+same) {
			t.Errorf("slope %v, want %v", d[1], want.Slope)
		}
		perLink, err := exact.LinkSlopes(nil, q)
		if err != nil {
			t.Fatal(err)
		}
		p, err := s.Network().Part(network.Length, "link", 0)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Effect(d, p); err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(d[1] - perLink[0]); !(off <= same*math.Abs(perLink[0])/hold(s)/hold(s)) {
			t.Errorf("per metre of link %v, want %v", d[1], perLink[0])
		}
	})
}

// A network of an arm and a slider is an ArmToLine.
func TestArmToLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := linkage.SliderCrank(lengthOf(t, 10, 16, "crank"), lengthOf(t, 40, 60, "rod"), lengthOf(t, -8, 8, "offset"), angleOf(t, 50, 130, "crank at"))
		line.Along = linkage.Direction{X: 1, Y: rapid.Float64Range(-0.3, 0.3).Draw(t, "y"), Z: rapid.Float64Range(-0.3, 0.3).Draw(t, "z")}
		line.Ball.X = line.Arm.Link // about where the rod reaches
		exact, err := linkage.NewArmToLine(line)
		if err != nil {
			t.Skip("no such linkage:", err)
		}
		spec := network.Spec{
			Bodies: []network.Body{{Name: "slider", Kind: network.Slider, Point: line.Ball, Axis: line.Along}},
			Balls:  []network.Ball{{Name: "slider ball", Body: "slider", At: line.Ball}},
		}
		addArm(&spec, "arm", line.Arm, true)
		spec.Links = []network.Link{{Name: "rod", A: "arm ball", B: "slider ball", Length: line.Arm.Link}}
		q := float64(angleOf(t, -40, 40, "arm"))
		s := solved(t, spec, q)
		want, err := exact.Move(q)
		if err != nil {
			t.Skip("out of travel:", err)
		}
		if off := math.Abs(s.Coordinate(0) - want.Out); !(off <= same*float64(line.Arm.Link)/hold(s)) {
			t.Errorf("slider at %v, want %v", s.Coordinate(0), want.Out)
		}
	})
}

// A network of bell cranks behind each other is a Chain.
func TestChain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var spec network.Spec
		var members []linkage.Linkage
		for i, name := range []string{"first", "second", "third"} {
			arms := drawArms(t)
			arms.Driving.Shaft.X += units.Length(i) * 42 * mm
			arms.Driven.Shaft.X += units.Length(i) * 42 * mm
			if i == 0 {
				addArm(&spec, name, arms.Driving, true)
			} else {
				// The driving arm is on the shaft of the crank before.
				crank := spec.Bodies[len(spec.Bodies)-1]
				arms.Driving.Shaft, arms.Driving.Axis = crank.Point, crank.Axis
				axis := r3.Unit(r3.Vec(crank.Axis))
				to := r3.Vec(arms.Driving.Neutral)
				arms.Driving.Neutral = linkage.Direction(r3.Unit(r3.Sub(to, r3.Scale(r3.Dot(axis, to), axis))))
				spec.Balls = append(spec.Balls, network.Ball{Name: name + " ball", Body: crank.Name, At: arms.Driving.Shaft.Along(arms.Driving.Neutral, arms.Driving.Radius)})
			}
			addArm(&spec, name+" out", arms.Driven, false)
			// The link is cut to fit, so that each crank begins where it is drawn.
			balls := spec.Balls[len(spec.Balls)-2:]
			arms.Driving.Link = units.Length(r3.Norm(r3.Sub(balls[0].At.Vec(), balls[1].At.Vec())))
			spec.Links = append(spec.Links, network.Link{Name: name, A: balls[0].Name, B: balls[1].Name, Length: arms.Driving.Link})
			member, err := linkage.NewArmToArm(arms)
			if err != nil {
				t.Skip("no such linkage:", err)
			}
			members = append(members, member)
		}
		chain, err := linkage.NewChain(members...)
		if err != nil {
			t.Skip("no such chain:", err)
		}
		q := float64(angleOf(t, -25, 25, "arm"))
		s := solved(t, spec, q)
		want, err := chain.Move(q)
		if err != nil {
			t.Skip("out of travel:", err)
		}
		if off := math.Abs(s.Coordinate(3) - want.Out); !(off <= same*max(1, math.Abs(want.Slope))/hold(s)) {
			t.Errorf("the last crank at %v, want %v: off by %g", s.Coordinate(3), want.Out, off)
		}
		d := make([]float64, 4)
		if err := s.InputEffect(d, 0); err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(d[3] - want.Slope); !(off <= 10*same*max(1, math.Abs(want.Slope))/hold(s)/hold(s)) {
			t.Errorf("slope %v, want %v", d[3], want.Slope)
		}
	})
}

// mixingArm is a mixing arm on a pivot that the bar moves, with the plate's rod on its
// other end and the blade's link between; all slide up and down.
func mixingArm(plateSide, barSide units.Length) network.Spec {
	up := linkage.Direction{Z: 1}
	y := plateSide + barSide
	return network.Spec{
		Bodies: []network.Body{
			{Name: "plate", Kind: network.Slider, Axis: up, Point: linkage.Point{}, Input: true},
			{Name: "bar", Kind: network.Slider, Axis: up, Point: linkage.Point{Y: y}, Input: true},
			{Name: "mixing arm", Kind: network.Crank, On: "bar", Axis: linkage.Direction{X: 1}, Point: linkage.Point{Y: y, Z: 30 * mm}},
			{Name: "blade", Kind: network.Slider, Axis: up, Point: linkage.Point{Y: plateSide}},
		},
		Balls: []network.Ball{
			{Name: "rod low", Body: "plate", At: linkage.Point{}},
			{Name: "rod high", Body: "mixing arm", At: linkage.Point{Z: 30 * mm}},
			{Name: "link low", Body: "mixing arm", At: linkage.Point{Y: plateSide, Z: 30 * mm}},
			{Name: "link high", Body: "blade", At: linkage.Point{Y: plateSide, Z: 60 * mm}},
		},
		Links: []network.Link{{Name: "rod", A: "rod low", B: "rod high"}, {Name: "blade link", A: "link low", B: "link high"}},
	}
}

// A mixing arm gives the blade the shares of plate and bar that its sides say, where it
// is level; and as a lever between balls less and more as it tips.
func TestMixingArm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		plateSide, barSide := lengthOf(t, 8, 20, "plate side"), lengthOf(t, 8, 20, "bar side")
		n, err := network.New(mixingArm(plateSide, barSide))
		if err != nil {
			t.Fatal(err)
		}
		s := n.NewState()
		blade, _ := n.Coordinate("blade")
		d := make([]float64, 4)
		for i, want := range [2]float64{float64(barSide / (plateSide + barSide)), float64(plateSide / (plateSide + barSide))} {
			if err := s.InputEffect(d, i); err != nil {
				t.Fatal(err)
			}
			if math.Abs(d[blade]-want) > same {
				t.Errorf("input %d has the share %v, want %v", i, d[blade], want)
			}
		}
	})
	networktest.Test(t, func(t *rapid.T) (network.Spec, []float64) {
		spec := mixingArm(lengthOf(t, 8, 20, "plate side"), lengthOf(t, 8, 20, "bar side"))
		return spec, []float64{float64(lengthOf(t, -4, 4, "plate")), float64(lengthOf(t, -4, 4, "bar"))}
	})
}

// The play of a chain is that of each ball times what the link does.
func TestPlay(t *testing.T) {
	spec := fourBar()
	spec.Balls[0].Play, spec.Balls[1].Play = 0.04*mm, 0.06*mm
	n, err := network.New(spec)
	if err != nil {
		t.Fatal(err)
	}
	s := n.NewState()
	play := make([]float64, 2)
	if err := s.Play(play); err != nil {
		t.Fatal(err)
	}
	// The rod stands at atan(5/40) to the lever's square.
	cos := 40 / math.Hypot(40, 5)
	if want := 0.1 / (20 * cos); play[0] != 0 || math.Abs(play[1]-want) > 1e-14 {
		t.Errorf("play %v, want %v", play, want)
	}
	// A loose shaft moves the lever's own ball along the rod as much as it moves.
	spec.Balls[0].Play, spec.Balls[1].Play, spec.Bodies[1].Play = 0, 0, 0.1*mm
	if n, err = network.New(spec); err != nil {
		t.Fatal(err)
	}
	if err := n.NewState().Play(play); err != nil {
		t.Fatal(err)
	}
	if want := 0.1 / (20 * cos); math.Abs(play[1]-want) > 1e-14 {
		t.Errorf("play of the shaft %v, want %v", play, want)
	}
}

// A force at a ball asks of the servo what virtual work says.
func TestAddForce(t *testing.T) {
	n, err := network.New(fourBar())
	if err != nil {
		t.Fatal(err)
	}
	s := n.NewState()
	load := n.NewLoad()
	end, _ := n.Ball("end")
	// 10 N against the lever's end, square to it: 0.2 N·m on its shaft.
	if err := s.AddForce(load, end, r3.Vec{Y: 10}); err != nil {
		t.Fatal(err)
	}
	if math.Abs(load[0]) > 1e-15 || math.Abs(load[1]+0.2) > 1e-15 {
		t.Errorf("load %v", load)
	}
	torques, forces := make([]float64, 1), make([]units.Force, 1)
	if err := s.Carry(torques, forces, load); err != nil {
		t.Fatal(err)
	}
	cos := 40 / math.Hypot(40, 5)
	if want := 10 / cos; math.Abs(float64(forces[0])-want) > 1e-12 { // pulled
		t.Errorf("the rod carries %v N, want %v", forces[0], want)
	}
	if want := 15e-3 * 10.; math.Abs(math.Abs(torques[0])-want) > 1e-14 {
		t.Errorf("the servo carries %v N·m, want %v", torques[0], want)
	}
}
