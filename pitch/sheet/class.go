package sheet

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

// area is an area in m², which package units has not.
type area float64

// String returns an area in the unit in which classes limit that of a disc, to a tenth.
func (a area) String() string { return fmt.Sprintf("%.1f dm²", 100*float64(a)) }

// class holds the limits of a class.
type class struct {
	mass    units.Mass
	disc    area          // of all main rotors
	voltage units.Voltage // of an electric machine's battery, at most
}

// classes are the limits known here. Those of F3C are as the FAI's page on its
// radio-controlled helicopter classes gave them; which edition of the Sporting Code
// they stand in is not known, and older editions had others.
var classes = map[machine.Class]class{
	machine.F3C: {6.5 * units.Kilogram, 2.5, 51 * units.Volt},
}

// checkClassLimits compares the machine with the limits of its class.
func (b *bench) checkClassLimits(*Sheet) []Finding {
	m := b.file
	limits, ok := classes[m.Class]
	if !ok {
		return nil
	}
	var found []Finding
	var missing []string
	if m.Mass == nil {
		missing = append(missing, "mass")
	} else if *m.Mass > limits.mass {
		found = append(found, report(classMass{*m.Mass, limits.mass, m.Class}))
	}
	if m.Rotor == nil {
		missing = append(missing, "rotor")
	} else if disc := area(math.Pi * math.Pow(m.Rotor.Radius.Metres(), 2)); disc > limits.disc {
		found = append(found, report(classDisc{disc, limits.disc, m.Class}))
	}
	switch {
	case m.Power == nil:
		missing = append(missing, "power")
	case m.Power.Battery != nil:
		cells := m.Power.Battery.Built()
		if full := units.Voltage(cells.Cells) * cells.Cell[len(cells.Cell)-1].Voltage; full > limits.voltage {
			found = append(found, report(classVoltage{full, limits.voltage, m.Class}))
		}
	}
	if missing != nil {
		found = append(found, report(classNotChecked{missing, m.Class}))
	}
	return found
}
