package linkage_test

import (
	"fmt"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// A crank of 10 in and a rod of 20 in, with the slider on a line through the
// shaft: where the crank stands when the slider is 25.78 in out. A published
// exercise; testdata/slider_crank.csv, case A, names its source.
func Example() {
	crank, err := linkage.NewArm(linkage.ArmSpec{
		Axis:    linkage.Direction{Z: 1},
		Neutral: linkage.Direction{X: 1},
		Radius:  10 * units.Inch,
		Link:    20 * units.Inch,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	q, err := crank.AngleTo(linkage.Point{X: 25.7793547457352 * units.Inch}, linkage.Ahead)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("crank at %.3f°\n", q.Degrees())

	_, err = crank.AngleTo(linkage.Point{X: 31 * units.Inch}, linkage.Ahead)
	fmt.Println(err)
	// Output:
	// crank at 45.000°
	// linkage: link too short by 25.4 mm
}

// Half a turn of one ball link on an M2 thread.
func ExampleThread() {
	pitch, err := linkage.Thread("M2").Pitch()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("half a turn:", pitch/2)
	// Output: half a turn: 0.2 mm
}
