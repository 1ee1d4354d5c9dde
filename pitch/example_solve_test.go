package pitch_test

import (
	"errors"
	"fmt"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// The blade of Example on a swashplate of three servos: the rates and the curve points to enter
// for a wanted pitch, and what the blade then does. All numbers are invented.
func ExampleHead_Solve() {
	head, err := demoMachine()
	if err != nil {
		fmt.Println(err)
		return
	}
	wanted := pitch.Wanted{
		Kind: curve.Monotone,
		Collective: []pitch.Target{
			{Stick: 0, Pitch: -6 * units.Degree},
			{Stick: 0.5, Pitch: 1 * units.Degree},
			{Stick: 1, Pitch: 7 * units.Degree},
		},
		Right:   4 * units.Degree,
		Forward: 4 * units.Degree,
	}
	const tail = 180 * units.Degree // where the gauge is on the blade
	radio := pitch.Radio{PercentStep: 1 * units.Percent, RateLimit: 125 * units.Percent}
	solution, err := head.Solve(wanted, tail, radio)
	if err != nil {
		fmt.Println(err)
		return
	}
	for name, rate := range solution.Enter.Rates.All() {
		fmt.Printf("%s %v\n", name, rate)
	}
	state := head.Control.NewState()
	for _, point := range solution.Enter.Points {
		demand, err := solution.Entered.Demand(pitch.Stick{Collective: float64(point[0])})
		if err != nil {
			fmt.Println(err)
			return
		}
		reading, _, err := head.Blade(state, tail, demand)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("stick %v: curve point %v, the gauge reads %+.2f°\n", point[0], units.Round(point[1], 1), reading.Degrees())
	}

	wanted.Collective[2].Pitch = 40 * units.Degree
	_, err = head.Solve(wanted, tail, radio)
	var out *pitch.TargetError
	if errors.As(err, &out) {
		fmt.Printf("%s: the head comes to %.1f°\n", out.What, out.Nearest.Degrees())
	}
	// Output:
	// collective rate 33 %
	// right cyclic rate 35 %
	// forward cyclic rate 35 %
	// stick 0 %: curve point -85 %, the gauge reads -6.01°
	// stick 50 %: curve point 14 %, the gauge reads +1.00°
	// stick 100 %: curve point 98 %, the gauge reads +6.99°
	// pitch at stick 100 %: the head comes to 28.9°
}

// demoMachine builds an even machine of three servos at 120°.
func demoMachine() (*pitch.Head, error) {
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
		return nil, err
	}
	grip, err := pitch.NewGrip(spec, neutral)
	if err != nil {
		return nil, err
	}
	layout := swash.ThreeAt120(0, 30*units.Millimetre)
	plate := swash.PlateSpec{Height: neutral, Guide: swash.GuideAt(180 * units.Degree)}
	for _, ball := range layout {
		leg, err := swash.Upright(ball, neutral, 12*units.Millimetre, 58*units.Millimetre, swash.Outward)
		if err != nil {
			return nil, err
		}
		plate.Legs = append(plate.Legs, leg)
	}
	built, err := swash.NewPlate(plate)
	if err != nil {
		return nil, err
	}
	s := servo.Servo{
		Neutral: 1520 * units.PulseMicrosecond,
		Throw:   400 * units.PulseMicrosecond,
		Travel:  36 * units.Degree,
		Low:     1,
		High:    1,
		Min:     920 * units.PulseMicrosecond,
		Max:     2120 * units.PulseMicrosecond,
	}
	control, err := swash.NewControl(built, []servo.Servo{s, s, s}, layout.Mix())
	if err != nil {
		return nil, err
	}
	return &pitch.Head{Control: control, Grip: grip}, nil
}
