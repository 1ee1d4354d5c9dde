package machine

import (
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
