package setup

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

// Setup is a machine in one of its flight modes: what Rig.Modes, Transfer and Enter return. It
// does not change, and any number of goroutines may use one at the same time. The zero Setup
// is of no use: what it is asked gives a *ModeError.
type Setup struct {
	rig  *Rig
	mode *mode
}

// mode is a flight mode built and ready.
type mode struct {
	file     machine.Mode
	setting  pitch.Setting
	throttle *curve.Curve
	solved   *Solution
	unmet    error
}

// Rig returns the machine; nil for the zero Setup.
func (s Setup) Rig() *Rig { return s.rig }

// Name returns that of the flight mode; "" for the zero Setup.
func (s Setup) Name() string {
	if s.mode == nil {
		return ""
	}
	return s.mode.file.Name
}

// Mode returns a copy of the flight mode as the machine file has it.
func (s Setup) Mode() machine.Mode {
	if s.mode == nil {
		return machine.Mode{}
	}
	return s.mode.file.Clone()
}

// Setting returns the mode's own pitch curve and rates, or else what one must enter to meet
// its targets. Its curve is nil where the mode does not work.
func (s Setup) Setting() pitch.Setting {
	if s.mode == nil {
		return pitch.Setting{}
	}
	return s.mode.setting
}

// Throttle returns the throttle curve; nil for the zero Setup.
func (s Setup) Throttle() *curve.Curve {
	if s.mode == nil {
		return nil
	}
	return s.mode.throttle
}

// Solved returns what meets the mode's targets; nil where it has none, or they cannot be met.
func (s Setup) Solved() *Solution {
	if s.mode == nil || s.mode.solved == nil {
		return nil
	}
	solved := *s.mode.solved
	solved.Enter.Points = slices.Clone(solved.Enter.Points)
	solved.Readings = slices.Clone(solved.Readings)
	solved.Cyclic = slices.Clone(solved.Cyclic)
	return &solved
}

// Unmet returns why the mode's targets cannot be met: a *FieldError, around a *TargetError where
// a target is out of reach. The mode's own pitch curve and rates then stand in; where it has
// none, it cannot be worked out.
func (s Setup) Unmet() error {
	if s.mode == nil {
		return nil
	}
	return s.mode.unmet
}

// Works reports whether the mode has a pitch curve and rates to work with, given or solved.
func (s Setup) Works() bool { return s.mode != nil && s.mode.setting.Pitch != nil }

// Enter returns the setup with other rates and another pitch curve entered in its flight mode:
// its Rig is the machine with that mode, and the others as they were.
func (s Setup) Enter(setting pitch.Setting) Setup {
	if s.mode == nil {
		return s
	}
	rig := *s.rig
	rig.modes = make([]mode, len(s.rig.modes))
	entered := Setup{rig: &rig}
	for i := range rig.modes {
		rig.modes[i] = s.rig.modes[i]
		if s.mode == &s.rig.modes[i] {
			entered.mode = &rig.modes[i]
		}
	}
	if entered.mode == nil { // of a transfer
		m := *s.mode
		entered.mode = &m
	}
	entered.mode.enter(setting)
	return entered
}

// enter puts a setting into the mode.
func (m *mode) enter(setting pitch.Setting) {
	m.setting = setting
	if setting.Pitch != nil {
		m.file.Rates, m.file.Pitch = inFile(setting)
	}
}

// ThrottleAt returns the throttle at a position of the collective stick, 0 to 1: with hold on
// where the mode has it on. It is NaN for the zero Setup.
func (s Setup) ThrottleAt(stick float64) units.Ratio {
	if s.mode == nil {
		return units.Ratio(math.NaN())
	}
	if s.mode.file.Held {
		return s.mode.file.ThrottleHold
	}
	return units.Ratio(s.mode.throttle.At(stick))
}

// fail reports what stops the setup at a position of the collective stick.
func (s Setup) fail(stick float64, err error) error {
	return &ModeError{s.Name(), fmt.Sprintf("stick %v", units.Ratio(stick)), err}
}

// Validate reports a setup that cannot be worked out, as a *ModeError.
func (s Setup) Validate() error {
	switch {
	case s.mode == nil || s.rig == nil:
		return &ModeError{"", "setup", errors.New("it is empty; take one of Rig.Modes")}
	case !s.Works() && s.mode.unmet != nil:
		return &ModeError{s.Name(), "setup", s.mode.unmet}
	case !s.Works() || s.mode.throttle == nil:
		return &ModeError{s.Name(), "setup", errors.New("the flight mode has no pitch curve or no throttle curve")}
	}
	return nil
}
