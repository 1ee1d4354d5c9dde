package pitch

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// Stick is where the sticks stand, as plain ratios of their travel.
type Stick struct {
	Collective float64 `json:"collective" plain:"as=ratio"` // 0 at the low end, 1 at the high end
	Right      float64 `json:"right" plain:"as=ratio"`      // -1 full left, 1 full right
	Forward    float64 `json:"forward" plain:"as=ratio"`    // -1 full back, 1 full forward
}

// Validate reports a stick beyond its ends by more than rounding, as a *units.FieldError.
func (s Stick) Validate() error {
	const rounding = 1e-9
	switch {
	case !(s.Collective >= -rounding && s.Collective <= 1+rounding):
		return refuse("Collective", "must be from 0 to 1, not %v", s.Collective)
	case !(s.Right >= -1-rounding && s.Right <= 1+rounding):
		return refuse("Right", "must be from -1 to 1, not %v", s.Right)
	case !(s.Forward >= -1-rounding && s.Forward <= 1+rounding):
		return refuse("Forward", "must be from -1 to 1, not %v", s.Forward)
	}
	return nil
}

// String says the position in words: "stick 50 %, cyclic full right". The stick
// without another word is the collective stick.
func (s Stick) String() string {
	return fmt.Sprintf("stick %v, cyclic %s", units.Round(units.Ratio(s.Collective), 1), s.Cyclic())
}

// Cyclic says in words where the cyclic stick stands: "centred", "full right", "half
// right and a quarter back", "37 % left".
func (s Stick) Cyclic() string {
	side, length := part(s.Right, "right", "left"), part(s.Forward, "forward", "back")
	switch {
	case side == "" && length == "":
		return "centred"
	case side == "":
		return length
	case length == "":
		return side
	}
	return side + " and " + length
}

// part says how far the cyclic stick is over to one of two sides, and "" for nothing.
func part(x float64, above, below string) string {
	if x < 0 {
		above, x = below, -x
	}
	switch percent := math.Round(100 * x); percent {
	case 0:
		return ""
	case 25:
		return "a quarter " + above
	case 50:
		return "half " + above
	case 75:
		return "three quarters " + above
	case 100:
		return "full " + above
	default:
		return fmt.Sprintf("%.0f %% %s", percent, above)
	}
}
