package pitch

import (
	"fmt"
	"math"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// follower reads the blade of a head, with working memory of its own. A servo at its pulse limit
// is an error, unless beyond is set.
type follower struct {
	head   Head
	gauge  units.Angle
	state  *swash.State
	beyond bool
}

// pose returns the plate's pose at a scaled demand.
func (f *follower) pose(d swash.Demand) (swash.Pose, error) {
	pose, err := f.head.Control.Pose(f.state, d)
	if err == nil && !f.beyond {
		err = f.state.Limited()
	}
	return pose, err
}

// reading returns what the gauge shows at a scaled demand.
func (f *follower) reading(d swash.Demand) (units.Angle, error) {
	p, _, err := f.head.Blade(f.state, f.gauge, d)
	if err != nil {
		return 0, err
	}
	if !f.beyond {
		err = f.state.Limited()
	}
	return p, err
}

// readAt returns what the gauge shows for a setting at a stick position.
func (f *follower) readAt(setting Setting, at Stick) (units.Angle, error) {
	d, err := setting.Demand(at)
	if err != nil {
		return 0, err
	}
	return f.reading(d)
}

// revolution returns the parts of the blade's pitch over a revolution.
func (f *follower) revolution(d swash.Demand) (Cyclic, error) {
	pose, err := f.pose(d)
	if err != nil {
		return Cyclic{}, err
	}
	rev, err := f.head.Grip.Revolution(pose)
	return rev.Cyclic, err
}

// adds returns what a stick position adds to that with the cyclic stick centred.
func (f *follower) adds(setting Setting, at Stick) (Cyclic, error) {
	var parts [2]Cyclic
	for i, stick := range []Stick{{Collective: at.Collective}, at} {
		d, err := setting.Demand(stick)
		if err != nil {
			return Cyclic{}, err
		}
		if parts[i], err = f.revolution(d); err != nil {
			return Cyclic{}, err
		}
	}
	return parts[1].Sub(parts[0]), nil
}

// collective returns the demand at which the gauge shows a target.
func (f *follower) collective(t Target) (float64, error) {
	what := fmt.Sprintf("pitch at stick %v", t.Stick)
	return find(what, t.Pitch, func(d float64) (units.Angle, error) {
		return f.reading(swash.Demand{Collective: d})
	})
}

// cyclic returns the demand along unit at which the once-per-revolution pitch
// differs by want from that without cyclic, at a collective demand.
func (f *follower) cyclic(name string, want units.Angle, collective float64, unit swash.Demand) (float64, error) {
	at := func(d float64) (Cyclic, error) {
		return f.revolution(swash.Demand{Collective: collective, Right: d * unit.Right, Forward: d * unit.Forward})
	}
	centre, err := at(0)
	if err != nil {
		return 0, err
	}
	return find("cyclic pitch at full "+name, want, func(d float64) (units.Angle, error) {
		c, err := at(d)
		return units.Angle(math.Copysign(float64(c.Sub(centre).Amplitude()), d)), err
	})
}
