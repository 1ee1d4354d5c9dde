package load

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
func (t Turning) LostAt(stick units.Ratio, ratings []servo.Rating, v units.Voltage) (Yield, error) {
	yield, err := t.lostAt(stick, ratings, v)
	if err != nil {
		return Yield{}, t.fail(float64(stick), err)
	}
	return yield, nil
}

func (t Turning) lostAt(stick units.Ratio, ratings []servo.Rating, v units.Voltage) (Yield, error) {
	demand, points, err := t.ratedAt(stick, ratings, v)
	if err != nil {
		return Yield{}, err
	}
	loads := make([]ServoLoad, len(t.Setup.Rig().Servos()))
	if err := t.ServoLoads(loads, t.head().Control.NewState(), demand); err != nil {
		return Yield{}, err
	}
	yields := make([]units.Angle, len(loads))
	for i, s := range t.head().Control.Servos() {
		if yields[i], err = armYield(&ratings[i], points[i], &s, loads[i].Mean); err != nil {
			return Yield{}, err
		}
	}
	return t.YieldUnder(loads, yields, demand)
}

// Stiffness returns how firmly servos hold the blades at a position of the collective
// stick, cyclic centred: the moment about the feathering axis, on each blade alike, for
// every radian of pitch that it takes from the blade under the gauge. Deadband and play
// yield before it counts, and are not in it; the load does not change it. Ratings
// and voltage are as in LostAt. A *ModeError is around every error.
func (t Turning) Stiffness(stick units.Ratio, ratings []servo.Rating, v units.Voltage) (units.Torque, error) {
	stiffness, err := t.stiffness(stick, ratings, v)
	if err != nil {
		return 0, t.fail(float64(stick), err)
	}
	return stiffness, nil
}

func (t Turning) stiffness(stick units.Ratio, ratings []servo.Rating, v units.Voltage) (units.Torque, error) {
	demand, points, err := t.ratedAt(stick, ratings, v)
	if err != nil {
		return 0, err
	}
	state := t.head().Control.NewState()
	pose, _, err := t.head().Control.Slopes(state, demand)
	if err != nil {
		return 0, err
	}
	const moment units.Torque = 1
	load, err := t.Spin.Rotor.MeanPlateLoad(rotor.Moment{Collective: -moment}, func(bearing units.Angle) (rotor.Slopes, error) {
		e, err := t.head().Grip.Effect(bearing, pose)
		return rotor.Slopes(e.PerPose), err
	})
	if err != nil {
		return 0, err
	}
	loads, yields := make([]ServoLoad, len(t.Setup.Rig().Servos())), make([]units.Angle, len(t.Setup.Rig().Servos()))
	for i, e := range state.Effects {
		loads[i].Mean = e.Torque(swash.Load{Down: -load.Force, Right: load.Right, Forward: load.Forward})
		yields[i] = ratings[i].Yield(points[i], loads[i].Mean)
	}
	yield, err := t.YieldUnder(loads, yields, demand)
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
func (t Turning) ratedAt(stick units.Ratio, ratings []servo.Rating, v units.Voltage) (swash.Demand, []servo.RatingPoint, error) {
	if err := t.Validate(); err != nil {
		return swash.Demand{}, nil, err
	}
	if n := len(t.Setup.Rig().Servos()); len(ratings) != n {
		return swash.Demand{}, nil, &units.FieldError{Field: "ratings", Words: "load: ratings:", Reason: fmt.Sprintf("must be one for each of the %d servos, not %d", n, len(ratings))}
	}
	demand, err := t.Setup.Setting().Demand(pitch.Stick{Collective: float64(stick)})
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
