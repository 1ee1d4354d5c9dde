package linkagetest_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/linkage/linkagetest"
	"example.org/levelhead/units"
)

func FuzzArmToLine(f *testing.F) {
	linkagetest.Fuzz(f, armToLine,
		[8]float64{0.01, 0.05, 0.002, 1.5, 0, 0, 1, 0},
		// Last inputs at which the link stands square to the line, and in line
		// with the arm, to the last digit.
		[8]float64{0.07, 0.08333333333333333, 0.02, 0.21428571428571427, 0, 0, 1, 6.875},
		[8]float64{0.09, 67.05, -44.998, -77.5, 50, 2.2857142857142856, -81, -80})
}

func FuzzArmToArm(f *testing.F) {
	linkagetest.Fuzz(f, armToArm,
		[8]float64{0.01, 0.05, 0.01, 0.05, 1.57, 1.57, 0, 0},    // a parallelogram
		[8]float64{0.01, 0.05, 0.02, 0.05, 1.2, 1.9, 0.3, -0.4}, // in space
		[8]float64{0.025, 0.024, 0.026, 0.01, 1, 1, 0, 0},       // a drag link
		// A parallelogram whose neutral tilts, and last inputs in line to the last
		// digit with the driven arm and with the driving one.
		[8]float64{0.01, 0.05, 0.01, 0.05, -84.16, 35.7, 0, 0},
		[8]float64{0.025, 0.024, 0.0325, 0.01, 0.16666666666666666, 0.3333333333333333, 0, 30},
		[8]float64{0.025, 0.048, 0.026, 0.01, 9.428571428571429, 27.5, 0, 11})
}

func FuzzLever(f *testing.F) {
	linkagetest.Fuzz(f, func(n [8]float64) (linkage.Linkage, error) {
		return linkage.NewLever(n[0], linkage.Angle, linkage.Length)
	}, [8]float64{1}, [8]float64{-0.02})
}

// A chain of an arm to an arm, a lever, and an arm to a line.
func FuzzChain(f *testing.F) {
	linkagetest.Fuzz(f, func(n [8]float64) (linkage.Linkage, error) {
		first, err := armToArm([8]float64{0.01, n[0], n[1], n[2], n[3], n[4], 0, n[5]})
		if err != nil {
			return nil, err
		}
		lever, err := linkage.NewLever(n[6], linkage.Angle, linkage.Angle)
		if err != nil {
			return nil, err
		}
		last, err := armToLine([8]float64{0.015, 0.06, 0, 1.5, 0, 0, 1, n[7]})
		if err != nil {
			return nil, err
		}
		return linkage.NewChain(first, lever, last)
	}, [8]float64{0.05, 0.02, 0.05, 1.2, 1.9, 0.1, -0.5, 0.2}, [8]float64{0.05, 0.01, 0.05, 1.57, 1.57, 0, 1, 0})
}

// armToLine takes a radius, a link, an offset, a neutral angle, how far the line
// lies out of the arm's plane, and the line's direction.
func armToLine(n [8]float64) (linkage.Linkage, error) {
	if err := ofOneScale(n[0], n[1], n[2], n[4]); err != nil {
		return nil, err
	}
	spec := linkage.SliderCrank(units.Length(n[0]), units.Length(n[1]), units.Length(n[2]), units.Angle(n[3]))
	spec.Ball.Z = units.Length(n[4])
	spec.Along = linkage.Direction{X: n[6], Y: n[5], Z: n[7]}
	return linkage.NewArmToLine(spec)
}

// armToArm takes the four bars, both neutral angles, how far the driven arm lies
// out of the driving one's plane, and the tilt of its shaft.
func armToArm(n [8]float64) (linkage.Linkage, error) {
	if err := ofOneScale(n[0], n[1], n[2], n[3], n[6]); err != nil {
		return nil, err
	}
	spec := linkage.FourBar(units.Length(n[0]), units.Length(n[1]), units.Length(n[2]), units.Length(n[3]), units.Angle(n[4]), units.Angle(n[5]))
	spec.Driven.Shaft.Z = units.Length(n[6])
	// Tilted in the plane square to the arm, so that the two stay square.
	to := spec.Driven.Neutral
	spec.Driven.Axis = linkage.Direction{X: -n[7] * to.Y, Y: n[7] * to.X, Z: 1}
	return linkage.NewArmToArm(spec)
}

// ofOneScale refuses lengths of which one is more than a thousand times the first: the
// kit measures rounding by what comes out, and the rounding of a rod of 84 m drowns the
// travel of a crank of 3 mm.
func ofOneScale(first float64, others ...float64) error {
	for _, x := range others {
		if !(math.Abs(x) <= 1000*first) {
			return fmt.Errorf("length %v beside one of %v", x, first)
		}
	}
	return nil
}
