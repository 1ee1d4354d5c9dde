package network_test

import (
	"fmt"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/units"
)

// A cyclic bell crank that rides on the collective lever, all dimensions invented. As
// the lever rises, the crank's link to the cyclic servo holds its end back, so the crank
// turns: the mechanism mixes collective into cyclic by itself.
func Example() {
	at := func(x, y, z float64) linkage.Point {
		return linkage.Point{X: units.Length(x) * mm, Y: units.Length(y) * mm, Z: units.Length(z) * mm}
	}
	across := linkage.Direction{X: 1} // all shafts lie across the machine
	spec := network.Spec{
		Bodies: []network.Body{
			{Name: "collective lever", Kind: network.Crank, Axis: across, Point: at(0, -40, 30), Input: true},
			{Name: "cyclic servo", Kind: network.Crank, Axis: across, Point: at(0, -10, 0), Input: true},
			{Name: "bell crank", Kind: network.Crank, Axis: across, On: "collective lever", Point: at(0, 20, 30)},
		},
		Balls: []network.Ball{
			{Name: "servo ball", Body: "cyclic servo", At: at(0, 5, 0)},
			{Name: "crank ball", Body: "bell crank", At: at(0, 5, 30)},
		},
		Links: []network.Link{{Name: "cyclic rod", A: "servo ball", B: "crank ball"}},
	}
	n, err := network.New(spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := n.NewState()
	for _, collective := range []units.Angle{-10, 0, 10} {
		if err := s.Solve([]float64{float64(collective * units.Degree), 0}); err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("lever at %+3.0f°: bell crank at %+.2f°\n", float64(collective), units.Angle(s.Coordinate(2)).Degrees())
	}

	spec.Links = nil
	_, err = network.New(spec)
	fmt.Println(err)
	// Output:
	// lever at -10°: bell crank at -33.13°
	// lever at  +0°: bell crank at +0.00°
	// lever at +10°: bell crank at +35.09°
	// network: "bell crank": can move though every input stands still
}
