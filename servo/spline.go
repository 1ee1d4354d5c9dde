package servo

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// Spline is a servo's output spline, named by its number of teeth. The arm
// can be put on only in steps of one tooth.
type Spline int

// Step returns the angle from one tooth to the next.
func (n Spline) Step() units.Angle { return units.Angle(2*math.Pi) / units.Angle(n) }

// Square tells how to take out an angle off by which the arm stands away from
// square (positive: the ball is too high): move the arm by so many teeth
// (negative: to lower the ball), and take out what is left with sub-trim. At
// most half a tooth is left. The error is a *FieldError.
func (n Spline) Square(off units.Angle) (teeth int, left units.Angle, err error) {
	if n < 1 {
		return 0, 0, &FieldError{"spline", fmt.Sprintf("%d teeth", int(n))}
	}
	if !units.Finite(off) {
		return 0, 0, &FieldError{"off-square angle", fmt.Sprintf("%v is not a finite number", off)}
	}
	turn := math.Remainder(float64(off), 2*math.Pi)
	steps := math.RoundToEven(turn / float64(n.Step()))
	return -int(steps), units.Angle(turn) - units.Angle(steps)*n.Step(), nil
}
