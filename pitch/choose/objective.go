package choose

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// Objective is a figure that should be as small as possible.
type Objective int

// The objectives.
const (
	// Tilt is the largest tilt of the plate under collective alone.
	Tilt Objective = iota
	// Resolution is the smallest amount to which the blade's pitch can be set, see
	// Measures.Resolution.
	Resolution
	// Load is the largest load of a servo, as a share of its stall torque.
	Load
	// Stroke is the time that the slowest servo takes from low to high collective stick,
	// against its largest load.
	Stroke
)

var objectives = [...]string{Tilt: "tilt", Resolution: "resolution", Load: "servo load", Stroke: "stroke"}

func (o Objective) String() string {
	if o < 0 || int(o) >= len(objectives) {
		return fmt.Sprintf("objective %d", int(o))
	}
	return objectives[o]
}

// Of returns the figure of an objective in SI base units, rounded to what matters on a
// bench: tilt and resolution to 0.01°, load to 1 % of the stall torque and stroke to 5 ms.
//
// It is NaN for an unknown objective, and for a load or stroke that is not known.
func (o Objective) Of(m *Measures) float64 {
	figure := o.exact(m)
	switch o {
	case Tilt, Resolution:
		return float64(units.Round(units.Angle(figure), 2))
	case Load:
		return float64(units.Round(units.Ratio(figure), 0))
	}
	const step = float64(5 * units.Millisecond)
	return step * math.Round(figure/step)
}

// exact is Of without the rounding.
func (o Objective) exact(m *Measures) float64 {
	switch {
	case o == Tilt:
		return float64(m.Tilt)
	case o == Resolution:
		return float64(m.Resolution())
	case o == Load && m.Loaded:
		return float64(m.Load)
	case o == Stroke && m.Loaded:
		return float64(m.Stroke)
	}
	return math.NaN()
}

// chosen returns the objectives asked for. Nil asks for all that are known: load and stroke
// are if loaded is true.
func chosen(asked []Objective, loaded bool) ([]Objective, error) {
	if asked == nil {
		asked = []Objective{Tilt, Resolution}
		if loaded {
			asked = append(asked, Load, Stroke)
		}
		return asked, nil
	}
	if len(asked) == 0 {
		return nil, refuse("Objectives", "must not be empty: leave it nil for all that are known")
	}
	for i, o := range asked {
		switch {
		case o < Tilt || o > Stroke:
			return nil, refuse(fmt.Sprintf("Objectives[%d]", i), "is not an objective")
		case (o == Load || o == Stroke) && !loaded:
			return nil, &ObjectiveError{o, "the machine file needs a rotor with a speed, and ratings of all servos"}
		}
		for _, other := range asked[:i] {
			if other == o {
				return nil, refuse(fmt.Sprintf("Objectives[%d]", i), "must be listed once: %v is there before", o)
			}
		}
	}
	return asked, nil
}
