package swash_test

import (
	"fmt"

	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// A swashplate on three upright legs: where half collective puts it, and what 1 % more
// end point on one servo does to it. All numbers are invented.
func Example() {
	const height = 60 * units.Millimetre
	layout := swash.ThreeAt120(0, 30*units.Millimetre)
	spec := swash.PlateSpec{Height: height, Guide: swash.GuideAt(180 * units.Degree)}
	for _, ball := range layout {
		leg, err := swash.Upright(ball, height, 15*units.Millimetre, 60*units.Millimetre, swash.Outward)
		if err != nil {
			fmt.Println(err)
			return
		}
		spec.Legs = append(spec.Legs, leg)
	}
	plate, err := swash.NewPlate(spec)
	if err != nil {
		fmt.Println(err)
		return
	}

	s := servo.Servo{
		Neutral: 1520 * units.PulseMicrosecond,
		Throw:   400 * units.PulseMicrosecond,
		Travel:  45 * units.Degree,
		Low:     100 * units.Percent,
		High:    100 * units.Percent,
		Min:     920 * units.PulseMicrosecond,
		Max:     2120 * units.PulseMicrosecond,
	}
	control, err := swash.NewControl(plate, []servo.Servo{s, s, s}, layout.Mix())
	if err != nil {
		fmt.Println(err)
		return
	}
	state := control.NewState()
	pose, err := control.Pose(state, swash.Demand{Collective: 0.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("all arms at %.2f°: height %.2f mm, tilt %.2f°\n",
		state.Arms[0].Degrees(), pose.Height.Millimetres(), pose.Tilt.Amount().Degrees())

	s.High += 1 * units.Percent
	uneven, err := control.WithServo(0, s)
	if err != nil {
		fmt.Println(err)
		return
	}
	pose, err = uneven.Pose(state, swash.Demand{Collective: 0.5})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("front servo's end point up by 1 %%: tilt %.2f°, low side over the tail (%.0f°)\n",
		pose.Tilt.Amount().Degrees(), pose.Tilt.LowSide().Degrees())
	// Output:
	// all arms at 22.50°: height 65.73 mm, tilt 0.00°
	// front servo's end point up by 1 %: tilt 0.07°, low side over the tail (180°)
}

// Tilt points at the plate's low side: right cyclic lowers the right.
func ExampleTilt() {
	tilt := swash.Tilt{Right: 3 * units.Degree, Forward: 4 * units.Degree}
	fmt.Printf("%.2f°, low side %.1f° clockwise from the nose\n", tilt.Amount().Degrees(), tilt.LowSide().Degrees())
	// Output: 5.00°, low side 36.9° clockwise from the nose
}

// Three balls at 120°, the first at the nose: how the functions share the servos.
func ExampleLayout_Mix() {
	for _, row := range swash.ThreeAt120(0, 30*units.Millimetre).Mix() {
		fmt.Printf("collective %+.2f  right %+.2f  forward %+.2f\n", row.Collective, row.Right, row.Forward)
	}
	// Output:
	// collective +1.00  right +0.00  forward -1.00
	// collective +1.00  right -0.87  forward +0.50
	// collective +1.00  right +0.87  forward +0.50
}

// A pose prints for people.
func ExamplePose_String() {
	pose := swash.Pose{Height: 61.4 * units.Millimetre, Tilt: swash.TiltTo(5.2*units.Degree, 180*units.Degree)}
	fmt.Println(pose)
	fmt.Println(swash.Pose{Height: 60 * units.Millimetre})
	// Output:
	// 61.4 mm high, tilt 5.2°, low side towards 180°
	// 60 mm high, level
}
