package choose

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// Objective is something to have as little of as may be.
type Objective int

// The objectives.
const (
	// Tilt is the largest tilt of the plate under collective alone.
	Tilt Objective = iota
	// Resolution is what the blade's pitch cannot be set finer than: the greater of
	// Measures.Step and the whole of the deadband, Measures.Deadband to either side.
	Resolution
	// Load is the largest load of a servo, as part of its stall torque: what is left
	// is the torque margin.
	Load
	// Stroke is how long the slowest servo takes from low to high stick.
	Stroke
)

var objectives = [...]string{Tilt: "tilt", Resolution: "resolution", Load: "servo load", Stroke: "stroke"}

func (o Objective) String() string {
	if o < 0 || int(o) >= len(objectives) {
		return fmt.Sprintf("objective %d", int(o))
	}
	return objectives[o]
}

// Of returns what measures have of an objective, rounded to what matters on a bench:
// tilt and resolution to 0.01°, load to 1 % of the stall torque and stroke to 5 ms. It is
// in SI base units.
//
// Special cases are: NaN for an objective that is none of the above, and for a load or
// stroke that is not known.
func (o Objective) Of(m *Measures) float64 {
	switch {
	case o == Tilt:
		return float64(units.Round(m.Tilt, 2))
	case o == Resolution:
		return float64(units.Round(m.Resolution(), 2))
	case o == Load && m.Loaded:
		return float64(units.Round(m.Load, 0))
	case o == Stroke && m.Loaded:
		const step = 5 * units.Millisecond
		return float64(step) * math.Round(float64(m.Stroke/step))
	}
	return math.NaN()
}

// chosen returns the objectives asked for, of a machine whose loads are known or not;
// nil asks for all that are known.
func chosen(asked []Objective, loaded bool) ([]Objective, error) {
	if asked == nil {
		asked = []Objective{Tilt, Resolution}
		if loaded {
			asked = append(asked, Load, Stroke)
		}
		return asked, nil
	}
	if len(asked) == 0 {
		return nil, &InputError{"objectives", -1, "is empty"}
	}
	for i, o := range asked {
		switch {
		case o < Tilt || o > Stroke:
			return nil, &InputError{"objectives", i, "is not known"}
		case (o == Load || o == Stroke) && !loaded:
			return nil, &ObjectiveError{o, "the machine file gives no rotor with a speed, or no servo ratings"}
		}
		for _, other := range asked[:i] {
			if other == o {
				return nil, &InputError{"objectives", i, fmt.Sprintf("%v is listed twice", o)}
			}
		}
	}
	return asked, nil
}
