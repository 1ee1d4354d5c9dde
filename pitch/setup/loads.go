package setup

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// ServoLoad is the torque that one servo holds while the rotor turns, by virtual
// work from the blades' feathering moments. Friction and the parts' weight are not in
// it.
type ServoLoad struct {
	// Mean is the holding torque: the mean over a revolution, in the sense that
	// raises the servo's ball.
	Mean units.Torque `json:"mean"`
	Peak units.Torque `json:"peak"` // the largest amount within a revolution
}

// loadBearings is how many stations of the rotor a revolution is looked at in.
const loadBearings = 24

// ServoLoads puts into dst the load of each servo at a scaled demand, for a rotor that
// turns. The rotor takes the mean and once-per-revolution pitch that the head gives
// there. It fills s, and allocates nothing. The errors are those of
// swash.Control.Slopes, pitch.Grip.Slopes and the rotor's.
func (r *Rig) ServoLoads(dst []ServoLoad, s *swash.State, spin *Spin, demand swash.Demand) error {
	if len(dst) != len(s.Arms) {
		return &units.FieldError{Field: "dst", Words: "swash: dst:", Reason: fmt.Sprintf("must have one load for each of the %d servos, not %d", len(s.Arms), len(dst))}
	}
	pose, _, err := r.Head.Control.Slopes(s, demand)
	if err != nil {
		return err
	}
	rev, err := r.Head.Grip.Revolution(pose)
	if err != nil {
		return err
	}
	moments, err := spin.Rotor.Feathering(spin.Blade, rotor.Pitch(rev.Cyclic), spin.At)
	if err != nil {
		return err
	}
	slopes := func(bearing units.Angle) (rotor.Slopes, error) {
		e, err := r.Head.Grip.Effect(bearing, pose)
		return rotor.Slopes(e.PerPose), err
	}
	clear(dst)
	total := moments.Total()
	for k := range loadBearings {
		l, err := spin.Rotor.PlateLoad(total, units.Angle(k)*2*math.Pi/loadBearings, slopes)
		if err != nil {
			return err
		}
		for i := range dst {
			torque := s.Effects[i].Torque(swash.Load{Down: -l.Force, Right: l.Right, Forward: l.Forward})
			dst[i].Mean += torque / loadBearings
			dst[i].Peak = max(dst[i].Peak, units.Torque(math.Abs(float64(torque))))
		}
	}
	return nil
}

// PeakLoad is the largest load of one servo over all sticks of a mode.
type PeakLoad struct {
	ServoLoad        // where the peak is largest
	At        string `json:"at"` // the stick position
}

// PeakLoads goes through a grid of all sticks in a mode, of so many positions from end
// to end of each stick, and returns each servo's largest load. Places that the machine
// or the rotor's theory cannot reach are left out, and missed is their number; where all
// are, the error is that of the last.
func (r *Rig) PeakLoads(m *RigMode, spin *Spin, positions int) (peaks []PeakLoad, missed int, err error) {
	if positions < 2 {
		return nil, 0, &units.FieldError{Field: "positions", Words: "swash: positions:", Reason: fmt.Sprintf("must be two or more, not %d", positions)}
	}
	peaks = make([]PeakLoad, len(r.Servos))
	loads := make([]ServoLoad, len(r.Servos))
	at := make([]pitch.Stick, len(r.Servos))
	state := r.Head.Control.NewState()
	var last error
	part := func(i int) float64 { return float64(i) / float64(positions-1) }
	for c := range positions {
		for a := range positions {
			for e := range positions {
				stick := pitch.Stick{Collective: part(c), Right: 2*part(a) - 1, Forward: 2*part(e) - 1}
				demand, err := m.Setting.Demand(stick)
				if err != nil {
					return nil, 0, m.fail(stick.Collective, err)
				}
				if err := r.ServoLoads(loads, state, spin, demand); err != nil {
					last = m.fail(stick.Collective, err)
					missed++
					continue
				}
				for i, l := range loads {
					if l.Peak >= peaks[i].Peak {
						peaks[i].ServoLoad, at[i] = l, stick
					}
				}
			}
		}
	}
	if missed == positions*positions*positions {
		return nil, missed, last
	}
	for i, stick := range at {
		peaks[i].At = stick.String()
	}
	return peaks, missed, nil
}

// Yield is how far blade and plate give way under a load, because the servos do.
type Yield struct {
	Blade units.Angle `json:"blade"`    // change of the pitch of the blade under the gauge
	Tilt  units.Angle `json:"tilt"`     // change of the plate's tilt, as an amount
	Low   units.Angle `json:"low_side"` // the side that goes down
}

// noLoad is the part of the largest load of all servos, and of a servo's stall torque, below
// which a load is rounding.
const noLoad = 1e-9

// armYield is servo.Rating.ArmYield, and zero under a load that is rounding: that would choose an end of the
// deadband at random, and the same one for all servos.
func armYield(rating *servo.Rating, at servo.RatingPoint, s *servo.Servo, load units.Torque) (units.Angle, error) {
	angle, err := rating.ArmYield(at, s, load)
	if math.Abs(float64(load)) <= float64(noLoad*at.Stall) {
		angle = 0
	}
	return angle, err
}

// YieldUnder returns how far blade and plate yield at a scaled demand where each servo arm
// yields by an angle to its mean load: the arms fall back where they push up, and are
// pushed up where they hold down. A servo without load stays where it is. The
// errors are those of pitch.Head.Sensitivity.
func (r *Rig) YieldUnder(loads []ServoLoad, yields []units.Angle, demand swash.Demand) (Yield, error) {
	if n := len(r.Servos); len(loads) != n || len(yields) != n {
		return Yield{}, &units.FieldError{Field: "loads", Words: "swash: loads:", Reason: fmt.Sprintf("must be one load and one angle for each of the %d servos, not %d and %d", n, len(loads), len(yields))}
	}
	state := r.Head.Control.NewState()
	s, err := r.Head.Sensitivity(state, r.Machine.Gauge.Bearing, demand)
	if err != nil {
		return Yield{}, err
	}
	var largest units.Torque
	for _, l := range loads {
		largest = max(largest, units.Torque(math.Abs(float64(l.Mean))))
	}
	var change swash.PoseRate
	for i, e := range state.Effects {
		if math.Abs(float64(loads[i].Mean)) <= float64(noLoad*largest) {
			continue
		}
		change = change.Add(e.PerArm.Scale(-math.Copysign(float64(yields[i]), float64(loads[i].Mean))))
	}
	tilt := swash.Tilt{Right: units.Angle(change.Right), Forward: units.Angle(change.Forward)}
	return Yield{units.Angle(change.Dot(s.PerPose)), tilt.Amount(), lowSide(tilt)}, nil
}
