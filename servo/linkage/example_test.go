package linkage_test

import (
	"fmt"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// A servo arm of 12 mm turns a bell crank of 15 mm by a link of 60 mm. All numbers are
// invented.
func Example() {
	const mm, degree = units.Millimetre, units.Degree
	crank, err := linkage.NewArmToArm(linkage.FourBar(12*mm, 60*mm, 15*mm, 60*mm, 90*degree, 90*degree))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, arm := range []units.Angle{-20 * degree, 0, 20 * degree} {
		m, err := crank.Move(arm.Radians())
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("servo arm at %v: crank at %.2f°, slope %.3f\n", arm, units.Angle(m.Out).Degrees(), m.Slope)
	}
	in, err := crank.Back((10 * degree).Radians())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("for 10° turn the servo arm to %.2f°\n", units.Angle(in).Degrees())

	_, err = crank.Move((120 * degree).Radians())
	fmt.Println(err)
	// Output:
	// servo arm at -20°: crank at -15.55°, slope 0.777
	// servo arm at 0°: crank at 0.29°, slope 0.800
	// servo arm at 20°: crank at 16.20°, slope 0.786
	// for 10° turn the servo arm to 12.16°
	// the input of 2.0944 is beyond the linkage's travel by 0.356 (rad or m), which ends with the driving arm in line with its link
}

// A crank of 10 in and a rod of 20 in, with the slider on a line through the
// shaft: where the crank stands when the slider is 25.78 in out. A published
// exercise; testdata/slider_crank.csv, case A, names its source.
func ExampleArm_AngleTo() {
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
	// the link is too short by 25.4 mm at any angle of its arm
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
