package setup

import (
	"reflect"
	"slices"

	"example.org/levelhead/units"
)

// File returns the machine file for what the radio now has: the rig's own file, with the
// sub-trims of its servos, and with the rates and the curve of every mode that works, also
// of those that were solved from targets. Rates and points are rounded as on a sheet. Other
// changes of the rig's parts are not in it.
func (r *Rig) File() *Machine {
	m := *r.Machine
	m.lines = nil // of a file that says otherwise
	m.Plate.Legs = slices.Clone(m.Plate.Legs)
	for i := range m.Plate.Legs {
		m.Plate.Legs[i].Servo.SubTrim = r.parts.Servos[i].SubTrim
	}
	if m.Plate.BellCranks != nil {
		cranks := *m.Plate.BellCranks
		m.Plate.BellCranks = &cranks
		for i, f := range m.functions() {
			f.chain.Servo.SubTrim = r.parts.Servos[i].SubTrim
		}
	}
	m.Modes = slices.Clone(m.Modes)
	for i := range r.Modes {
		mode, to := &r.Modes[i], &m.Modes[i]
		if !mode.Works() {
			continue
		}
		rates, pitch := mode.Setting.Rates, Curve{Kind: mode.Setting.Pitch.Kind()}
		for _, p := range mode.Setting.Pitch.Points() {
			pitch.Points = append(pitch.Points, [2]units.Ratio{units.Ratio(p.X), units.Ratio(p.Y)})
		}
		tidy(reflect.ValueOf(&rates))
		tidy(reflect.ValueOf(&pitch))
		to.Rates, to.Pitch = &rates, &pitch
	}
	return &m
}
