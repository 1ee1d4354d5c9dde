package swash_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// networkOf describes a plate and its legs as a network: a crank for each arm.
func networkOf(spec swash.PlateSpec) network.Spec {
	plate := network.Body{Name: "plate", Kind: network.Plate, Height: spec.Height}
	if b, ok := spec.Guide.Bearing(); ok {
		plate.Mark = network.MarkAt(b)
	}
	n := network.Spec{Bodies: []network.Body{plate}}
	for i, l := range spec.Legs {
		name := fmt.Sprint("servo ", i+1)
		sin, cos := math.Sincos(float64(l.Ball.Bearing))
		n.Bodies = append(n.Bodies, network.Body{Name: name, Kind: network.Crank, Point: l.Arm.Shaft, Axis: l.Arm.Axis, Input: true})
		n.Balls = append(n.Balls,
			network.Ball{Name: name + " arm", Body: name, At: l.Arm.Shaft.Along(l.Arm.Neutral, l.Arm.Radius)},
			network.Ball{Name: name + " plate", Body: "plate", At: linkage.Point{
				X: l.Ball.Radius * units.Length(sin), Y: l.Ball.Radius * units.Length(cos), Z: spec.Height + l.Ball.Offset,
			}})
		n.Links = append(n.Links, network.Link{Name: name, A: name + " arm", B: name + " plate", Length: l.Arm.Link, Stiffness: l.Stiffness})
	}
	return n
}

// samePlate holds a network to a plate: pose, slopes over the arms, links and radii,
// strains, forces and torques.
func samePlate(t *rapid.T, spec swash.PlateSpec, arms []units.Angle) {
	const off = 1e-12 // of a radian or of the plate's radius, over the hold
	p := build(t, spec)
	pose, err := p.Pose(arms)
	if err != nil {
		t.Skip("out of reach:", err)
	}
	effects := make([]swash.LegEffect, len(arms))
	if err := p.LegEffects(effects, pose, arms); err != nil {
		t.Skip("at a dead centre:", err)
	}
	n, err := network.New(networkOf(spec))
	if err != nil {
		t.Fatal(err)
	}
	in := make([]float64, len(arms))
	for i, q := range arms {
		in[i] = float64(q)
	}
	s := n.NewState()
	if err := s.Solve(in); err != nil {
		t.Fatal(err)
	}
	hold := math.Min(1, s.Hold())
	size := float64(spec.Legs[0].Ball.Radius)
	same := func(what string, got, want, scale float64) {
		if d := math.Abs(got - want); !(d <= off*scale/hold) {
			t.Errorf("%s %.17g, the plate's %.17g: off by %.2g with the hold %.3g", what, got, want, d, hold)
		}
	}
	at := pose.Frame(swash.Guide{})
	normal := at.Point(swash.Ball{Offset: 1}) // 1 m along the normal
	same("height", s.Coordinate(0), float64(pose.Height), size)
	same("normal's part to the right", s.Coordinate(1), float64(normal.X), 1)
	same("normal's part forward", s.Coordinate(2), float64(normal.Y), 1)

	// The slopes of the normal's parts over the tilt, of the ball of 1 m offset.
	_, perRight, perForward := at.Slopes(swash.Ball{Offset: 1})
	step := make([]float64, len(n.Coordinates()))
	compare := func(what string, want swash.PoseRate) {
		scale := 10 * (math.Abs(want.Height)/size + math.Abs(want.Right) + math.Abs(want.Forward) + 1) / hold
		same(what+": height", step[0], want.Height, scale*size)
		same(what+": right", step[1], want.Right*float64(perRight.X)+want.Forward*float64(perForward.X), scale)
		same(what+": forward", step[2], want.Right*float64(perRight.Y)+want.Forward*float64(perForward.Y), scale)
	}
	fights := make([]swash.Fight, len(arms))
	if err := p.Fights(fights, pose, arms); err != nil {
		t.Fatal(err)
	}
	strains, forces, torques := make([]units.Length, len(arms)), make([]units.Force, len(arms)), make([]float64, len(arms))
	if err := s.Strains(strains); err != nil {
		t.Fatal(err)
	}
	if err := s.Carry(torques, forces, n.NewLoad()); err != nil {
		t.Fatal(err)
	}
	for i, e := range effects {
		if err := s.InputEffect(step, i); err != nil {
			t.Fatal(err)
		}
		compare(fmt.Sprintf("arm %d", i+1), e.PerArm)
		part, err := n.Part(network.Length, fmt.Sprint("servo ", i+1), 0)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Effect(step, part); err != nil {
			t.Fatal(err)
		}
		compare(fmt.Sprintf("link %d", i+1), swash.PoseRate{Height: e.PerLink.Height, Right: e.PerLink.Right, Forward: e.PerLink.Forward})
		stiff := float64(spec.Legs[i].Stiffness)
		same("strain", float64(strains[i]), float64(fights[i].Strain), size)
		same("force", float64(forces[i]), float64(fights[i].Force), stiff*size+1)
		same("torque", torques[i], float64(fights[i].Torque), stiff*size*size+1)
	}
}

// A network of three legs is a plate.
func TestNetworkOfThreeLegs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawUneven(t)
		samePlate(t, spec, drawArms(t, 3))
	})
}

// A network of four or five legs that fight is a plate too, strains and all.
func TestNetworkOfFightingLegs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec, arms := drawStrained(t)
		samePlate(t, spec, arms)
	})
}
