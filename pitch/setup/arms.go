package setup

import (
	"slices"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

// ArmHoles returns the arm radii that the servos of all the machine's types offer, by
// rising length.
func (r *Rig) ArmHoles() []units.Length {
	if !r.built() {
		return nil
	}
	var holes []units.Length
	for i, s := range r.servos {
		if i == 0 {
			holes = slices.Clone(s.Type.ArmHoles)
		}
		holes = slices.DeleteFunc(holes, func(hole units.Length) bool { return !slices.Contains(s.Type.ArmHoles, hole) })
	}
	slices.Sort(holes)
	return slices.Compact(holes)
}

// WithArms returns the machine with the arms of all servos at one radius. The servos
// stay where they are, and so does what the arms' links lead to while the arms stand at
// neutral: the links are cut anew for that. The rest of the machine file is as it was,
// but for what its modes' targets then take. The error is a *FieldError: arms that
// cannot be built, or a servo whose chain begins with a lever and so has no arm.
func (r *Rig) WithArms(radius units.Length) (*Rig, error) {
	if !r.built() {
		return nil, errNotBuilt
	}
	m := r.file.Clone()
	m.DropLines() // it says otherwise than the file
	if m.Plate.BellCranks != nil {
		for _, f := range m.Plate.BellCranks.Functions() {
			path := "plate.bell_cranks." + f.Name + ".chain[0]"
			_, geometry, err := f.Chain.Chain[0].Geometry()
			if err != nil {
				return nil, blame(m, path, err)
			}
			if err := geometry.SetArm(radius); err != nil {
				return nil, blame(m, path, err)
			}
		}
		return Build(m)
	}
	plate := &r.parts.Plate
	frame := r.head.Control.Mechanism().Neutral().Frame(plate.Guide)
	for i, leg := range plate.Legs {
		arm := leg.Arm
		m.Plate.Legs[i].Upright = nil
		m.Plate.Legs[i].Spatial = &machine.Spatial{
			Bearing:    leg.Ball.Bearing,
			BallRadius: leg.Ball.Radius,
			Offset:     leg.Ball.Offset,
			Shaft:      arm.Shaft,
			Axis:       arm.Axis,
			Neutral:    arm.Neutral,
			Arm:        radius,
			Link:       arm.Shaft.Along(arm.Neutral, radius).Distance(frame.Point(leg.Ball)),
		}
	}
	return Build(m)
}
