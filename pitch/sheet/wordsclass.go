package sheet

import (
	"fmt"
	"strings"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

// rules says where the limits of a class stand.
func rules(c machine.Class) string {
	if c == machine.F3C {
		return "Read the FAI Sporting Code, Section 4, Volume F3 Helicopter, in force. The limit here is from the FAI's page on radio-controlled helicopters; its edition is not known."
	}
	return ""
}

type classMass struct {
	Mass  units.Mass
	Limit units.Mass
	class machine.Class
}

func (f classMass) finding() Finding {
	return Finding{Kind: ClassMass, Severity: Fix, Where: string(f.class), What: "Mass above the class limit",
		Figure: fmt.Sprintf("%.2f kg, limit %.2f kg", f.Mass.Kilograms(), f.Limit.Kilograms()), Do: rules(f.class)}
}

type classDisc struct {
	Disc  area
	Limit area
	class machine.Class
}

func (f classDisc) finding() Finding {
	return Finding{Kind: ClassDisc, Severity: Fix, Where: string(f.class), What: "Rotor disc above the class limit",
		Figure: fmt.Sprintf("%v, limit %v", f.Disc, f.Limit), Do: rules(f.class)}
}

type classVoltage struct {
	Voltage units.Voltage // of a full battery
	Limit   units.Voltage
	class   machine.Class
}

func (f classVoltage) finding() Finding {
	return Finding{Kind: ClassVoltage, Severity: Fix, Where: string(f.class), What: "Battery voltage above the class limit",
		Figure: fmt.Sprintf("%.1f V when full, limit %.1f V", f.Voltage.Volts(), f.Limit.Volts()), Do: rules(f.class)}
}

type classNotChecked struct {
	missing []string // in the file
	class   machine.Class
}

func (f classNotChecked) finding() Finding {
	return Finding{Kind: ClassNotChecked, Severity: Note, Where: string(f.class), What: "Class limits not all checked",
		Figure: "the file does not give " + strings.Join(f.missing, ", "), Do: "Add this to the machine file, or check it by hand."}
}
