package networktest_test

import (
	"fmt"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/servo/network/networktest"
)

// A servo and a lever with a rod between hold every law at neutral, and with the servo at
// 0.2 and at -0.3 rad. The dimensions are invented.
func ExampleCheck() {
	across := linkage.Direction{X: 1}
	spec := network.Spec{
		Bodies: []network.Body{
			{Name: "servo", Kind: network.Crank, Axis: across, Input: true},
			{Name: "lever", Kind: network.Crank, Axis: across, Point: linkage.Point{Y: 40 * mm}},
		},
		Balls: []network.Ball{
			{Name: "arm", Body: "servo", At: linkage.Point{Z: 15 * mm}},
			{Name: "end", Body: "lever", At: linkage.Point{Y: 40 * mm, Z: 20 * mm}},
		},
		Links: []network.Link{{Name: "rod", A: "arm", B: "end"}},
	}
	fmt.Println(networktest.Check(spec, []float64{0.2}, []float64{-0.3}))
	// Output:
	// <nil>
}
