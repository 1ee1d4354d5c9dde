package servo

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// Spline is the toothed end of a servo's shaft, by its number of teeth, such as 25. The arm
// goes on only in steps of one tooth. Such numbers are common practice, no source: count.
type Spline int

// Step returns the angle from one tooth to the next: 14.4° for 25 teeth. It is infinite for
// none.
func (n Spline) Step() units.Angle { return units.Angle(2*math.Pi) / units.Angle(n) }

// Square tells how to set an arm square that stands off by an angle, positive where the ball
// is too high. Move the arm by so many teeth, negative to lower the ball. Then take out what
// is left with sub-trim: the arm still stands off by left, at most half a tooth, with the same
// sign as off. The error is a *units.FieldError.
func (n Spline) Square(off units.Angle) (teeth int, left units.Angle, err error) {
	if n < 1 {
		return 0, 0, &units.FieldError{Words: "spline_teeth", Reason: fmt.Sprintf("must be 1 or more, not %d", int(n))}
	}
	if !units.Finite(off) {
		return 0, 0, words.Refuse("off", "must be a finite number, not %v", off)
	}
	turn := math.Remainder(float64(off), 2*math.Pi)
	steps := math.RoundToEven(turn / float64(n.Step()))
	return -int(steps), units.Angle(turn) - units.Angle(steps)*n.Step(), nil
}
