package main

import (
	"errors"
	"fmt"
	"strings"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// comparison is one machine in one flight mode, with each of the servos in turn.
type comparison struct {
	options
	rig     *setup.Rig
	mode    *setup.RigMode
	peaks   []setup.PeakLoad  // of the machine's servos, over all sticks
	worst   int               // the servo with the largest of them
	turns   []units.Angle     // of the arms, from low to high stick
	high    swash.Demand      // at high stick, cyclic centred
	loads   []setup.ServoLoad // there
	step    units.Angle       // of blade pitch, where all servos move by one radio pulse step
	results []result
}

// result is what one candidate does in the machine.
type result struct {
	*candidate
	at       servo.RatingPoint
	unrated  *servo.VoltageError  // the voltage is not a rated one, and at is the nearest
	stroke   units.Time           // of the slowest of the machine's servos
	stalled  *servo.OverloadError // why there is no stroke; nil where there is one
	lost     setup.Give           // under the mean load at high stick
	dropped  *servo.OverloadError // why nothing is known to be lost: the mean load alone stalls it
	deadband units.Angle          // of blade pitch, to either side
}

func newComparison(o options) (*comparison, error) {
	c := &comparison{options: o}
	var err error
	if c.rig, err = show.Rig(o.machine, demo.Direct); err != nil {
		return nil, err
	}
	if c.mode, err = find(c.rig, o.mode); err != nil {
		return nil, err
	}
	if err := c.load(); err != nil {
		return nil, err
	}
	if err := c.stroke(); err != nil {
		return nil, err
	}
	steps := make([]units.Angle, len(c.rig.Servos))
	for i, s := range c.rig.Head.Drive.Servos() {
		steps[i] = s.ArmPerStep()
	}
	if c.step, err = c.together(steps); err != nil {
		return nil, err
	}
	for i := range candidates {
		r, err := c.try(&candidates[i])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", candidates[i].name, err)
		}
		c.results = append(c.results, r)
	}
	return c, nil
}

// find returns the flight mode of a name, or the first that works where it is empty.
func find(rig *setup.Rig, name string) (*setup.RigMode, error) {
	if name == "" {
		if m := show.Working(rig); m != nil {
			return m, nil
		}
		return nil, errors.New("no flight mode can be worked out")
	}
	var names []string
	for i := range rig.Modes {
		m := &rig.Modes[i]
		switch {
		case m.Mode.Name != name:
			names = append(names, fmt.Sprintf("%q", m.Mode.Name))
		case !m.Works():
			return nil, fmt.Errorf("flight mode %q cannot be worked out: %w", name, m.Unmet)
		default:
			return m, nil
		}
	}
	return nil, fmt.Errorf("there is no flight mode %q; the machine has %s", name, strings.Join(names, ", "))
}

// load works out how the blades load the machine's servos.
func (c *comparison) load() error {
	rot, err := rotor.New(blades)
	if err != nil {
		return err
	}
	blade, err := rotor.SymmetricBlade(bladeMass, blades.Chord, thickness, axis)
	if err != nil {
		return err
	}
	at := rotor.Condition{Speed: c.speed, Density: density}
	if c.peaks, err = c.rig.PeakLoads(c.mode, rot, blade, at); err != nil {
		return err
	}
	for i, p := range c.peaks {
		if p.Peak > c.peaks[c.worst].Peak {
			c.worst = i
		}
	}
	if c.high, err = c.mode.Setting.Demand(pitch.Stick{Collective: 1}); err != nil {
		return err
	}
	c.loads, err = c.rig.ServoLoads(rot, blade, at, c.high)
	return err
}

// stroke works out how far a full collective stroke turns the arms.
func (c *comparison) stroke() error {
	var ends [2]setup.Row
	for stick := range ends {
		row, err := c.rig.Row(c.mode, float64(stick))
		if err != nil {
			return err
		}
		if row.Stopped != "" {
			return fmt.Errorf("flight mode %q, stick %v: %s", c.mode.Mode.Name, row.Stick, row.Stopped)
		}
		ends[stick] = row
	}
	for i := range c.rig.Servos {
		c.turns = append(c.turns, ends[1].Arms[i]-ends[0].Arms[i])
	}
	return nil
}
