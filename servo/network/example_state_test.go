package network_test

import (
	"fmt"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/units"
)

// parallelogram is a servo arm and a lever of 15 mm, both upright, with a rod of 40 mm
// from one to the other: the lever turns as the servo does. Its dimensions are invented.
func parallelogram() *network.State {
	at := func(y, z float64) linkage.Point {
		return linkage.Point{Y: units.Length(y) * mm, Z: units.Length(z) * mm}
	}
	across := linkage.Direction{X: 1}
	n, err := network.New(network.Spec{
		Bodies: []network.Body{
			{Name: "servo", Kind: network.Crank, Axis: across, Input: true},
			{Name: "lever", Kind: network.Crank, Axis: across, Point: at(40, 0)},
		},
		Balls: []network.Ball{
			{Name: "arm", Body: "servo", At: at(0, 15), Play: 0.05 * mm},
			{Name: "end", Body: "lever", At: at(40, 15), Play: 0.05 * mm},
		},
		Links: []network.Link{{Name: "rod", A: "arm", B: "end"}},
	})
	if err != nil {
		panic(err)
	}
	return n.NewState()
}

// A rod that is 1 mm longer turns the lever.
func ExampleState_Effect() {
	s := parallelogram()
	n := s.Network()
	rod, err := n.Part(network.Length, "rod", 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	dst := make([]float64, len(n.Coordinates()))
	if err := s.Effect(dst, rod); err != nil {
		fmt.Println(err)
		return
	}
	lever, _ := n.Coordinate("lever")
	fmt.Printf("%+.2f° per mm\n", units.Angle(dst[lever]*float64(mm)).Degrees())
	// Output:
	// -3.82° per mm
}

// The lever turns as the servo does.
func ExampleState_InputEffect() {
	s := parallelogram()
	n := s.Network()
	dst := make([]float64, len(n.Coordinates()))
	if err := s.InputEffect(dst, 0); err != nil {
		fmt.Println(err)
		return
	}
	lever, _ := n.Coordinate("lever")
	fmt.Printf("%.2f\n", dst[lever])
	// Output:
	// 1.00
}

// What all parts do to the lever, of which the largest is told.
func ExampleState_Gradient() {
	s := parallelogram()
	n := s.Network()
	weights := make([]float64, len(n.Coordinates()))
	lever, _ := n.Coordinate("lever")
	weights[lever] = 1
	parts := n.Parts()
	dst := make([]float64, len(parts))
	if err := s.Gradient(dst, weights, parts); err != nil {
		fmt.Println(err)
		return
	}
	for i, p := range parts {
		if p.Kind() == network.Length || p.Kind() == network.Seat && p.Axis() == 1 {
			fmt.Printf("%v: %+.2f° per mm\n", p, units.Angle(dst[i]*float64(mm)).Degrees())
		}
	}
	// Output:
	// length of "rod": -3.82° per mm
	// seat of "servo", y: -3.82° per mm
	// seat of "lever", y: +3.82° per mm
}

// The servo holds a torque on the lever through the rod.
func ExampleState_Carry() {
	s := parallelogram()
	n := s.Network()
	load := n.NewLoad()
	lever, _ := n.Coordinate("lever")
	load[lever] = 0.15 // N m
	torques, forces := make([]float64, 1), make([]units.Force, 1)
	if err := s.Carry(torques, forces, load); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("servo %+.2f N m, rod %+.0f N\n", torques[0], float64(forces[0]))
	// Output:
	// servo -0.15 N m, rod -10 N
}

// Two balls with a play of 0.05 mm each let the lever move with the servo still.
func ExampleState_Play() {
	s := parallelogram()
	dst := make([]float64, len(s.Network().Coordinates()))
	if err := s.Play(dst); err != nil {
		fmt.Println(err)
		return
	}
	lever, _ := s.Network().Coordinate("lever")
	fmt.Printf("%.2f°\n", units.Angle(dst[lever]).Degrees())
	// Output:
	// 0.38°
}

// At 30° the rod is square to the arm no more.
func ExampleState_Margins() {
	s := parallelogram()
	if err := s.Solve([]float64{float64(30 * units.Degree)}); err != nil {
		fmt.Println(err)
		return
	}
	margins, err := s.Margins(nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range margins {
		fmt.Printf("%s on %s: %.3f\n", m.Link, m.Body, m.Sine)
	}
	// Output:
	// rod on servo: 0.866
	// rod on lever: 0.866
}

// At 90° arms and rod are in line.
func ExampleState_Reach() {
	s := parallelogram()
	far, stop, err := s.Reach([]float64{1}, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f°, stopped: %v\n", units.Angle(far).Degrees(), stop != nil)
	// Output:
	// 90.0°, stopped: true
}
