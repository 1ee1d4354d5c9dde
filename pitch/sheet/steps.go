package sheet

import (
	"math"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Step is what one turn, tooth or step does while the rest of the machine stays as it is.
// It is worked out by solving the machine before and after, not from a slope.
type Step struct {
	Mode        string      `json:"mode"`                                 // the first flight mode that works
	Adjust      Adjust      `json:"adjust"`                               // what kind of thing is changed
	Of          string      `json:"of"`                                   // the control, the link or the servo that it is changed of
	By          string      `json:"by"`                                   // how much it is changed by: a quantity for units.Parse, as Adjust says
	Stick       Stick       `json:"sticks"`                               // the stick position it holds for
	What        string      `json:"what"`                                 // Adjust, Of and By in words
	At          string      `json:"at"`                                   // Stick in words
	Pitch       units.Angle `json:"pitch" plain:"without=Unreachable"`    // change of the gauge, or of cyclic amplitude for cyclic rates
	Tilt        units.Angle `json:"tilt" plain:"without=Unreachable"`     // change of the plate's tilt, as an amount
	LowSide     units.Angle `json:"low_side" plain:"without=Unreachable"` // the side that goes down
	Unreachable string      `json:"unreachable,omitempty"`                // why the machine cannot take the step
}

// Adjust is a kind of thing that can be changed on a machine by a step.
type Adjust string

// The adjustments, each with what Step.Of and Step.By are.
const (
	AdjustRate     Adjust = "rate"         // of a control: collective, right cyclic or forward cyclic; a Ratio to add to its amount
	AdjustLink     Adjust = "link"         // under the plate, or the pitch link; the Length that half a turn of one end adds
	AdjustTooth    Adjust = "spline tooth" // of a servo; the Angle that moves its arm up
	AdjustSubTrim  Adjust = "sub-trim"     // of a servo; a PulseWidth to add
	AdjustEndPoint Adjust = "end points"   // of a servo; a Ratio to add to both
)

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

// step returns a step that is not worked out.
func (s *stepper) step(adjust Adjust, of string, by any, at pitch.Stick) Step {
	step := Step{Mode: s.mode, Adjust: adjust, Of: of, By: text(by), Stick: *stickOf(at)}
	step.describe(by, s.file.Plate.BellCranks == nil)
	return step
}

// compare works out a step from one head and demand to another.
func (s *stepper) compare(step *Step, after *pitch.Head, from, to swash.Demand) (cyclic units.Angle) {
	a, err := s.state(s.head, from)
	if err == nil {
		var b state
		if b, err = s.state(after, to); err == nil {
			tilt := b.tilt.Sub(a.tilt)
			step.Pitch, step.Tilt, step.LowSide = b.gauge-a.gauge, tilt.Amount(), tilt.LowSideShown()
			return b.cyclic - a.cyclic
		}
	}
	step.Unreachable = s.rig.Cause(err)
	return 0
}

// rates adds one per cent to the amount of each rate.
func (s *stepper) rates() error {
	more := s.setting
	for _, rate := range []*units.Ratio{&more.Rates.Collective, &more.Rates.Right, &more.Rates.Forward} {
		*rate += units.Ratio(math.Copysign(float64(units.Percent), float64(*rate)))
	}
	for _, f := range []struct {
		control string
		stick   pitch.Stick
	}{
		{"collective", pitch.Stick{Collective: 1}},
		{"right cyclic", pitch.Stick{Collective: 0.5, Right: 1}},
		{"forward cyclic", pitch.Stick{Collective: 0.5, Forward: 1}},
	} {
		from, err := s.setting.Demand(f.stick)
		if err != nil {
			return err
		}
		to, err := more.Demand(f.stick)
		if err != nil {
			return err
		}
		step := s.step(AdjustRate, f.control, units.Percent, f.stick)
		if cyclic := s.compare(&step, s.head, from, to); f.control != "collective" {
			step.Pitch = cyclic
		}
		s.steps = append(s.steps, step)
	}
	return nil
}

// add takes a step from the head to a changed one. Where that is no machine at all, err says
// why.
func (s *stepper) add(step Step, changed *pitch.Head, err error) error {
	if err != nil {
		step.Unreachable = s.rig.Cause(err)
	} else {
		d, err := s.setting.Demand(step.Stick.Plain())
		if err != nil {
			return err
		}
		s.compare(&step, changed, d, d)
	}
	s.steps = append(s.steps, step)
	return nil
}

// links lengthens each link by half a turn of one end.
func (s *stepper) links() error {
	m := s.rig.Machine()
	thread, err := m.Head.LinkThread.Pitch()
	if err != nil {
		return err
	}
	step := func(link string, longer units.Length) Step {
		return s.step(AdjustLink, link, units.Round(longer, 6), midStick)
	}
	longer := s.parts.Grip
	longer.Link += thread / 2
	grip, err := pitch.NewGrip(longer, s.head.Control.Mechanism().Neutral().Height)
	if err := s.add(step("pitch link", thread/2), &pitch.Head{Control: s.head.Control, Grip: grip}, err); err != nil {
		return err
	}
	if thread, err = m.Plate.LinkThread.Pitch(); err != nil {
		return err
	}
	for i, link := range s.parts.Links() {
		changed, err := s.withLink(i, thread/2)
		if err := s.add(step(link.Name, thread/2), changed, err); err != nil {
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
			adjust  Adjust
			by      any
			at      pitch.Stick
			changed servo.Servo
		}{
			{AdjustTooth, units.Round(tooth.Mount-was.Mount, 6), midStick, tooth},
			{AdjustSubTrim, units.Round(pulse, 6), midStick, trim},
			{AdjustEndPoint, units.Percent, pitch.Stick{Collective: 1}, end},
		} {
			control, err := s.head.Control.WithServo(i, f.changed)
			if err := s.add(s.step(f.adjust, name, f.by, f.at), &pitch.Head{Control: control, Grip: s.head.Grip}, err); err != nil {
				return err
			}
		}
	}
	return nil
}

// midStick is the collective stick in the middle.
var midStick = pitch.Stick{Collective: 0.5}
