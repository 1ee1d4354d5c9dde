package curve_test

import (
	"fmt"
	"math"

	"example.org/levelhead/curve"
)

// A five-point pitch curve: stick from 0 to 1, collective demand from -1 to 1.
// The points are made up.
func ExampleNew() {
	pitch, err := curve.New(curve.Monotone, []curve.Point{
		{X: 0, Y: -0.3},
		{X: 0.25, Y: 0},
		{X: 0.5, Y: 0.4},
		{X: 0.75, Y: 0.7},
		{X: 1, Y: 0.9},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, stick := range []float64{0, 0.1, 0.5, 0.6, 1, 1.2} {
		fmt.Printf("stick %.1f: demand %6.3f, %5.3f per unit of stick\n", stick, pitch.At(stick), pitch.Slope(stick))
	}

	stick, err := pitch.Inverse(0.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a demand of 0.5 is at stick %.4f\n", stick)

	_, err = pitch.Inverse(1)
	fmt.Println(err)
	// Output:
	// stick 0.0: demand -0.300, 1.000 per unit of stick
	// stick 0.1: demand -0.191, 1.169 per unit of stick
	// stick 0.5: demand  0.400, 1.371 per unit of stick
	// stick 0.6: demand  0.532, 1.256 per unit of stick
	// stick 1.0: demand  0.900, 0.600 per unit of stick
	// stick 1.2: demand  0.900, 0.000 per unit of stick
	// a demand of 0.5 is at stick 0.5749
	// y must be from -0.3 to 0.9, not 1: it is 0.1 too high
}

// A throttle curve that dips in the middle has no inverse, and the error says why.
func ExampleCurve_Inverse() {
	throttle, err := curve.New(curve.Polyline, []curve.Point{{X: 0, Y: 0.8}, {X: 0.5, Y: 0.65}, {X: 1, Y: 0.9}})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = throttle.Inverse(0.7)
	fmt.Println(err)
	// Output:
	// the curve has no inverse, because it turns back by 0.15 between point 1 and point 2; let it rise or fall all the way
}

func ExampleExpo() {
	k := curve.Expo(0.3) // often shown as 30 %
	if err := k.Validate(); err != nil {
		fmt.Println(err)
		return
	}
	for _, stick := range []float64{-1, -0.5, 0, 0.25, 0.5, 1} {
		fmt.Printf("stick %5.2f gives %7.4f\n", stick, k.At(stick))
	}
	stick, err := k.Inverse(0.3875)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("and back: stick %.2f\n", stick)

	fmt.Println(curve.Expo(1.2).Validate())
	// Output:
	// stick -1.00 gives -1.0000
	// stick -0.50 gives -0.3875
	// stick  0.00 gives  0.0000
	// stick  0.25 gives  0.1797
	// stick  0.50 gives  0.3875
	// stick  1.00 gives  1.0000
	// and back: stick 0.50
	// expo must be from -0.5 to 1, not 1.2: it is 0.2 too high
}

// Kepler's equation, E - e sin E = M, for the eccentric anomaly E, with the
// numbers of J. Meeus, Astronomical Algorithms, example 30.a (from memory):
// e = 0.1 and M = 5 degrees give E = 5.554589 degrees.
func ExampleInvert() {
	const eccentricity = 0.1
	kepler := func(anomaly float64) (float64, error) {
		return anomaly - eccentricity*math.Sin(anomaly), nil
	}
	mean := 5 * math.Pi / 180
	anomaly, err := curve.Invert(kepler, mean, 0, math.Pi)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.6f degrees\n", anomaly*180/math.Pi)

	_, err = curve.Invert(kepler, 4, 0, math.Pi)
	fmt.Println(err)
	// Output:
	// 5.554589 degrees
	// f(0) = 0 and f(3.141592653589793) = 3.141592653589793 must lie on either side of 4; move the ends of the search
}
