package setup

import (
	"errors"
	"slices"

	"example.org/levelhead/pitch/machine"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
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
			if err := setArm(f.Chain.Chain[0], radius); err != nil {
				return nil, blame(m, "plate.bell_cranks."+f.Name+".chain[0]", err)
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
			Link:       apart(arm.Shaft.Along(arm.Neutral, radius), frame.Point(leg.Ball)),
		}
	}
	return Build(m)
}

var errNoArm = errors.New("is a lever, so the servo has no arm to change")

// setArm changes the driving arm of a member, and cuts its link anew.
func setArm(p machine.Member, radius units.Length) error {
	switch {
	case p.ArmToArm != nil:
		p.ArmToArm.Driving.Radius = radius
		p.ArmToArm.Link = apart(ballOf(p.ArmToArm.Driving), ballOf(p.ArmToArm.Driven))
	case p.ArmToLine != nil:
		p.ArmToLine.Arm.Radius = radius
		p.ArmToLine.Link = apart(ballOf(p.ArmToLine.Arm), p.ArmToLine.Ball)
	default:
		return errNoArm
	}
	return nil
}

// ball returns where the arm's ball stands at neutral.
func ballOf(a machine.CrankArm) linkage.Point { return a.Shaft.Along(a.Neutral, a.Radius) }

// apart returns the distance of two points.
func apart(a, b linkage.Point) units.Length {
	return units.Length(r3.Norm(r3.Sub(a.Vec(), b.Vec())))
}
