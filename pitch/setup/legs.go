package setup

import (
	"errors"
	"fmt"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// buildPlate builds a plate whose servos act on it directly.
func (r *Rig) buildPlate() (swash.Mechanism, error) {
	m := r.Machine
	plate := &r.parts.Plate
	plate.Height = m.Plate.NeutralHeight
	if m.Plate.Guide != nil {
		plate.Guide = swash.GuideAt(*m.Plate.Guide)
	}
	for i, leg := range m.Plate.Legs {
		path := legPath(i)
		spec, err := m.leg(path, leg)
		if err != nil {
			return nil, err
		}
		plate.Legs = append(plate.Legs, spec)
		if err := r.addServo(path+".servo", leg.Name, leg.Servo, spec.Arm.Radius); err != nil {
			return nil, err
		}
		r.links = append(r.links, leg.Name+" servo link")
	}
	built, err := swash.NewPlate(*plate)
	if err != nil {
		return nil, m.blamePlate(err)
	}
	return built, m.checkAxes(built)
}

// checkAxes refuses a leg whose positive arm angles lower its ball: its axis is
// drawn the wrong way round.
func (m *Machine) checkAxes(plate *swash.Plate) error {
	arms := make([]units.Angle, plate.Servos())
	effects := make([]swash.LegEffect, plate.Servos())
	if err := plate.LegEffects(effects, plate.Neutral(), arms); err != nil {
		return m.blamePlate(err)
	}
	for i, e := range effects {
		if e.ArmPer.Height < 0 {
			return m.fail(legPath(i)+".spatial.axis", "is the wrong way round, so that a positive turn lowers the ball; reverse the signs of x, y and z")
		}
	}
	return nil
}

// legFields are the fields of a leg's upright or spatial by those of a swash.LegSpec.
var legFields = units.FieldNames{
	"Legs[].Ball.Bearing": ".bearing",
	"Legs[].Ball.Radius":  ".ball_radius",
	"Legs[].Ball.Offset":  ".offset",
	"Legs[].Arm.Radius":   ".arm",
	"Legs[].Arm.Link":     ".link",
	"Legs[].Arm.Axis":     ".axis",
	"Legs[].Arm.Neutral":  ".neutral",
	"Legs[].Arm.Shaft":    ".shaft",
}

// blamePlate reports a plate's error as a fault in the field of the leg that it names.
func (m *Machine) blamePlate(err error) error {
	if leg := (*swash.LegError)(nil); errors.As(err, &leg) {
		return m.blame(legPath(leg.Leg), err)
	}
	path, _ := fieldOf(units.FieldNames{"Legs[]": "plate.legs[%d]"}, err)
	if path == "" {
		return m.blame("plate", err)
	}
	field, _ := fieldOf(legFields, err)
	if field == "" {
		return m.blame(path, err)
	}
	for i, leg := range m.Plate.Legs {
		switch {
		case legPath(i) != path:
		case leg.Spatial != nil:
			path += ".spatial"
		default:
			path += ".upright"
		}
	}
	return m.blameField(path+field, err)
}

func legPath(i int) string { return fmt.Sprintf("plate.legs[%d]", i) }

func (m *Machine) leg(path string, leg Leg) (spec swash.LegSpec, err error) {
	switch {
	case leg.Upright != nil && leg.Spatial != nil:
		return spec, m.fail(path, "has both upright and spatial; give one of them")
	case leg.Upright != nil:
		u := leg.Upright
		ball := swash.Ball{Bearing: u.Bearing, Radius: u.BallRadius, Offset: u.Offset}
		if spec, err = swash.Upright(ball, m.Plate.NeutralHeight, u.Arm, u.Link, u.Points); err != nil {
			return spec, m.blameField(path+".upright.points", err)
		}
	case leg.Spatial != nil:
		s := leg.Spatial
		spec = swash.LegSpec{
			Ball: swash.Ball{Bearing: s.Bearing, Radius: s.BallRadius, Offset: s.Offset},
			Arm:  linkage.ArmSpec{Shaft: s.Shaft, Axis: s.Axis, Neutral: s.Neutral, Radius: s.Arm, Link: s.Link},
		}
	default:
		return spec, m.fail(path, "has neither upright nor spatial; give one of them")
	}
	spec.Stiffness, err = m.stiffness(path, leg)
	return spec, err
}

// stiffness returns that of a leg's link and mount together, and 0 where neither is
// given.
func (m *Machine) stiffness(path string, leg Leg) (units.Stiffness, error) {
	var parts []units.Stiffness
	for _, part := range []struct {
		field string
		value *units.Stiffness
	}{{"link_stiffness", leg.LinkStiffness}, {"mount_stiffness", leg.MountStiffness}} {
		if part.value == nil {
			continue
		}
		if !(*part.value > 0) || !units.Finite(*part.value) {
			return 0, m.fail(path+"."+part.field, "must be above zero, not %v", *part.value)
		}
		parts = append(parts, *part.value)
	}
	if parts == nil {
		return 0, nil
	}
	return swash.InSeries(parts...), nil
}
