package main

import (
	"errors"
	"fmt"
	"strings"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// plan is the throttle of one machine, at one rotor speed in one air.
type plan struct {
	rig    *setup.Rig
	rotor  *rotor.Rotor
	drive  rotor.Electric
	charge units.Ratio
	air    rotor.Air
	at     rotor.Condition
	modes  []mode
	hover  point
	// grounded is why the rotor cannot carry the machine at all; nil where it can.
	grounded *rotor.ThrustError
}

// mode is a flight mode over the collective stick, in whole per cent.
type mode struct {
	*setup.RigMode
	points []point // none where the mode cannot be worked out, or holds the throttle
}

// point is how the drive turns the rotor at one blade pitch.
type point struct {
	stick units.Ratio
	rotor.ThrottlePoint
	speed   units.AngularSpeed // the one asked for, or the best that can be held
	short   *rotor.HoldError   // why it is not the one asked for; nil where it is
	stopped string             // why there is no Operation
}

func newPlan(o options) (*plan, error) {
	p := &plan{charge: o.charge}
	var err error
	if p.rig, err = show.Rig(o.machine, demo.Direct); err != nil {
		return nil, err
	}
	if p.air, err = rotor.StandardAir(o.height); err != nil {
		return nil, err
	}
	if o.temperature != nil {
		if p.air, err = p.air.WithTemperature(*o.temperature); err != nil {
			return nil, err
		}
	}
	p.at = rotor.Condition{Speed: o.speed, Density: p.air.Density}
	p.drive = rotor.Electric{Motor: motor, Gear: gear}
	if p.drive.Source, err = battery.At(o.charge); err != nil {
		return nil, err
	}
	if p.rotor, err = rotor.New(blades); err != nil {
		return nil, err
	}
	switch pitch, _, err := p.rotor.HoverPitch(mass, p.at); {
	case err == nil:
		p.hover = p.hold(pitch)
	case !errors.As(err, &p.grounded):
		return nil, err
	}
	return p, p.sweep(o.mode)
}

// sweep goes through the sticks of all modes, or of the one of a name.
func (p *plan) sweep(name string) error {
	var names []string
	for i := range p.rig.Modes {
		m := mode{RigMode: &p.rig.Modes[i]}
		names = append(names, fmt.Sprintf("%q", m.Mode.Name))
		if name != "" && name != m.Mode.Name {
			continue
		}
		for percent := 0; m.Works() && !m.Mode.Held && percent <= 100; percent++ {
			m.points = append(m.points, p.point(m.RigMode, units.Ratio(percent)*units.Percent))
		}
		p.modes = append(p.modes, m)
	}
	if len(p.modes) == 0 {
		return fmt.Errorf("there is no flight mode %q; the machine has %s", name, strings.Join(names, ", "))
	}
	return nil
}

// point works out one position of the collective stick.
func (p *plan) point(m *setup.RigMode, stick units.Ratio) point {
	row, err := p.rig.Row(m, float64(stick))
	switch {
	case err != nil:
		return point{stick: stick, stopped: err.Error()}
	case row.Stopped != "":
		return point{stick: stick, stopped: row.Stopped}
	}
	held := p.hold(row.Gauge)
	held.stick = stick
	return held
}

// hold returns how the drive holds the speed at a blade pitch, or else the best
// speed that it can.
func (p *plan) hold(pitch units.Angle) point {
	try := func(at rotor.Condition) point {
		q := point{ThrottlePoint: p.rotor.ThrottleCurve(nil, p.drive, at, []units.Angle{pitch})[0], speed: at.Speed}
		if q.Err != nil {
			q.stopped = q.Err.Error()
		}
		return q
	}
	q := try(p.at)
	var short *rotor.HoldError
	if errors.As(q.Err, &short) && short.Best > 0 {
		best := p.at
		best.Speed = short.Best
		q = try(best)
		q.short = short
	}
	return q
}
