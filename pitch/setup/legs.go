package setup

import (
	"errors"
	"strings"

	"example.org/levelhead/pitch/internal/fieldpath"
	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// weakest is the least hold of the legs on the plate that a machine may have: two of three legs
// about 4° apart. No model stands near it (common practice, no source).
const weakest = 0.1

// buildPlate builds a plate whose servos act on it directly.
func (r *Rig) buildPlate() (swash.Mechanism, error) {
	m := r.file
	plate := &r.parts.Plate
	plate.Height = m.Plate.NeutralHeight
	if m.Plate.Guide != nil {
		plate.Guide = swash.GuideAt(*m.Plate.Guide)
	}
	for i, leg := range m.Plate.Legs {
		path := fieldpath.Leg(i)
		spec, err := legOf(m, path, leg)
		if err != nil {
			return nil, err
		}
		plate.Legs = append(plate.Legs, spec)
		if err := r.addServo(path+".servo", leg.Name, leg.Servo, spec.Arm.Radius); err != nil {
			return nil, err
		}
	}
	built, err := swash.NewPlate(*plate)
	if err != nil {
		return nil, blamePlate(m, err)
	}
	if hold := built.Hold(); hold < weakest {
		return nil, fail(m, "plate.legs", "must stand farther apart, or the swashplate gives way at a touch: their hold on it is %.2g, that of three at 120° is 2.6, and the least taken is %.2g", hold, weakest)
	}
	return built, checkAxes(m, built)
}

// checkAxes refuses a leg whose positive arm angles lower its ball: its axis is
// drawn the wrong way round.
func checkAxes(m *machine.Machine, plate *swash.Plate) error {
	arms := make([]units.Angle, plate.Servos())
	effects := make([]swash.LegEffect, plate.Servos())
	if err := plate.LegEffects(effects, plate.Neutral(), arms); err != nil {
		return blamePlate(m, err)
	}
	for i, e := range effects {
		if e.ArmPer.Height < 0 {
			return fail(m, fieldpath.Leg(i)+".spatial.axis", "is the wrong way round, so that a positive turn lowers the ball; reverse the signs of x, y and z")
		}
	}
	return nil
}

// blamePlate reports a plate's error as a fault in the field of the leg that it names.
func blamePlate(m *machine.Machine, err error) error {
	if leg := (*swash.LegError)(nil); errors.As(err, &leg) {
		return blame(m, fieldpath.Leg(leg.Leg), err)
	}
	var field *units.FieldError
	if !errors.As(err, &field) {
		return blame(m, "plate", err)
	}
	path, inside := units.FieldNames{"Legs[]": "plate.legs[%d]"}.Of(field.Field, 0)
	if path == "" {
		return blame(m, "plate", err)
	}
	for i, leg := range m.Plate.Legs {
		if fieldpath.Leg(i) != path {
			continue
		}
		kind, shape, _ := leg.Shape() // the leg has been built of it
		if name, _ := shape.Fields().Of(strings.TrimPrefix(inside, "."), 0); name != "" {
			return blameField(m, path+"."+kind+name, err)
		}
	}
	return blame(m, path, err)
}

func legOf(m *machine.Machine, path string, leg machine.Leg) (spec swash.LegSpec, err error) {
	kind, shape, err := leg.Shape()
	if choice := (*machine.ChoiceError)(nil); errors.As(err, &choice) {
		return spec, m.Fault(path, choice.Both(), err)
	}
	if spec, err = shape.Leg(m.Plate.NeutralHeight); err != nil {
		name, _ := words.Field(shape.Fields(), err)
		return spec, blameField(m, path+"."+kind+name, err)
	}
	spec.Stiffness, err = stiffnessOf(m, path, leg)
	return spec, err
}

// stiffness returns that of a leg's link and mount together, and 0 where neither is
// given.
func stiffnessOf(m *machine.Machine, path string, leg machine.Leg) (units.Stiffness, error) {
	var parts []units.Stiffness
	for _, part := range []struct {
		field string
		value *units.Stiffness
	}{{"link_stiffness", leg.LinkStiffness}, {"mount_stiffness", leg.MountStiffness}} {
		if part.value == nil {
			continue
		}
		if !(*part.value > 0) || !units.Finite(*part.value) {
			return 0, fail(m, path+"."+part.field, "must be above zero, not %v", *part.value)
		}
		parts = append(parts, *part.value)
	}
	if parts == nil {
		return 0, nil
	}
	return swash.InSeries(parts...), nil
}
