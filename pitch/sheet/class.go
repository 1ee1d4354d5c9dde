package sheet

import (
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/pitch/machine"

	"example.org/levelhead/units"
)

// class holds the limits of a class.
type class struct {
	mass    units.Mass
	disc    float64       // m², of all main rotors
	voltage units.Voltage // of an electric machine's battery, at most
	source  string
}

// classes are the limits known here. Those of F3C are as the FAI's page on its
// radio-controlled helicopter classes gave them; which edition of the Sporting Code
// they stand in is not known, and older editions had others.
var classes = map[machine.Class]class{
	machine.F3C: {6.5 * units.Kilogram, 2.5, 51 * units.Volt,
		"Read the FAI Sporting Code, Section 4, Volume F3 Helicopter, in force. The limit here is from the FAI's page on radio-controlled helicopters; its edition is not known."},
}

// checkClassLimits compares the machine with the limits of its class.
func (b *bench) checkClassLimits() []Finding {
	m := b.file
	limits, ok := classes[m.Class]
	if !ok {
		return nil
	}
	var found []Finding
	over := func(what, figure string, value, limit float64) {
		if value > limit {
			found = append(found, Finding{Severity: Fix, Where: string(m.Class), What: what + " above the class limit",
				Figure: figure, Do: limits.source})
		}
	}
	var missing []string
	if m.Mass != nil {
		over("Mass", fmt.Sprintf("%.2f kg, limit %.2f kg", m.Mass.Kilograms(), limits.mass.Kilograms()), float64(*m.Mass), float64(limits.mass))
	} else {
		missing = append(missing, "mass")
	}
	if m.Rotor != nil {
		area := math.Pi * math.Pow(m.Rotor.Radius.Metres(), 2)
		over("Rotor disc", fmt.Sprintf("%.1f dm², limit %.1f dm²", 100*area, 100*limits.disc), area, limits.disc)
	} else {
		missing = append(missing, "rotor")
	}
	switch {
	case m.Power == nil:
		missing = append(missing, "power")
	case m.Power.Battery != nil:
		cells := m.Power.Battery.Built()
		v := units.Voltage(cells.Cells) * cells.Cell[len(cells.Cell)-1].Voltage
		over("Battery voltage", fmt.Sprintf("%.1f V when full, limit %.1f V", v.Volts(), limits.voltage.Volts()), float64(v), float64(limits.voltage))
	}
	if missing != nil {
		found = append(found, Finding{Severity: Note, Where: string(m.Class), What: "Class limits not all checked",
			Figure: "the file does not give " + strings.Join(missing, ", "), Do: "Add this to the machine file, or check it by hand."})
	}
	return found
}
