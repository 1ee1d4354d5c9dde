package sheet

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch/setup"

	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Step is what one turn, tooth or step does while the rest of the machine stays as it is.
// It is worked out by solving the machine before and after, not from a slope.
type Step struct {
	Mode        string      `json:"mode"` // the first flight mode that works
	What        string      `json:"what"`
	At          string      `json:"at"`                    // the stick position it holds for
	Pitch       units.Angle `json:"pitch"`                 // change of the gauge, or of cyclic amplitude for cyclic rates
	Tilt        units.Angle `json:"tilt"`                  // change of the plate's tilt, as an amount
	LowSide     units.Angle `json:"low_side"`              // the side that goes down
	Unreachable string      `json:"unreachable,omitempty"` // why the machine cannot take the step
}

// Steps works out what every adjustment does by its smallest natural step, in
// the first flight mode that works; there are none without such a mode. Radio
// pulse steps are left out of the calculation, so that they do not hide what is
// smaller. The errors are those of swash.NewControl and pitch.Setting.Demand.
func Steps(rig *setup.Rig) ([]Step, error) {
	b := newBench(rig)
	for i := range b.modes {
		if !b.modes[i].Works() {
			continue
		}
		exact, err := rig.Exact()
		if err != nil {
			return nil, err
		}
		s := stepper{bench: b, mode: b.modes[i].Name(), setting: b.modes[i].Setting(), head: exact}
		for _, part := range []func() error{s.rates, s.links, s.servos} {
			if err := part(); err != nil {
				return nil, err
			}
		}
		return s.steps, nil
	}
	return nil, nil
}

// stepper gathers the steps of one mode.
type stepper struct {
	*bench
	mode    string
	setting pitch.Setting
	head    *pitch.Head
	steps   []Step
}

// state is what a step is measured by.
type state struct {
	gauge  units.Angle
	tilt   swash.Tilt
	cyclic units.Angle
}

// state returns what a step is measured by; a servo at its pulse limit is an error,
// as it hides what the step would do.
func (s *stepper) state(head *pitch.Head, d swash.Demand) (state, error) {
	servos := head.Control.NewState()
	gauge, pose, err := head.Blade(servos, s.rig.Gauge().Bearing, d)
	if err != nil {
		return state{}, err
	}
	if err := servos.Limited(); err != nil {
		return state{}, err
	}
	rev, err := head.Grip.Revolution(pose)
	return state{gauge, pose.Tilt, rev.Amplitude()}, err
}

// compare returns the step from one head and demand to another.
func (s *stepper) compare(what, at string, after *pitch.Head, from, to swash.Demand) (step Step, cyclic units.Angle) {
	step = Step{Mode: s.mode, What: what, At: at}
	a, err := s.state(s.head, from)
	if err == nil {
		var b state
		if b, err = s.state(after, to); err == nil {
			tilt := b.tilt.Sub(a.tilt)
			step.Pitch, step.Tilt, step.LowSide = b.gauge-a.gauge, tilt.Amount(), tilt.LowSideShown()
			return step, b.cyclic - a.cyclic
		}
	}
	step.Unreachable = s.rig.Cause(err)
	return step, 0
}

// rates adds one per cent to the amount of each rate.
func (s *stepper) rates() error {
	const percent = 0.01
	more := s.setting
	for _, rate := range []*units.Ratio{&more.Rates.Collective, &more.Rates.Right, &more.Rates.Forward} {
		*rate += units.Ratio(math.Copysign(percent, float64(*rate)))
	}
	for _, f := range []struct {
		what, at string
		stick    pitch.Stick
		cyclic   bool
	}{
		{"collective rate, 1 % more", "high stick", pitch.Stick{Collective: 1}, false},
		{"right cyclic rate, 1 % more", "mid stick, full right", pitch.Stick{Collective: 0.5, Right: 1}, true},
		{"forward cyclic rate, 1 % more", "mid stick, full forward", pitch.Stick{Collective: 0.5, Forward: 1}, true},
	} {
		from, err := s.setting.Demand(f.stick)
		if err != nil {
			return err
		}
		to, err := more.Demand(f.stick)
		if err != nil {
			return err
		}
		step, cyclic := s.compare(f.what, f.at, s.head, from, to)
		if f.cyclic {
			step.Pitch = cyclic
		}
		s.steps = append(s.steps, step)
	}
	return nil
}

// add takes a step from the head to a changed one, at a position of the
// collective stick.
func (s *stepper) add(what, at string, changed *pitch.Head, stick float64) error {
	d, err := s.setting.Demand(pitch.Stick{Collective: stick})
	if err != nil {
		return err
	}
	step, _ := s.compare(what, at, changed, d, d)
	s.steps = append(s.steps, step)
	return nil
}

// stop notes a step that leads to no machine at all.
func (s *stepper) stop(what string, err error) {
	s.steps = append(s.steps, Step{Mode: s.mode, What: what, At: "mid stick", Unreachable: s.rig.Cause(err)})
}

// links lengthens each link by half a turn of one end.
func (s *stepper) links() error {
	m := s.rig.Machine()
	thread, err := m.Head.LinkThread.Pitch()
	if err != nil {
		return err
	}
	what := "pitch link, half a turn longer"
	longer := s.parts.Grip
	longer.Link += thread / 2
	if grip, err := pitch.NewGrip(longer, s.head.Control.Mechanism().Neutral().Height); err != nil {
		s.stop(what, err)
	} else if err := s.add(what, "mid stick", &pitch.Head{Control: s.head.Control, Grip: grip}, 0.5); err != nil {
		return err
	}
	if thread, err = m.Plate.LinkThread.Pitch(); err != nil {
		return err
	}
	for i, link := range s.parts.Links() {
		what := link.Name + ", half a turn longer"
		if changed, err := s.withLink(i, thread/2); err != nil {
			s.stop(what, err)
		} else if err := s.add(what, "mid stick", changed, 0.5); err != nil {
			return err
		}
	}
	return nil
}

// withLink returns the head with one link under the plate longer.
func (s *stepper) withLink(i int, longer units.Length) (*pitch.Head, error) {
	parts := s.rig.Parts()
	parts.SetLink(i, parts.Links()[i].Length+longer)
	mechanism, err := parts.Mechanism()
	if err != nil {
		return nil, err
	}
	control, err := s.head.Control.WithMechanism(mechanism)
	if err != nil {
		return nil, err
	}
	return &pitch.Head{Control: control, Grip: s.head.Grip}, nil
}

// servos moves each servo by a tooth, by a step of the radio, and by one per cent
// of its end points.
func (s *stepper) servos() error {
	pulse := s.rig.TrimStep()
	for i, was := range s.head.Control.Servos() {
		name := s.rig.Servos()[i].Name
		tooth, trim, end := was, was, was
		tooth.Mount += s.rig.Servos()[i].Type.Spline.Step()
		trim.SubTrim += pulse
		end.Low += 1 * units.Percent
		end.High += 1 * units.Percent
		for _, f := range []struct {
			what, at string
			changed  servo.Servo
			stick    float64
		}{
			{name + " servo arm, one tooth up", "mid stick", tooth, 0.5},
			{fmt.Sprintf("%s servo sub-trim, %v more", name, pulse), "mid stick", trim, 0.5},
			{name + " servo end points, 1 % more" + s.endPointCaution(), "high stick", end, 1},
		} {
			control, err := s.head.Control.WithServo(i, f.changed)
			if err != nil {
				s.stop(f.what, err)
				continue
			}
			if err := s.add(f.what, f.at, &pitch.Head{Control: control, Grip: s.head.Grip}, f.stick); err != nil {
				return err
			}
		}
	}
	return nil
}

// endPointCaution says what an end point does where servos share a control.
func (b *bench) endPointCaution() string {
	if b.file.Plate.BellCranks != nil {
		return ""
	}
	return " (tilts the plate; do not set pitch with it)"
}
