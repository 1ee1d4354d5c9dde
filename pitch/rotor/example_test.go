package rotor_test

import (
	"errors"
	"fmt"
	"math"

	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

// Hover of an invented machine of 3.2 kg with a rotor of 1.4 m, on a warm day on a field
// 400 m above the sea.
func Example() {
	r, err := rotor.New(rotor.Spec{
		Blades:  2,
		Radius:  700 * units.Millimetre,
		Cutout:  110 * units.Millimetre,
		Chord:   58 * units.Millimetre,
		Section: rotor.NACA0015(),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	air, err := rotor.StandardAir(400 * units.Metre)
	if err != nil {
		fmt.Println(err)
		return
	}
	air, err = air.WithTemperature(rotor.Celsius(28))
	if err != nil {
		fmt.Println(err)
		return
	}
	at := rotor.Condition{Speed: 1700 * units.RevolutionPerMinute, Density: air.Density}
	pitch, loads, err := r.HoverPitch(3.2*units.Kilogram, at)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("air %.3f kg/m³\n", float64(air.Density))
	fmt.Printf("hover at %.1f°: %.1f N, %.2f N·m, %.0f W, figure of merit %.2f\n",
		pitch.Degrees(), loads.Thrust.Newtons(), loads.Torque.NewtonMetres(), loads.Power.Watts(),
		loads.Coefficients.FigureOfMerit())
	// Output:
	// air 1.118 kg/m³
	// hover at 3.4°: 31.4 N, 2.08 N·m, 371 W, figure of merit 0.26
}

// The points of a throttle curve that holds 1700 rpm, and the best speed where full throttle
// is not enough.
func ExampleRotor_ThrottleCurve() {
	r, err := rotor.New(rotor.Spec{
		Blades:  2,
		Radius:  700 * units.Millimetre,
		Cutout:  110 * units.Millimetre,
		Chord:   58 * units.Millimetre,
		Section: rotor.NACA0015(),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	battery, err := rotor.Battery{Cells: 6, Cell: rotor.LithiumPolymer(), Resistance: 15 * units.Milliohm}.At(30 * units.Percent)
	if err != nil {
		fmt.Println(err)
		return
	}
	train := rotor.Electric{
		Source: battery,
		Motor:  rotor.Motor{SpeedConstant: 780 * units.RevolutionPerMinute, Resistance: 30 * units.Milliohm, NoLoad: 2 * units.Ampere},
		Gear:   rotor.Gear{Ratio: 8.7, Efficiency: 0.85},
	}
	at := rotor.Condition{Speed: 1700 * units.RevolutionPerMinute, Density: 1.2}
	pitches := []units.Angle{-6 * units.Degree, 0, 6 * units.Degree, 9 * units.Degree, 13 * units.Degree}
	for _, p := range r.ThrottleCurve(nil, train, at, pitches) {
		var hold *rotor.HoldError
		switch {
		case errors.As(p.Err, &hold):
			fmt.Printf("%3.0f°: no more than %.0f rpm\n", p.Pitch.Degrees(), hold.Best.RPM())
		case p.Err != nil:
			fmt.Println(p.Err)
		default:
			fmt.Printf("%3.0f°: throttle %.0f %%, %.0f A, %.0f W\n", p.Pitch.Degrees(),
				p.Operation.Throttle.Percent(), p.Operation.BatteryCurrent.Amperes(), p.Operation.Power.Watts())
		}
	}
	// Output:
	//  -6°: throttle 93 %, 43 A, 962 W
	//   0°: throttle 87 %, 16 A, 365 W
	//   6°: throttle 93 %, 43 A, 962 W
	//   9°: no more than 1694 rpm
	//  13°: no more than 1523 rpm
}

// The moment by which the blades pull themselves flat, and the force it puts on the
// swashplate. The pitch horns give 25° of pitch for 10 mm of plate travel.
func ExampleRotor_Feathering() {
	r, err := rotor.New(rotor.Spec{
		Blades:  2,
		Radius:  700 * units.Millimetre,
		Cutout:  110 * units.Millimetre,
		Chord:   58 * units.Millimetre,
		Section: rotor.NACA0015(),
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	blade, err := rotor.SymmetricBlade(160*units.Gram, 58*units.Millimetre, 0.12, 0.25)
	if err != nil {
		fmt.Println(err)
		return
	}
	at := rotor.Condition{Speed: 1700 * units.RevolutionPerMinute, Density: 1.2}
	f, err := r.Feathering(blade, rotor.Pitch{Collective: 10 * units.Degree, Cosine: 4 * units.Degree}, at)
	if err != nil {
		fmt.Println(err)
		return
	}
	const ringRadius = 0.03 // m
	perMetre := 25 * units.Degree.Radians() / 0.01
	load, err := r.MeanPlateLoad(f.Total(), func(bearing units.Angle) (rotor.Slopes, error) {
		sin, cos := math.Sincos(bearing.Radians())
		return rotor.Slopes{Height: perMetre, Right: -perMetre * ringRadius * sin, Forward: -perMetre * ringRadius * cos}, nil
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("moment on a blade %.3f N·m, its cyclic part %.4f N·m\n",
		f.Total().Collective.NewtonMetres(), f.Total().Cosine.NewtonMetres())
	fmt.Printf("force on the plate %.1f N\n", load.Force.Newtons())
	// Output:
	// moment on a blade -0.242 N·m, its cyclic part 0.0082 N·m
	// force on the plate -21.1 N
}
