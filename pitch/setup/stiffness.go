package setup

import (
	"errors"
	"fmt"
	"math"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// LostAt returns what the mean load at a position of the collective stick, cyclic
// centred, takes from blade and plate: one rating for each servo, at a voltage, of which
// the nearest rated one counts. A *ModeError is around every error; in it is a
// *servo.OverloadError for a load that stalls a servo, or else that of ServoLoads,
// servo.Rating or YieldUnder.
func (r *Rig) LostAt(m *RigMode, stick units.Ratio, spin *Spin, ratings []servo.Rating, v units.Voltage) (Yield, error) {
	yield, err := r.lostAt(m, stick, spin, ratings, v)
	if err != nil {
		return Yield{}, m.fail(float64(stick), err)
	}
	return yield, nil
}

func (r *Rig) lostAt(m *RigMode, stick units.Ratio, spin *Spin, ratings []servo.Rating, v units.Voltage) (Yield, error) {
	demand, points, err := r.ratedAt(m, stick, ratings, v)
	if err != nil {
		return Yield{}, err
	}
	loads := make([]ServoLoad, len(r.Servos))
	if err := r.ServoLoads(loads, r.Head.Control.NewState(), spin, demand); err != nil {
		return Yield{}, err
	}
	yields := make([]units.Angle, len(loads))
	for i, s := range r.Head.Control.Servos() {
		if yields[i], err = armYield(&ratings[i], points[i], &s, loads[i].Mean); err != nil {
			return Yield{}, err
		}
	}
	return r.YieldUnder(loads, yields, demand)
}

// Stiffness returns how firmly servos hold the blades at a position of the collective
// stick, cyclic centred: the moment about the feathering axis, on each blade alike, for
// every radian of pitch that it takes from the blade under the gauge. Deadband and play
// yield before it counts, and are not in it; the load does not change it. Ratings
// and voltage are as in LostAt. A *ModeError is around every error.
func (r *Rig) Stiffness(m *RigMode, stick units.Ratio, spin *Spin, ratings []servo.Rating, v units.Voltage) (units.Torque, error) {
	stiffness, err := r.stiffness(m, stick, spin, ratings, v)
	if err != nil {
		return 0, m.fail(float64(stick), err)
	}
	return stiffness, nil
}

func (r *Rig) stiffness(m *RigMode, stick units.Ratio, spin *Spin, ratings []servo.Rating, v units.Voltage) (units.Torque, error) {
	demand, points, err := r.ratedAt(m, stick, ratings, v)
	if err != nil {
		return 0, err
	}
	state := r.Head.Control.NewState()
	pose, _, err := r.Head.Control.Slopes(state, demand)
	if err != nil {
		return 0, err
	}
	const moment units.Torque = 1
	load, err := spin.Rotor.MeanPlateLoad(rotor.Moment{Collective: -moment}, func(bearing units.Angle) (rotor.Slopes, error) {
		e, err := r.Head.Grip.Effect(bearing, pose)
		return rotor.Slopes(e.PerPose), err
	})
	if err != nil {
		return 0, err
	}
	loads, yields := make([]ServoLoad, len(r.Servos)), make([]units.Angle, len(r.Servos))
	for i, e := range state.Effects {
		loads[i].Mean = e.Torque(swash.Load{Down: -load.Force, Right: load.Right, Forward: load.Forward})
		yields[i] = ratings[i].Yield(points[i], loads[i].Mean)
	}
	yield, err := r.YieldUnder(loads, yields, demand)
	if err != nil {
		return 0, err
	}
	stiffness := moment / units.Torque(math.Abs(float64(yield.Blade)))
	if !units.Finite(stiffness) {
		return 0, errors.New("no moment on the blades reaches the servos")
	}
	return stiffness, nil
}

// ratedAt returns the demand of a stick position, and what each servo can do at a
// voltage.
func (r *Rig) ratedAt(m *RigMode, stick units.Ratio, ratings []servo.Rating, v units.Voltage) (swash.Demand, []servo.RatingPoint, error) {
	if !m.Works() {
		return swash.Demand{}, nil, m.Unmet
	}
	if n := len(r.Servos); len(ratings) != n {
		return swash.Demand{}, nil, &units.FieldError{Field: "ratings", Words: "swash: ratings:", Reason: fmt.Sprintf("must be one for each of the %d servos, not %d", n, len(ratings))}
	}
	demand, err := m.Setting.Demand(pitch.Stick{Collective: float64(stick)})
	if err != nil {
		return demand, nil, err
	}
	points := make([]servo.RatingPoint, len(ratings))
	for i := range ratings {
		if err := ratings[i].Validate(); err != nil {
			return demand, nil, err
		}
		var unrated *servo.VoltageError
		if points[i], err = ratings[i].At(v); err != nil && !errors.As(err, &unrated) {
			return demand, nil, err
		}
	}
	return demand, points, nil
}
