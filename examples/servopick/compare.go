package main

import (
	"errors"
	"fmt"
	"strings"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// comparison is one machine in one flight mode, with each kind of servo in turn.
type comparison struct {
	rig     *setup.Rig
	mode    *setup.RigMode
	spin    setup.Spin
	voltage units.Voltage // at the servos
	duty    *setup.Duty
	worst   int // the servo with the largest load
	results []result
	arms    []arm
}

// result is what servos do in the machine.
type result struct {
	name    string
	own     bool // these are the machine's
	ratings []servo.Rating
	*setup.Service
	stiffness units.Torque // of each blade, per radian, at high stick
}

func newComparison(o options) (*comparison, error) {
	c := &comparison{}
	var err error
	if c.rig, err = show.Changed(o.machine, demo.Direct, o.override); err != nil {
		return nil, err
	}
	c.voltage = *c.rig.Machine.ServoVoltage
	if err := c.find(o.mode); err != nil {
		return nil, err
	}
	if c.duty, err = c.rig.Duty(c.mode, &c.spin); err != nil {
		return nil, err
	}
	for i, p := range c.duty.Peaks {
		if p.Peak > c.duty.Peaks[c.worst].Peak {
			c.worst = i
		}
	}
	for _, r := range c.choices() {
		if r.Service, err = c.duty.Service(r.ratings, c.voltage); err != nil {
			return nil, fmt.Errorf("%s: %w", r.name, err)
		}
		if r.stiffness, err = c.rig.Stiffness(c.mode, 1, &c.spin, r.ratings, c.voltage); err != nil {
			return nil, fmt.Errorf("%s: %w", r.name, err)
		}
		c.results = append(c.results, r)
	}
	for _, radius := range c.rig.ArmHoles() {
		c.arms = append(c.arms, c.arm(radius))
	}
	return c, nil
}

// find finds the flight mode of a name, or the first that works and has a rotor speed
// where it is empty.
func (c *comparison) find(name string) error {
	var names []string
	for i := range c.rig.Modes {
		m := &c.rig.Modes[i]
		names = append(names, fmt.Sprintf("%q", m.Mode.Name))
		if name != "" && name != m.Mode.Name {
			continue
		}
		var turns bool
		c.spin, turns = c.rig.Spin(m)
		switch {
		case m.Works() && turns:
			c.mode = m
			return nil
		case name != "" && !turns:
			return fmt.Errorf("flight mode %q has no rotor speed in the file: give one with -speed", name)
		case name != "":
			return fmt.Errorf("flight mode %q cannot be worked out: %w", name, m.Unmet)
		}
	}
	if name == "" {
		return errors.New("no flight mode can be worked out and has a rotor speed in the file: give one with -speed")
	}
	return fmt.Errorf("there is no flight mode %q; the machine has %s", name, strings.Join(names, ", "))
}

// choices are the machine's own servos, where the file rates all of them, and the
// candidates, the same one everywhere.
func (c *comparison) choices() []result {
	own := result{own: true}
	var kinds []string
	for i, s := range c.rig.Servos {
		if s.Type.Rating == nil {
			own.ratings = nil
			break
		}
		own.ratings = append(own.ratings, s.Type.Rating.Servo())
		if i == 0 || s.Spec.Type != c.rig.Servos[i-1].Spec.Type {
			kinds = append(kinds, s.Spec.Type)
		}
	}
	var all []result
	if own.ratings != nil {
		own.name = "own: " + strings.Join(kinds, ", ")
		all = append(all, own)
	}
	for _, candidate := range candidates {
		r := result{name: candidate.name}
		for range c.rig.Servos {
			r.ratings = append(r.ratings, candidate.Rating)
		}
		all = append(all, r)
	}
	return all
}

// largest returns the largest load on any of the machine's servos.
func (c *comparison) largest() setup.PeakLoad { return c.duty.Peaks[c.worst] }
