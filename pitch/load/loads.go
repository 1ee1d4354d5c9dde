package load

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
func (t Turning) ServoLoads(dst []ServoLoad, s *swash.State, demand swash.Demand) error {
	if err := t.Validate(); err != nil {
		return err
	}
	if len(dst) != len(s.Arms) {
		return &units.FieldError{Field: "dst", Words: "load: dst:", Reason: fmt.Sprintf("must have one load for each of the %d servos, not %d", len(s.Arms), len(dst))}
	}
	pose, _, err := t.head().Control.Slopes(s, demand)
	if err != nil {
		return err
	}
	rev, err := t.head().Grip.Revolution(pose)
	if err != nil {
		return err
	}
	moments, err := t.Spin.Rotor.Feathering(t.Spin.Blade, rotor.Pitch(rev.Cyclic), t.Spin.At)
	if err != nil {
		return err
	}
	slopes := func(bearing units.Angle) (rotor.Slopes, error) {
		e, err := t.head().Grip.Effect(bearing, pose)
		return rotor.Slopes(e.PerPose), err
	}
	clear(dst)
	total := moments.Total()
	for k := range loadBearings {
		l, err := t.Spin.Rotor.PlateLoad(total, units.Angle(k)*2*math.Pi/loadBearings, slopes)
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

// Peak is the largest load of one servo over all sticks of a mode.
type Peak struct {
	ServoLoad        // where the peak is largest
	At        string `json:"at"` // the stick position
}

// Peaks goes through a grid of all sticks in a mode, of so many positions from end
// to end of each stick, and returns each servo's largest load. Places that the machine
// or the rotor's theory cannot reach are left out, and missed is their number; where all
// are, the error is that of the last.
func (t Turning) Peaks(positions int) (peaks []Peak, missed int, err error) {
	if err := t.Validate(); err != nil {
		return nil, 0, err
	}
	if positions < 2 {
		return nil, 0, &units.FieldError{Field: "positions", Words: "load: positions:", Reason: fmt.Sprintf("must be two or more, not %d", positions)}
	}
	peaks = make([]Peak, len(t.Setup.Rig().Servos()))
	loads := make([]ServoLoad, len(t.Setup.Rig().Servos()))
	at := make([]pitch.Stick, len(t.Setup.Rig().Servos()))
	state := t.head().Control.NewState()
	var last error
	for stick := range pitch.Grid(positions) {
		demand, err := t.Setup.Setting().Demand(stick)
		if err != nil {
			return nil, 0, t.fail(stick.Collective, err)
		}
		if err := t.ServoLoads(loads, state, demand); err != nil {
			last = t.fail(stick.Collective, err)
			missed++
			continue
		}
		for i, l := range loads {
			if l.Peak >= peaks[i].Peak {
				peaks[i].ServoLoad, at[i] = l, stick
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
func (t Turning) YieldUnder(loads []ServoLoad, yields []units.Angle, demand swash.Demand) (Yield, error) {
	if err := t.Setup.Validate(); err != nil {
		return Yield{}, err
	}
	if n := len(t.Setup.Rig().Servos()); len(loads) != n || len(yields) != n {
		return Yield{}, &units.FieldError{Field: "loads", Words: "load: loads:", Reason: fmt.Sprintf("must be one load and one angle for each of the %d servos, not %d and %d", n, len(loads), len(yields))}
	}
	state := t.head().Control.NewState()
	s, err := t.head().Sensitivity(state, t.Setup.Rig().Gauge().Bearing, demand)
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
	return Yield{units.Angle(change.Dot(s.PerPose)), tilt.Amount(), tilt.LowSideShown()}, nil
}
