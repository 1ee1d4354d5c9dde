package main

import (
	"errors"
	"fmt"
	"strings"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// comparison is one machine in one flight mode, with each kind of servo in turn.
type comparison struct {
	rig     *setup.Rig
	mode    setup.Setup
	turning load.Turning
	voltage units.Voltage // at the servos
	demand  *load.Demand
	worst   int // the servo with the largest load
	results []result
	arms    []arm
}

// result is what one kind of servo does in the machine.
type result struct {
	name    string
	own     bool // these are the machine's
	ratings []servo.Rating
	*load.Performance
	stiffness units.Torque // of each blade, per radian, at high stick
}

func newComparison(o options) (*comparison, error) {
	c := &comparison{}
	var err error
	if c.rig, err = show.Changed(o.machine, demo.Direct, o.override); err != nil {
		return nil, err
	}
	c.voltage = *c.rig.Machine().ServoVoltage
	if err := c.find(o.mode); err != nil {
		return nil, err
	}
	if c.demand, err = c.turning.Demand(); err != nil {
		return nil, err
	}
	for i, p := range c.demand.Peaks {
		if p.Peak > c.demand.Peaks[c.worst].Peak {
			c.worst = i
		}
	}
	for _, r := range c.choices() {
		if r.Performance, err = c.demand.Performance(r.ratings, c.voltage); err != nil {
			return nil, fmt.Errorf("%s: %w", r.name, err)
		}
		if r.stiffness, err = c.turning.Stiffness(1, r.ratings, c.voltage); err != nil {
			return nil, fmt.Errorf("%s: %w", r.name, err)
		}
		c.results = append(c.results, r)
	}
	for _, radius := range c.rig.ArmHoles() {
		c.arms = append(c.arms, c.arm(radius))
	}
	return c, nil
}

// find finds the flight mode of a name. If the name is empty, it is the first mode that works
// and has a rotor speed.
func (c *comparison) find(name string) error {
	if name == "" {
		for _, c.mode = range c.rig.Modes() {
			var turns bool
			if c.turning, turns = load.Of(c.mode); turns && c.mode.Works() {
				return nil
			}
		}
		return errors.New("the machine file has no flight mode that can be worked out and has a rotor_speed: give one with -speed")
	}
	var err error
	if c.mode, err = show.Mode(c.rig, name); err != nil {
		return err
	}
	var turns bool
	switch c.turning, turns = load.Of(c.mode); {
	case !turns:
		return fmt.Errorf("flight mode %q has no rotor_speed in the file: give one with -speed", name)
	case !c.mode.Works():
		return fmt.Errorf("flight mode %q cannot be worked out: %w", name, c.mode.Unmet())
	}
	return nil
}

// choices are the machine's own servos, if the file rates all of them, and the candidates.
// A candidate is put on all legs.
func (c *comparison) choices() []result {
	var all []result
	if ratings, ok := load.Ratings(c.rig); ok {
		var kinds []string
		servos := c.rig.Servos()
		for i, s := range servos {
			if i == 0 || s.Spec.Type != servos[i-1].Spec.Type {
				kinds = append(kinds, s.Spec.Type)
			}
		}
		all = append(all, result{own: true, name: "own: " + strings.Join(kinds, ", "), ratings: ratings})
	}
	for _, candidate := range candidates {
		r := result{name: candidate.name}
		for range c.rig.Servos() {
			r.ratings = append(r.ratings, candidate.Rating)
		}
		all = append(all, r)
	}
	return all
}

// largest returns the largest load on any of the machine's servos.
func (c *comparison) largest() load.Peak { return c.demand.Peaks[c.worst] }
