package setup

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// ServoLoad is the torque that one servo holds while the rotor turns, by virtual
// work from the blades' feathering moments. Friction and the parts' weight are not in
// it.
type ServoLoad struct {
	Mean units.Torque // over a revolution, in the sense that raises the servo's ball
	Peak units.Torque // the largest amount within a revolution
}

// loadBearings is how many stations of the rotor a revolution is looked at in.
const loadBearings = 24

// ServoLoads returns the load of each servo at a scaled demand, for a rotor and its
// blades in a condition. The rotor takes the mean and once-per-revolution pitch that
// the head gives there. The errors are those of swash.Drive.Slopes, pitch.Grip.Slopes
// and the rotor's.
func (r *Rig) ServoLoads(rot *rotor.Rotor, blade rotor.Blade, at rotor.Condition, demand swash.Demand) ([]ServoLoad, error) {
	state := r.Head.Drive.NewState()
	pose, _, err := r.Head.Drive.Slopes(state, demand)
	if err != nil {
		return nil, err
	}
	rev, err := r.Head.Grip.Revolution(pose)
	if err != nil {
		return nil, err
	}
	moments, err := rot.Feathering(blade, rotor.Pitch(rev.Cyclic), at)
	if err != nil {
		return nil, err
	}
	slopes := func(bearing units.Angle) (rotor.Slopes, error) {
		e, err := r.Head.Grip.Effect(bearing, pose)
		return rotor.Slopes(e.PerPose), err
	}
	loads := make([]ServoLoad, len(r.Servos))
	for k := range loadBearings {
		l, err := rot.PlateLoad(moments.Total(), units.Angle(k)*2*math.Pi/loadBearings, slopes)
		if err != nil {
			return nil, err
		}
		for i := range loads {
			torque := state.Effects[i].Torque(swash.Load{Down: -l.Force, Right: l.Right, Forward: l.Forward})
			loads[i].Mean += torque / loadBearings
			loads[i].Peak = max(loads[i].Peak, units.Torque(math.Abs(float64(torque))))
		}
	}
	return loads, nil
}

// PeakLoad is the largest load of one servo over all sticks of a mode.
type PeakLoad struct {
	ServoLoad        // where the peak is largest
	At        string // the stick position
}

// PeakLoads goes through a grid of all sticks in a mode, and returns each servo's
// largest load. Places that the machine or the rotor's theory cannot reach are left
// out; where all are, the error is that of the last.
func (r *Rig) PeakLoads(m *RigMode, rot *rotor.Rotor, blade rotor.Blade, at rotor.Condition) ([]PeakLoad, error) {
	const grid = 2 // steps on each side of centre
	peaks := make([]PeakLoad, len(r.Servos))
	var reached bool
	var last error
	for c := -grid; c <= grid; c++ {
		for a := -grid; a <= grid; a++ {
			for e := -grid; e <= grid; e++ {
				stick := pitch.Stick{Collective: float64(c+grid) / (2 * grid), Right: float64(a) / grid, Forward: float64(e) / grid}
				demand, err := m.Setting.Demand(stick)
				if err != nil {
					return nil, m.fail(stick.Collective, err)
				}
				loads, err := r.ServoLoads(rot, blade, at, demand)
				if err != nil {
					last = m.fail(stick.Collective, err)
					continue
				}
				reached = true
				for i, l := range loads {
					if l.Peak >= peaks[i].Peak {
						peaks[i] = PeakLoad{l, fmt.Sprintf("stick %v, cyclic %+.1f right %+.1f forward", units.Ratio(stick.Collective), stick.Right, stick.Forward)}
					}
				}
			}
		}
	}
	if !reached {
		return nil, last
	}
	return peaks, nil
}

// Give is what a load takes from blade and plate where the servos give way.
type Give struct {
	Blade units.Angle // change of the pitch of the blade under the gauge
	Lean  units.Angle // change of the plate's lean, as an amount
	Low   units.Angle // the side that goes down
}

// GiveUnder returns what blade and plate lose at a scaled demand where each servo
// gives way by a sag against its mean load: the arms fall back where they push up, and
// are pushed up where they hold down. The errors are those of
// pitch.Head.Sensitivity.
func (r *Rig) GiveUnder(loads []ServoLoad, sags []units.Angle, demand swash.Demand) (Give, error) {
	state := r.Head.Drive.NewState()
	if len(loads) != len(state.Arms) || len(sags) != len(state.Arms) {
		return Give{}, &swash.InputError{Field: "loads", Reason: fmt.Sprintf("%d loads and %d sags for %d servos", len(loads), len(sags), len(state.Arms))}
	}
	s, err := r.Head.Sensitivity(state, r.Machine.Gauge.Bearing, demand)
	if err != nil {
		return Give{}, err
	}
	var change swash.PoseRate
	for i, e := range state.Effects {
		change = change.Add(e.PerArm.Scale(-math.Copysign(float64(sags[i]), float64(loads[i].Mean))))
	}
	lean := swash.Lean{Right: units.Angle(change.Right), Forward: units.Angle(change.Forward)}
	return Give{units.Angle(change.Dot(s.PerPose)), lean.Amount(), lowSide(lean)}, nil
}
