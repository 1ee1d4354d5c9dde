package load

import (
	"errors"
	"fmt"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Spin is a rotor as it turns: what loads the plate.
type Spin struct {
	Rotor *rotor.Rotor
	Blade rotor.Blade
	At    rotor.Condition
}

// Turning is a setup while its rotor turns. Any number of goroutines may use one at the same
// time.
type Turning struct {
	Setup setup.Setup
	Spin  Spin
}

// Of returns a setup while the machine's own rotor turns at the flight mode's rotor speed,
// hovering in the air of its field. It is false where the file gives no rotor, or the mode no
// speed.
func Of(s setup.Setup) (Turning, bool) {
	rig, speed := s.Rig(), s.Mode().RotorSpeed
	if rig == nil || rig.Rotor() == nil || speed == nil {
		return Turning{}, false
	}
	return Turning{s, Spin{rig.Rotor(), rig.Blade(), rotor.Condition{Speed: *speed, Density: rig.Air().Density}}}, true
}

// Validate reports a setup that cannot be worked out, or a spin without a rotor, as a
// *setup.ModeError. What needs them calls it.
func (t Turning) Validate() error {
	if err := t.Setup.Validate(); err != nil {
		return err
	}
	if t.Spin.Rotor == nil {
		return &setup.ModeError{Mode: t.Setup.Name(), Where: "spin", Err: errNoRotor}
	}
	return nil
}

var errNoRotor = errors.New("it has no rotor; set Rotor, or use load.Of")

func (t Turning) head() *pitch.Head { return t.Setup.Rig().Head() }

// fail reports what stops the setup at a position of the collective stick.
func (t Turning) fail(stick float64, err error) error {
	return &setup.ModeError{Mode: t.Setup.Name(), Where: fmt.Sprintf("stick %v", units.Ratio(stick)), Err: err}
}
