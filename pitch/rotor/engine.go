package rotor

import (
	"fmt"

	"gonum.org/v1/gonum/interp"

	"example.org/levelhead/units"
)

// EnginePoint is the power of a combustion engine at full throttle.
type EnginePoint struct {
	Speed units.AngularSpeed // of the engine
	Power units.Power
}

// Engine turns a rotor by combustion. Throttle is the share of the power that the engine
// can give at its speed, not how far the carburettor is open.
type Engine struct {
	gear   Gear
	power  interp.PiecewiseLinear
	lo, hi float64 // ends of the power curve, rad/s
}

// NewEngine returns the engine with a power curve of at least two points in rising order of
// speed, with straight lines between. The error is a [*units.FieldError].
func NewEngine(curve []EnginePoint, gear Gear) (*Engine, error) {
	if err := firstOf(
		units.In("gear", "", gear.validate()),
		within("curve", "engine: points of the power curve", float64(len(curve)), 2, 1000),
	); err != nil {
		return nil, err
	}
	speed, power := make([]float64, len(curve)), make([]float64, len(curve))
	lo := units.AngularSpeed(0)
	for i, p := range curve {
		point, words := fmt.Sprintf("curve[%d].", i), fmt.Sprintf("engine: point %d: ", i+1)
		if err := firstOf(
			within(point+"Speed", words+"speed (rad/s)", p.Speed, lo, maxSpeed),
			within(point+"Power", words+"power (W)", p.Power, 0, 1000*units.Kilowatt),
		); err != nil {
			return nil, err
		}
		speed[i], power[i] = float64(p.Speed), float64(p.Power)
		lo = p.Speed + 1*units.RevolutionPerMinute
	}
	e := &Engine{gear: gear, lo: speed[0], hi: speed[len(speed)-1]}
	return e, e.power.Fit(speed, power)
}

// Hold returns how the engine holds a rotor speed against a torque of 0 or more.
// The error is a [*units.FieldError], or a [*HoldError] if full throttle is not
// enough or the power curve does not reach the speed.
func (e *Engine) Hold(speed units.AngularSpeed, torque units.Torque) (Operation, error) {
	if err := validateDemand(speed, torque); err != nil {
		return Operation{}, err
	}
	op, ok := e.hold(float64(speed), float64(torque))
	if ok {
		return op, nil
	}
	reason := "full throttle is not enough"
	if turns := float64(speed) * float64(e.gear.Ratio); turns < e.lo || turns > e.hi {
		reason = fmt.Sprintf("an engine speed of %.4g rpm is off the power curve", units.AngularSpeed(turns).RPM())
	}
	return Operation{}, &HoldError{
		Wanted: speed,
		Torque: torque,
		Best: bestSpeed(speed, torque, func(speed, torque float64) bool {
			_, ok := e.hold(speed, torque)
			return ok
		}),
		Reason: reason,
	}
}

func (e *Engine) hold(speed, torque float64) (op Operation, ok bool) {
	turns := speed * float64(e.gear.Ratio)
	if turns < e.lo || turns > e.hi {
		return Operation{}, false
	}
	rotor := torque * speed
	need, full := rotor/float64(e.gear.Efficiency), e.power.Predict(turns)
	if need > full {
		return Operation{}, false
	}
	op = Operation{
		Speed:    units.AngularSpeed(turns),
		Rotor:    units.Power(rotor),
		GearLoss: units.Power(need - rotor),
		Power:    units.Power(need),
	}
	if need > 0 {
		op.Throttle = units.Ratio(need / full)
	}
	return op, true
}
