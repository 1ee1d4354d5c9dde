package gauge

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Kind is a kind of Parameter.
type Kind int

// The kinds of Parameter, with the unit of what they are off by. Above 0 is more than the
// file says.
const (
	ServoCentre Kind = iota // the angle of a servo's arm at the neutral pulse, which its spline, sub-trim and potentiometer give it; ball up is above 0: rad
	ServoTravel             // the arm's turn for its pulse, over the file's: ratio
	LowEnd                  // the end point on the side of shorter pulses: ratio
	HighEnd                 // the end point on the side of longer pulses: ratio
	ArmRadius               // the radius of a servo's arm, where it acts on the plate directly: m
	ServoLink               // the length of a link under the plate, in the order of setup.Parts.Links: m
	HubHeight               // the height of the feathering axis on the mast: m
	PitchLink               // the length of a blade's pitch link: m
	HornRadius              // the radius of a blade's pitch horn: m
	GaugeZero               // what a gauge shows at zero: rad

	kinds = iota
)

var kindNames = [kinds]string{
	"servo centre", "servo travel", "low end point", "high end point", "servo arm radius",
	"servo link", "hub height", "pitch link", "pitch horn radius", "gauge zero",
}

func (k Kind) String() string {
	if k < 0 || k >= kinds {
		return fmt.Sprintf("Kind(%d)", int(k))
	}
	return kindNames[k]
}

// Unit returns the unit in which people read what a parameter of the kind is off by, and
// how large that unit is in SI units.
func (k Kind) Unit() (name string, si float64) {
	switch k {
	case ServoCentre, GaugeZero:
		return "°", float64(units.Degree)
	case ServoTravel, LowEnd, HighEnd:
		return " %", float64(units.Percent)
	}
	return " mm", float64(units.Millimetre)
}

// Format returns an amount in SI units for people, with its sign, such as "+0.50 mm".
func (k Kind) Format(amount float64) string {
	name, si := k.Unit()
	return fmt.Sprintf("%+.2f%s", math.Round(100*amount/si)/100+0, name)
}

// Parameter is one thing of a machine as built that can be off from what the file says: a
// length or an angle of its mechanics, a setting of its radio, or the zero of a gauge.
type Parameter struct {
	Kind  Kind `json:"kind"`
	Index int  `json:"index"` // which one of its kind, from 0: servo, link, blade or gauge; 0 for the hub height
}

func (p Parameter) String() string {
	if p.Kind == HubHeight {
		return p.Kind.String()
	}
	return fmt.Sprintf("%v %d", p.Kind, p.Index+1)
}

// Parameters returns the parameters of a rig with some number of blades, read with some
// number of gauges: all kinds in their order, and within a kind all there are.
func Parameters(rig *setup.Rig, blades, gauges int) []Parameter {
	exact := rig.Parts()
	return parameters(&exact, blades, gauges)
}

func parameters(exact *setup.Parts, blades, gauges int) []Parameter {
	servos := len(exact.Servos)
	count := [kinds]int{
		ServoCentre: servos, ServoTravel: servos, LowEnd: servos, HighEnd: servos,
		ArmRadius: len(exact.Plate.Legs),
		ServoLink: len(exact.Links()),
		HubHeight: 1,
		PitchLink: blades, HornRadius: blades,
		GaugeZero: gauges,
	}
	var all []Parameter
	for k, n := range count {
		for i := range n {
			all = append(all, Parameter{Kind(k), i})
		}
	}
	return all
}
