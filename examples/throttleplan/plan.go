package main

import (
	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// plan is the throttle of one machine.
type plan struct {
	rig      *setup.Rig
	supplies []supply
	modes    []mode
}

// supply is the machine's power train, with its battery at a charge. A machine with an engine
// has one. An electric machine has up to two: as it starts, and as it lands.
type supply struct {
	charge units.Ratio // 0 for an engine
	train  rotor.PowerTrain
}

// mode is a flight mode over the collective stick, in whole per cent.
type mode struct {
	setup.Setup
	why    string // there is no throttle to enter; then only Setup is set
	spin   load.Spin
	points []point
	lasts  units.Ratio  // the lowest charge, in whole per cent, that holds the speed everywhere
	hover  []load.Hover // one for each supply; none without the machine's mass
	// grounded is why the rotor cannot carry the machine at all; nil if it can.
	grounded error
}

// point is a position of the collective stick.
type point struct {
	stick       units.Ratio
	pitch       units.Angle
	own         units.Ratio // what the mode's own throttle curve gives
	held        []load.Held // one for each supply
	unreachable string      // why the blade cannot get there; then there is no pitch
}

func newPlan(o options) (*plan, error) {
	p := &plan{}
	var err error
	if p.rig, err = show.Changed(o.machine, demo.Direct, o.override); err != nil {
		return nil, err
	}
	charges := []units.Ratio{100 * units.Percent}
	if o.charge != nil {
		charges[0] = *o.charge
	}
	if b := p.rig.Machine().Power.Battery; b != nil && b.LandAt < charges[0] {
		charges = append(charges, b.LandAt)
	}
	for _, charge := range charges {
		train, err := p.rig.PowerTrain(charge)
		if err != nil {
			return nil, err
		}
		p.supplies = append(p.supplies, supply{charge, train})
	}
	if o.mode != "" {
		m, err := show.Mode(p.rig, o.mode)
		if err != nil {
			return nil, err
		}
		p.modes = []mode{p.mode(m)}
		return p, nil
	}
	for _, m := range p.rig.Modes() {
		p.modes = append(p.modes, p.mode(m))
	}
	return p, nil
}

// mode works a flight mode out over the collective stick.
func (p *plan) mode(from setup.Setup) mode {
	m := mode{Setup: from}
	switch {
	case !m.Works():
		m.why = "cannot be worked out: " + m.Unmet().Error() + "."
		return m
	case m.Mode().Held:
		m.why = "has its throttle hold on, so no " + p.share() + " is worked out."
		return m
	}
	t, turns := load.Of(from)
	if !turns {
		m.why = "has no rotor_speed in the file. Add it, or give one for all modes with -speed."
		return m
	}
	m.spin = t.Spin
	for percent := range 101 {
		m.points = append(m.points, p.point(&m, units.Ratio(percent)*units.Percent))
	}
	m.lasts = p.lasts(&m)
	if mass := p.rig.Machine().Mass; mass != nil {
		for _, s := range p.supplies {
			h, err := t.Hover(*mass, s.train)
			if err != nil {
				m.grounded = err
				break
			}
			m.hover = append(m.hover, h)
		}
	}
	return m
}

// point works out one position of the collective stick.
func (p *plan) point(m *mode, stick units.Ratio) point {
	row, err := m.Row(float64(stick))
	if err != nil {
		return point{stick: stick, unreachable: err.Error()}
	}
	q := point{stick: stick, pitch: row.Gauge, own: row.Throttle}
	for _, s := range p.supplies {
		q.held = append(q.held, m.spin.Hold(s.train, q.pitch))
	}
	return q
}
