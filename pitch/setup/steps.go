package setup

import (
	"fmt"

	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Step is what one turn, tooth or step does, the rest of the machine left alone.
// It is worked out by solving the machine before and after, not from a slope.
type Step struct {
	What    string      `json:"what"`
	At      string      `json:"at"`       // the stick position it holds for
	Pitch   units.Angle `json:"pitch"`    // change of the gauge, or of cyclic amplitude for cyclic rates
	Lean    units.Angle `json:"lean"`     // change of the plate's lean, as an amount
	LowSide units.Angle `json:"low_side"` // the side that goes down
}

// state is what a step is measured by.
type state struct {
	gauge  units.Angle
	lean   swash.Lean
	cyclic units.Angle
}

func (r *Rig) state(head *pitch.Head, d swash.Demand) (state, error) {
	out := make([]servo.Output, head.Drive.Servos())
	gauge, pose, err := head.Blade(out, r.Machine.Gauge.Bearing, d)
	if err != nil {
		return state{}, err
	}
	rev, err := head.Grip.Revolution(pose)
	return state{gauge, pose.Lean, rev.Amplitude()}, err
}

// step compares two heads, or one at two demands.
func (r *Rig) step(what, at string, before, after *pitch.Head, from, to swash.Demand) (Step, error) {
	a, err := r.state(before, from)
	if err != nil {
		return Step{}, &ModeError{r.Modes[0].Mode.Name, what, err}
	}
	b, err := r.state(after, to)
	if err != nil {
		return Step{}, &ModeError{r.Modes[0].Mode.Name, what, err}
	}
	lean := b.lean.Sub(a.lean)
	return Step{what, at, b.gauge - a.gauge, lean.Amount(), lowSide(lean)}, nil
}

// Steps works out what every adjustment does by its smallest natural step, in
// the first flight mode. Radio pulse steps are left out of the calculation, so
// that they do not hide what is smaller. The error is a *ModeError.
func (r *Rig) Steps() ([]Step, error) {
	s, err := r.newSolver()
	if err != nil {
		return nil, err
	}
	var steps []Step
	for _, part := range []func(*pitch.Head) ([]Step, error){r.rateSteps, r.linkSteps, r.servoSteps} {
		more, err := part(&s.head)
		if err != nil {
			return nil, err
		}
		steps = append(steps, more...)
	}
	return steps, nil
}

// rateSteps takes one per cent off each function rate, so that a step never
// asks for more than the mode does already.
func (r *Rig) rateSteps(head *pitch.Head) ([]Step, error) {
	const percent = 1 * units.Percent
	mode := r.Modes[0]
	less := mode.Setting
	less.Rates.Collective -= percent
	less.Rates.Right -= percent
	less.Rates.Forward -= percent
	var steps []Step
	for _, f := range []struct {
		what, at string
		stick    pitch.Stick
	}{
		{"collective rate, 1 %", "high stick", pitch.Stick{Collective: 1}},
		{"right cyclic rate, 1 %", "mid stick, full right", pitch.Stick{Collective: 0.5, Right: 1}},
		{"forward cyclic rate, 1 %", "mid stick, full forward", pitch.Stick{Collective: 0.5, Forward: 1}},
	} {
		from, err := less.Demand(f.stick)
		if err != nil {
			return nil, err
		}
		to, err := mode.Setting.Demand(f.stick)
		if err != nil {
			return nil, err
		}
		step, err := r.step(f.what, f.at, head, head, from, to)
		if err != nil {
			return nil, err
		}
		if f.stick.Right != 0 || f.stick.Forward != 0 {
			a, err := r.state(head, from)
			if err != nil {
				return nil, err
			}
			b, err := r.state(head, to)
			if err != nil {
				return nil, err
			}
			step.Pitch = b.cyclic - a.cyclic
		}
		steps = append(steps, step)
	}
	return steps, nil
}

// linkSteps lengthens each link by half a turn of one end.
func (r *Rig) linkSteps(head *pitch.Head) ([]Step, error) {
	var steps []Step
	mid, err := r.Modes[0].Setting.Demand(pitch.Stick{Collective: 0.5})
	if err != nil {
		return nil, err
	}
	add := func(what string, changed *pitch.Head) error {
		step, err := r.step(what, "mid stick", head, changed, mid, mid)
		steps = append(steps, step)
		return err
	}
	halfTurn, err := r.Machine.Head.LinkThread.Pitch()
	if err != nil {
		return nil, err
	}
	longer := r.grip
	longer.Link += halfTurn / 2
	grip, err := pitch.NewGrip(longer, head.Drive.Plate().Neutral().Height)
	if err != nil {
		return nil, &ModeError{r.Modes[0].Mode.Name, "horn link", err}
	}
	if err := add("horn link, half a turn longer", &pitch.Head{Drive: head.Drive, Grip: grip}); err != nil {
		return nil, err
	}
	if halfTurn, err = r.Machine.Plate.LinkThread.Pitch(); err != nil {
		return nil, err
	}
	for i, leg := range r.Machine.Plate.Legs {
		changed, err := r.withLink(head, i, r.plate.Legs[i].Arm.Link+halfTurn/2)
		if err != nil {
			return nil, &ModeError{r.Modes[0].Mode.Name, leg.Name + " link", err}
		}
		if err := add(leg.Name+" servo link, half a turn longer", changed); err != nil {
			return nil, err
		}
	}
	return steps, nil
}

// withLink returns the head with one leg's link changed.
func (r *Rig) withLink(head *pitch.Head, leg int, link units.Length) (*pitch.Head, error) {
	spec := r.plate
	spec.Legs = append([]swash.LegSpec(nil), spec.Legs...)
	spec.Legs[leg].Arm.Link = link
	plate, err := swash.NewPlate(spec)
	if err != nil {
		return nil, err
	}
	servos := make([]servo.Servo, head.Drive.Servos())
	for i := range servos {
		servos[i] = head.Drive.Servo(i)
	}
	drive, err := swash.NewDirect(plate, servos, head.Drive.Mix())
	if err != nil {
		return nil, err
	}
	return &pitch.Head{Drive: drive, Grip: head.Grip}, nil
}

// servoSteps moves each servo by a tooth, by a step of the radio, and by one
// per cent of its end points.
func (r *Rig) servoSteps(head *pitch.Head) ([]Step, error) {
	mode := r.Modes[0]
	mid, err := mode.Setting.Demand(pitch.Stick{Collective: 0.5})
	if err != nil {
		return nil, err
	}
	high, err := mode.Setting.Demand(pitch.Stick{Collective: 1})
	if err != nil {
		return nil, err
	}
	var steps []Step
	for i, leg := range r.Machine.Plate.Legs {
		s := head.Drive.Servo(i)
		tooth, trim, end := s, s, s
		tooth.Mount += r.servoType(i).Spline.Step()
		pulse := r.Machine.Radio.PulseStep
		if pulse == 0 {
			pulse = 1e-6 // a stepless radio: per microsecond
		}
		trim.SubTrim += pulse
		end.Low += 1 * units.Percent
		end.High += 1 * units.Percent
		for _, f := range []struct {
			what, at string
			changed  servo.Servo
			demand   swash.Demand
		}{
			{fmt.Sprintf("%s servo arm, one tooth up", leg.Name), "mid stick", tooth, mid},
			{fmt.Sprintf("%s servo sub-trim, %v", leg.Name, pulse), "mid stick", trim, mid},
			{fmt.Sprintf("%s servo end points, 1 %% (leans the plate: not a way to set pitch)", leg.Name), "high stick", end, high},
		} {
			drive, err := head.Drive.WithServo(i, f.changed)
			if err != nil {
				return nil, &ModeError{mode.Mode.Name, f.what, err}
			}
			step, err := r.step(f.what, f.at, head, &pitch.Head{Drive: drive, Grip: head.Grip}, f.demand, f.demand)
			if err != nil {
				return nil, err
			}
			steps = append(steps, step)
		}
	}
	return steps, nil
}
