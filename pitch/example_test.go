package pitch_test

import (
	"fmt"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// A blade over a swashplate: the pitch link to cut for zero pitch at neutral, then
// the blade's pitch over a revolution with the plate raised and tilted. All numbers are
// invented.
func Example() {
	const neutral = 60 * units.Millimetre
	spec := pitch.GripSpec{
		RingRadius: 16 * units.Millimetre,
		Phase:      80 * units.Degree,
		HubHeight:  105 * units.Millimetre,
		Horn:       20 * units.Millimetre,
		HornX:      4 * units.Millimetre,
		Rotation:   pitch.Clockwise,
		Side:       pitch.Leading,
	}
	var err error
	if spec.Link, err = spec.LinkFor(0, neutral); err != nil {
		fmt.Println(err)
		return
	}
	grip, err := pitch.NewGrip(spec, neutral)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("cut the pitch link to %.2f mm\n", spec.Link.Millimetres())

	pose := swash.Pose{Height: 62 * units.Millimetre, Tilt: swash.Tilt{Forward: 5 * units.Degree}}
	rev, err := grip.Revolution(pose)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("collective %.2f°, cyclic %.2f°, most pitch with the blade at %.0f°\n",
		rev.Collective.Degrees(), rev.Amplitude().Degrees(), rev.Phase().Degrees())

	back, err := grip.PoseFor(rev.Cyclic)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the pose for that: height %.2f mm, %.2f° forward\n",
		back.Height.Millimetres(), back.Tilt.Forward.Degrees())
	// Output:
	// cut the pitch link to 45.22 mm
	// collective 5.77°, cyclic 4.05°, most pitch with the blade at 100°
	// the pose for that: height 62.00 mm, 5.00° forward
}
