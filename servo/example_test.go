package servo_test

import (
	"fmt"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// A servo at half command, and what happens beyond its pulse limits.
func Example() {
	s := servo.Servo{
		Neutral: 1520 * units.PulseMicrosecond,
		Throw:   400 * units.PulseMicrosecond,
		Travel:  45 * units.Degree,
		Low:     100 * units.Percent,
		High:    100 * units.Percent,
		Step:    1 * units.PulseMicrosecond,
		Min:     920 * units.PulseMicrosecond,
		Max:     2120 * units.PulseMicrosecond,
	}
	if err := s.Validate(); err != nil {
		fmt.Println(err)
		return
	}
	for _, command := range []float64{0.5, 1.6} {
		out := s.Output(command)
		fmt.Printf("command %+.1f: %v, arm at %.1f°, beyond the limit by %v\n", command, out.Pulse, out.Arm.Degrees(), out.BeyondLimit)
	}
	// Output:
	// command +0.5: 1720 µs, arm at 22.5°, beyond the limit by 0 µs
	// command +1.6: 2120 µs, arm at 67.5°, beyond the limit by 40 µs
}

// An arm that stands 16° too low on a spline of 25 teeth: one tooth up, and
// sub-trim for the 1.6° that are left.
func ExampleSpline_Square() {
	teeth, left, err := servo.Spline(25).Square(-16 * units.Degree)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%+d tooth, then %.1f° by sub-trim\n", teeth, -left.Degrees())
	// Output: +1 tooth, then 1.6° by sub-trim
}

// What a 4.2 kgf·cm servo can hold at the ball of a 15 mm arm, square to its
// link and 30° from one line with it.
func ExampleHoldingForce() {
	for _, between := range []units.Angle{90 * units.Degree, 30 * units.Degree} {
		f, err := servo.HoldingForce(4.2*units.KilogramForceCentimetre, 15*units.Millimetre, between, 0)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: %.1f N\n", between, f.Newtons())
	}
	// Output:
	// 90°: 27.5 N
	// 30°: 54.9 N
}
