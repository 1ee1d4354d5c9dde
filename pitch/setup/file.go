package setup

import (
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// File returns the machine file for what the radio now has: the rig's own file, with the
// sub-trims of its servos, and with the rates and the curve of every mode that works, also
// of those that were solved from targets. Rates and points are rounded as on a sheet. Other
// changes of the rig's parts are not in it.
func (r *Rig) File() *machine.Machine {
	if !r.built() {
		return &machine.Machine{}
	}
	m := r.file.Clone()
	m.DropLines() // it says otherwise than the file
	for i := range m.Plate.Legs {
		m.Plate.Legs[i].Servo.SubTrim = r.parts.Servos[i].SubTrim
	}
	if m.Plate.BellCranks != nil {
		for i, f := range m.Plate.BellCranks.Functions() {
			f.Chain.Servo.SubTrim = r.parts.Servos[i].SubTrim
		}
	}
	for i := range r.modes {
		if setting := r.modes[i].setting; setting.Pitch != nil {
			m.Modes[i].Rates, m.Modes[i].Pitch = inFile(setting)
		}
	}
	return m
}

// inFile returns a setting as a machine file has it, rounded as on a sheet.
func inFile(setting pitch.Setting) (*swash.Rates, *machine.Curve) {
	rates, pitch := setting.Rates, machine.Curve{Kind: setting.Pitch.Kind()}
	for _, p := range setting.Pitch.Points() {
		pitch.Points = append(pitch.Points, [2]units.Ratio{units.Ratio(p.X), units.Ratio(p.Y)})
	}
	units.Tidy(&rates)
	units.Tidy(&pitch)
	return &rates, &pitch
}
