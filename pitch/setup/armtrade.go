package setup

import (
	"errors"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// ArmTrade is a setup on servo arms (also called servo horns) of another radius, with the
// same pitch at the blade. A longer arm needs less rate and moves the plate faster; a
// shorter one holds more and divides the pitch finer.
type ArmTrade struct {
	Setup    Setup        // the machine on those arms, with what is to be entered there
	Transfer *Transfer    // rates and curve, and how well they do the same
	Demand   *ServoDemand // what the mode then asks of the servos
	// Findings are of rates beyond the radio's, of servos that reach their limit at a corner
	// of the sticks, and of corners out of reach.
	Findings []Finding
}

// OnArms returns the setup on servo arms of another radius, all of one
// length, while a rotor turns. The errors are those of WithArms, Transfer and ServoDemand; a
// *TargetError among them is a pitch that those arms do not reach.
func (s Setup) OnArms(radius units.Length, spin *Spin) (*ArmTrade, error) {
	if err := s.validate(); err != nil {
		return nil, err
	}
	rig, err := s.Rig.WithArms(radius)
	if err != nil {
		return nil, err
	}
	t, err := s.Transfer(rig, TransferOptions{})
	if err != nil {
		return nil, err
	}
	mode := &RigMode{Mode: &t.Mode, Setting: t.Entered, Throttle: s.Mode.Throttle}
	duty, err := rig.ServoDemand(mode, spin)
	if err != nil {
		return nil, err
	}
	found := append(rig.checkRates(mode), rig.checkCorners(SheetMode{Corners: rig.corners(mode)})...)
	return &ArmTrade{Setup{rig, mode}, t, duty, found}, nil
}

// ArmHoles returns the arm radii that the servos of all the machine's types offer, by
// rising length.
func (r *Rig) ArmHoles() []units.Length {
	var holes []units.Length
	for i, s := range r.Servos {
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
	m := *r.Machine
	m.lines = nil // of a file that says otherwise
	if m.Plate.BellCranks != nil {
		cranks := *m.Plate.BellCranks
		m.Plate.BellCranks = &cranks
		for _, f := range m.functions() {
			f.chain.Chain = slices.Clone(f.chain.Chain)
			first := f.chain.Chain[0].clone()
			f.chain.Chain[0] = first
			if err := first.setArm(radius); err != nil {
				return nil, m.blame("plate.bell_cranks."+f.name+".chain[0]", err)
			}
		}
		return m.Build()
	}
	plate := &r.parts.Plate
	frame := r.Head.Control.Mechanism().Neutral().Frame(plate.Guide)
	m.Plate.Legs = slices.Clone(m.Plate.Legs)
	for i, leg := range plate.Legs {
		arm := leg.Arm
		m.Plate.Legs[i].Upright = nil
		m.Plate.Legs[i].Spatial = &Spatial{
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
	return m.Build()
}

var errNoArm = errors.New("is a lever, so the servo has no arm to change")

// setArm changes the driving arm of a member, and cuts its link anew.
func (p Member) setArm(radius units.Length) error {
	switch {
	case p.ArmToArm != nil:
		p.ArmToArm.Driving.Radius = radius
		p.ArmToArm.Link = apart(p.ArmToArm.Driving.ball(), p.ArmToArm.Driven.ball())
	case p.ArmToLine != nil:
		p.ArmToLine.Arm.Radius = radius
		p.ArmToLine.Link = apart(p.ArmToLine.Arm.ball(), p.ArmToLine.Ball)
	default:
		return errNoArm
	}
	return nil
}

// ball returns where the arm's ball stands at neutral.
func (a CrankArm) ball() linkage.Point { return a.Shaft.Along(a.Neutral, a.Radius) }

// apart returns the distance of two points.
func apart(a, b linkage.Point) units.Length {
	return units.Length(r3.Norm(r3.Sub(a.Vec(), b.Vec())))
}
