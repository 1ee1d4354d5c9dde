package setup

import (
	"fmt"

	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

// Rotor is the main rotor. With it, loads can be worked out for the modes that give a
// rotor speed. The pitch gauge shows the pitch at 0.75 of the radius.
type Rotor struct {
	Blades    int          `json:"blades"`
	Radius    units.Length `json:"radius"`          // from mast to tip
	Root      units.Length `json:"root"`            // from mast to where the blade begins to lift
	Chord     units.Length `json:"chord"`           // at 0.75 of the radius
	Taper     units.Ratio  `json:"taper,omitempty"` // as in rotor.Spec
	Twist     units.Angle  `json:"twist,omitempty"` // as in rotor.Spec
	Axis      units.Ratio  `json:"feathering_axis"` // behind the leading edge, in chords
	BladeMass units.Mass   `json:"blade_mass"`      // of one
	Thickness units.Ratio  `json:"thickness"`       // of the section, in chords
	// Chordwise is the inertia of one blade about its feathering axis. Left out, it is
	// that of a solid blade of one material, below which blades with weight in the
	// nose stay.
	Chordwise *units.Inertia `json:"chordwise_inertia,omitempty"`
	// Damper is the torque per radian with which dampers pull one blade to zero pitch.
	Damper  units.Torque `json:"damper,omitempty"`
	Section *Section     `json:"section,omitempty"` // nil is rotor.NACA0015
	// MaxSpeed is the highest rotor speed that the blades' maker allows.
	MaxSpeed *units.AngularSpeed `json:"max_speed,omitempty"`
}

// Section is what is known of the blade's section, as in rotor.Section.
type Section struct {
	LiftSlope float64     `json:"lift_slope"` // per radian
	ZeroLift  units.Angle `json:"zero_lift,omitempty"`
	StallLift float64     `json:"stall_lift"`
	Drag      float64     `json:"drag"`
	DragRise  float64     `json:"drag_rise"` // per square radian
	Moment    float64     `json:"moment,omitempty"`
}

// Field is where the machine flies.
type Field struct {
	Height units.Length `json:"height"` // above the sea
	// Temperature, left out, is that of the standard atmosphere.
	Temperature *rotor.Temperature `json:"temperature,omitempty"`
}

// Spin is a rotor as it turns: what loads the plate.
type Spin struct {
	Rotor *rotor.Rotor
	Blade rotor.Blade
	At    rotor.Condition
}

// Spin returns the machine's rotor, hovering in the air of its field at the mode's
// rotor speed. It is false where the file gives no rotor, or the mode no speed.
func (r *Rig) Spin(m *RigMode) (Spin, bool) {
	if r.Rotor == nil || m.Mode.RotorSpeed == nil {
		return Spin{}, false
	}
	return Spin{r.Rotor, r.Blade, rotor.Condition{Speed: *m.Mode.RotorSpeed, Density: r.Air.Density}}, true
}

func (r *Rig) buildAir() error {
	field := r.Machine.Field
	if field == nil {
		field = &Field{}
	}
	var err error
	if r.Air, err = rotor.StandardAir(field.Height); err != nil {
		return r.Machine.blame("field.height", err)
	}
	if field.Temperature == nil {
		return nil
	}
	if r.Air, err = r.Air.WithTemperature(*field.Temperature); err != nil {
		return r.Machine.blame("field.temperature", err)
	}
	return nil
}

func (r *Rig) buildRotor() error {
	m, spec := r.Machine, r.Machine.Rotor
	if spec == nil {
		return nil
	}
	section := rotor.NACA0015()
	if s := spec.Section; s != nil {
		section = rotor.Section(*s)
	}
	if !(spec.Axis > 0) {
		return m.fail("rotor.feathering_axis", "must be above zero, not %v", spec.Axis)
	}
	var err error
	r.Rotor, err = rotor.New(rotor.Spec{
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
		return m.blameRotor(err)
	}
	if r.Blade, err = rotor.SymmetricBlade(spec.BladeMass, spec.Chord, spec.Thickness, spec.Axis); err != nil {
		return m.blameRotor(err)
	}
	if !(spec.BladeMass > 0) {
		return m.fail("rotor.blade_mass", "must be above zero, not %v", spec.BladeMass)
	}
	if spec.Chordwise != nil {
		r.Blade.Chordwise = *spec.Chordwise
		// No weight is farther from the axis than a chord, nor is a blade as thick as wide.
		if least, most := r.Blade.Thickness, units.Inertia(spec.BladeMass)*units.Inertia(spec.Chord*spec.Chord); !(r.Blade.Chordwise > least && r.Blade.Chordwise < most) {
			return m.fail("rotor.chordwise_inertia", "must be between %v and %v for a blade of this mass, chord and thickness, not %v", least, most, r.Blade.Chordwise)
		}
	}
	r.Blade.Spring = spec.Damper
	if s := spec.MaxSpeed; s != nil && !(*s > 0 && units.Finite(*s)) {
		return m.fail("rotor.max_speed", "must be above zero, not %v", *s)
	}
	// The blade is checked only as it turns.
	if _, err := r.Rotor.Feathering(r.Blade, rotor.Pitch{}, rotor.Condition{Speed: 1000 * units.RevolutionPerMinute, Density: r.Air.Density}); err != nil {
		return m.blameRotor(err)
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
func (m *Machine) blameRotor(err error) error {
	field, _ := fieldOf(rotorFields, err)
	return m.blame("rotor"+field, err)
}

// checkSpeed refuses a rotor speed that makes no sense.
func (r *Rig) checkSpeed(path string, mode *Mode) error {
	m := r.Machine
	switch s := mode.RotorSpeed; {
	case s == nil:
		return nil
	case !(*s > 0) || !units.Finite(*s):
		return m.fail(path+".rotor_speed", "must be above zero, not %v", *s)
	case r.Rotor == nil:
		return m.fail(path+".rotor_speed", "needs a rotor; give rotor too, or leave rotor_speed out")
	}
	if _, err := r.Rotor.Loads(0, rotor.Condition{Speed: *mode.RotorSpeed, Density: r.Air.Density}); err != nil {
		return m.blame(path+".rotor_speed", fmt.Errorf("at this speed: %w", err))
	}
	return nil
}
