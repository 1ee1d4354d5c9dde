package main

import (
	"errors"
	"math"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// try puts a candidate into the machine.
func (c *comparison) try(with *candidate) (result, error) {
	r := result{candidate: with}
	if err := r.Validate(); err != nil {
		return r, err
	}
	var err error
	if r.at, err = r.At(c.voltage); err != nil && !errors.As(err, &r.unrated) {
		return r, err
	}
	for i, turn := range c.turns {
		t, err := r.StrokeTime(r.at, turn, c.peaks[i].Peak)
		if err != nil && !errors.As(err, &r.stalled) {
			return r, err
		}
		r.stroke = max(r.stroke, t)
	}
	if err := c.give(&r); err != nil {
		return r, err
	}
	return r, nil
}

// give works out what the candidate loses to the mean load at high stick, and to its
// deadband.
func (c *comparison) give(r *result) error {
	n := len(c.loads)
	sags, free := make([]units.Angle, n), make([]units.Angle, n)
	for i, s := range c.rig.Head.Drive.Servos() {
		var err error
		if sags[i], err = r.Sag(r.at, &s, c.loads[i].Mean); err != nil && !errors.As(err, &r.dropped) {
			return err
		}
		// Without load a servo is off by half its deadband at most.
		if free[i], err = r.Sag(r.at, &s, 0); err != nil {
			return err
		}
	}
	var err error
	if r.deadband, err = c.together(free); err != nil || r.dropped != nil {
		return err
	}
	r.lost, err = c.rig.GiveUnder(c.loads, sags, c.high)
	return err
}

// together returns by how much the blade's pitch changes at high stick, as an amount,
// where the arms of all servos turn by the angles given, each the way in which its
// load would push it.
func (c *comparison) together(turns []units.Angle) (units.Angle, error) {
	g, err := c.rig.GiveUnder(c.loads, turns, c.high)
	return units.Angle(math.Abs(float64(g.Blade))), err
}

// largest returns the largest load on any of the machine's servos.
func (c *comparison) largest() setup.PeakLoad { return c.peaks[c.worst] }
