package setup

import (
	"errors"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/fieldpath"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/swash"
)

// Build builds a machine. The error is a *FieldError that names the field at
// fault; its cause says what is wrong and by how much. Targets out of reach are
// no error here, so that the rest of the machine can be looked at: Setup.Unmet
// holds them. The machine is copied: what is changed in it afterwards does not
// change the rig.
func Build(from *machine.Machine) (*Rig, error) {
	if from == nil {
		return nil, &machine.FieldError{Reason: "there is no machine"}
	}
	m := from.Clone()
	r := &Rig{file: m, limits: machine.DefaultLimits()}
	if m.Limits != nil {
		r.limits = *m.Limits
	}
	for _, check := range []func() error{m.Validate, r.buildAir, r.buildRotor, r.checkPower} {
		if err := check(); err != nil {
			return nil, err
		}
	}
	control, err := r.buildControl()
	if err != nil {
		return nil, err
	}
	r.parts.Mix, r.parts.Neutral = control.Mix(), control.Mechanism().Neutral().Height
	grip, err := r.buildGrip()
	if err != nil {
		return nil, err
	}
	r.head = &pitch.Head{Control: control, Grip: grip}
	if err := r.checkZero(); err != nil {
		return nil, err
	}
	return r, r.buildModes()
}

// checkZero refuses a machine that cannot stand with all functions at zero, and names
// the servo whose mount or sub-trim keeps it from there.
func (r *Rig) checkZero() error {
	control := r.head.Control
	_, _, err := control.Slopes(control.NewState(), swash.Demand{})
	if err == nil {
		return nil
	}
	path := "plate"
	if leg := (*swash.LegError)(nil); errors.As(err, &leg) {
		path = r.servoPath(leg.Leg)
		switch s := r.servos[leg.Leg].Spec; {
		case s.Mount != 0:
			path += ".mount"
		case s.SubTrim != 0:
			path += ".sub_trim"
		}
	}
	return r.file.Fault(path, "with collective and cyclic at zero: "+r.Cause(err), err)
}

// servoPath returns the path of servo i as it is mounted.
func (r *Rig) servoPath(i int) string {
	if r.file.Plate.BellCranks != nil {
		return "plate.bell_cranks." + r.file.Plate.BellCranks.Functions()[i].Name + ".servo"
	}
	return fieldpath.Leg(i) + ".servo"
}

func (r *Rig) buildControl() (*swash.Control, error) {
	m := r.file
	if _, err := m.Plate.LinkThread.Pitch(); err != nil {
		return nil, blameField(m, "plate.link_thread", err)
	}
	var mechanism swash.Mechanism
	var err error
	switch {
	case m.Plate.BellCranks != nil && m.Plate.Legs != nil:
		return nil, fail(m, "plate", "has both legs and bell_cranks; give one of them")
	case m.Plate.BellCranks != nil:
		mechanism, err = r.buildBellCranks()
	default:
		mechanism, err = r.buildPlate()
	}
	if err != nil {
		return nil, err
	}
	mix, err := r.mix(mechanism)
	if err != nil {
		return nil, err
	}
	control, err := swash.NewControl(mechanism, r.parts.Servos, mix)
	if err != nil {
		path := "radio.mixing"
		if m.Radio.Mixing == machine.MixByRows {
			path = "radio.mix_rows"
		}
		return nil, blame(m, path, err)
	}
	return control, nil
}
