package units_test

import (
	"encoding/json"
	"fmt"

	"example.org/levelhead/units"
)

// A servo's data sheet gives its torque in ounce-force inches. How much force
// is there at a ball 3/4 inch from the shaft?
func Example() {
	stall, err := units.Parse[units.Torque]("58 oz-in")
	if err != nil {
		fmt.Println(err)
		return
	}
	radius, err := units.Parse[units.Length]("3/4 in")
	if err != nil {
		fmt.Println(err)
		return
	}

	// A torque through a length is a force: the dimension changes, so the
	// division is of float64 values, in SI units.
	force := units.Force(float64(stall) / float64(radius))

	fmt.Printf("%.2f kgf·cm at %.2f mm\n", stall.KilogramForceCentimetres(), radius.Millimetres())
	fmt.Printf("%.2f N = %.2f kgf\n", force.Newtons(), force.KilogramsForce())
	fmt.Println(6*units.Degree, 12.5*units.Millimetre, 35*units.Percent)
	// Output:
	// 4.18 kgf·cm at 19.05 mm
	// 21.50 N = 2.19 kgf
	// 6° 12.5 mm 35 %
}

func ExampleParse() {
	speed, err := units.Parse[units.AngularSpeed]("0.09 s/60°")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f rpm\n", speed.RPM())

	_, err = units.Parse[units.Angle]("9")
	fmt.Println(err)
	_, err = units.Parse[units.Length]("12,5 mm")
	fmt.Println(err)
	// Output:
	// 111.1 rpm
	// angle "9" needs a unit, such as "9°" (or rad)
	// length "12,5 mm" has a comma; write a decimal point, such as "12.5 mm", and do not group digits
}

// Quantities are text in JSON, and are written exactly.
func ExampleLength_MarshalText() {
	type arm struct {
		Radius units.Length
		Offset units.Angle
	}
	var a arm
	if err := json.Unmarshal([]byte(`{"Radius": "1/2 in", "Offset": "-1.5 deg"}`), &a); err != nil {
		fmt.Println(err)
		return
	}
	text, err := json.Marshal(a)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s\n", text)
	// Output:
	// {"Radius":"12.7 mm","Offset":"-1.5°"}
}

func ExampleTransitSpeed() {
	speed := units.TransitSpeed(90 * units.Millisecond)
	fmt.Printf("%.1f rpm, 60° in %.2f s\n", speed.RPM(), speed.SecondsPer60Degrees())
	// Output:
	// 111.1 rpm, 60° in 0.09 s
}

// Quantities are compared within something that counts.
func ExampleNear() {
	read, wanted := 5.04*units.Degree, 5*units.Degree
	fmt.Println(units.Near(read, wanted, 0.05*units.Degree), units.Near(read, wanted, 0.01*units.Degree))
	// Output: true false
}

// Tidy takes rounding's tails out of a whole result.
func ExampleTidy() {
	result := struct {
		Pitch []units.Angle
		Link  units.Length
	}{[]units.Angle{4.999999999999 * units.Degree}, 31.6000000001 * units.Millimetre}
	units.Tidy(&result)
	fmt.Println(result.Pitch[0] == 5*units.Degree, result.Link == 31.6*units.Millimetre)
	// Output: true true
}
