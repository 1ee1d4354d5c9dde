package setup

import (
	"fmt"

	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

func (r *Rig) buildAir() error {
	field := r.file.Field
	if field == nil {
		field = &machine.Field{}
	}
	var err error
	if r.air, err = rotor.StandardAir(field.Height); err != nil {
		return blame(r.file, "field.height", err)
	}
	if field.Temperature == nil {
		return nil
	}
	if r.air, err = r.air.WithTemperature(*field.Temperature); err != nil {
		return blame(r.file, "field.temperature", err)
	}
	return nil
}

func (r *Rig) buildRotor() error {
	m, spec := r.file, r.file.Rotor
	if spec == nil {
		return nil
	}
	section := rotor.NACA0015()
	if s := spec.Section; s != nil {
		section = rotor.Section(*s)
	}
	if !(spec.Axis > 0) {
		return fail(m, "rotor.feathering_axis", "must be above zero, not %v", spec.Axis)
	}
	var err error
	r.rotor, err = rotor.New(rotor.Spec{
		Blades:  spec.Blades,
		Radius:  spec.Radius,
		Cutout:  spec.Root,
		Chord:   spec.Chord,
		Taper:   spec.Taper,
		Twist:   spec.Twist,
		Axis:    spec.Axis,
		Section: section,
	})
	if err != nil {
		return blameRotor(m, err)
	}
	if r.blade, err = rotor.SymmetricBlade(spec.BladeMass, spec.Chord, spec.Thickness, spec.Axis); err != nil {
		return blameRotor(m, err)
	}
	if !(spec.BladeMass > 0) {
		return fail(m, "rotor.blade_mass", "must be above zero, not %v", spec.BladeMass)
	}
	if spec.Chordwise != nil {
		r.blade.Chordwise = *spec.Chordwise
		// No weight is farther from the axis than a chord, nor is a blade as thick as wide.
		if least, most := r.blade.Thickness, units.Inertia(spec.BladeMass)*units.Inertia(spec.Chord*spec.Chord); !(r.blade.Chordwise > least && r.blade.Chordwise < most) {
			return fail(m, "rotor.chordwise_inertia", "must be between %v and %v for a blade of this mass, chord and thickness, not %v", least, most, r.blade.Chordwise)
		}
	}
	r.blade.Spring = spec.Damper
	if s := spec.MaxSpeed; s != nil && !(*s > 0 && units.Finite(*s)) {
		return fail(m, "rotor.max_speed", "must be above zero, not %v", *s)
	}
	// The blade is checked only as it turns.
	if _, err := r.rotor.Feathering(r.blade, rotor.Pitch{}, rotor.Condition{Speed: 1000 * units.RevolutionPerMinute, Density: r.air.Density}); err != nil {
		return blameRotor(m, err)
	}
	return nil
}

// rotorFields are the fields of the rotor by those of what package rotor is given.
var rotorFields = units.FieldNames{
	"Blades": ".blades", "Radius": ".radius", "Chord": ".chord", "Taper": ".taper", "Twist": ".twist", "Axis": ".feathering_axis", "Cutout": ".root",
	"mass": ".blade_mass", "chord": ".chord", "thickness": ".thickness", "axis": ".feathering_axis",
	"blade.Chordwise": ".chordwise_inertia", "blade.Spring": ".damper",
	"Section.LiftSlope": ".section.lift_slope", "Section.ZeroLift": ".section.zero_lift", "Section.StallLift": ".section.stall_lift",
	"Section.Drag": ".section.drag", "Section.DragRise": ".section.drag_rise", "Section.Moment": ".section.moment",
}

// blameRotor finds the field of the rotor that an error speaks of.
func blameRotor(m *machine.Machine, err error) error {
	field, _ := words.Field(rotorFields, err)
	return blame(m, "rotor"+field, err)
}

// checkSpeed refuses a rotor speed that makes no sense.
func (r *Rig) checkSpeed(path string, mode *machine.Mode) error {
	m := r.file
	switch s := mode.RotorSpeed; {
	case s == nil:
		return nil
	case !(*s > 0) || !units.Finite(*s):
		return fail(m, path+".rotor_speed", "must be above zero, not %v", *s)
	case r.rotor == nil:
		return fail(m, path+".rotor_speed", "needs a rotor; give rotor too, or leave rotor_speed out")
	}
	if _, err := r.rotor.Loads(0, rotor.Condition{Speed: *mode.RotorSpeed, Density: r.air.Density}); err != nil {
		return blame(m, path+".rotor_speed", fmt.Errorf("at this speed: %w", err))
	}
	return nil
}
