package rotor

import (
	"math"

	"example.org/levelhead/units"
)

// Limits of a power train's input.
const (
	maxResistance = 100 * units.Ohm
	maxVoltage    = 10 * 1000 * units.Volt
	maxTorque     = 1e6 * units.NewtonMetre
)

// Motor is a direct-current motor, or a brushless one with its controller, by
// three constants.
type Motor struct {
	SpeedConstant units.AngularSpeed // without load, for each volt
	Resistance    units.Resistance   // of winding, leads and controller
	NoLoad        units.Current      // taken when turning free
}

// Gear is the reduction from the motor or engine to the rotor.
type Gear struct {
	Ratio units.Ratio // turns of the motor for one of the rotor
	// Efficiency is the share of the motor's power that reaches the main rotor. Take the
	// tail rotor's share off here.
	Efficiency units.Ratio
}

func (g Gear) validate() error {
	return firstOf(
		within("Ratio", "gear: ratio", g.Ratio, 0.01, 1000),
		within("Efficiency", "gear: efficiency", g.Efficiency, 0.01, 1),
	)
}

// Electric turns a rotor from a battery. The throttle is the share of the battery's voltage
// that the controller puts on the motor. The controller switches on and off, so the current
// from the battery is the same share of the motor's current.
type Electric struct {
	Source Source
	Motor  Motor
	Gear   Gear
}

func (e Electric) validate() error {
	return firstOf(
		within("Source.Voltage", "source: voltage (V)", e.Source.Voltage, 0, maxVoltage),
		within("Source.Resistance", "source: resistance (ohm)", e.Source.Resistance, 0, maxResistance),
		within("Motor.SpeedConstant", "motor: speed constant (rad/s/V)", e.Motor.SpeedConstant, 0.01, maxSpeed),
		within("Motor.Resistance", "motor: resistance (ohm)", e.Motor.Resistance, 0, maxResistance),
		within("Motor.NoLoad", "motor: no-load current (A)", e.Motor.NoLoad, 0, 1000*units.Ampere),
		units.In("Gear", "", e.Gear.validate()),
	)
}

// Hold returns how the motor holds a rotor speed against a torque of 0 or more.
// The error is a [*units.FieldError], or a [*HoldError] if full throttle is not
// enough.
func (e Electric) Hold(speed units.AngularSpeed, torque units.Torque) (Operation, error) {
	if err := firstOf(e.validate(), validateDemand(speed, torque)); err != nil {
		return Operation{}, err
	}
	op, ok := e.hold(float64(speed), float64(torque))
	if ok {
		return op, nil
	}
	return Operation{}, &HoldError{
		Wanted: speed,
		Torque: torque,
		Best: bestSpeed(speed, torque, func(speed, torque float64) bool {
			_, ok := e.hold(speed, torque)
			return ok
		}),
		Reason: "full throttle is not enough",
	}
}

func (e Electric) hold(speed, torque float64) (op Operation, ok bool) {
	ratio, kv := float64(e.Gear.Ratio), float64(e.Motor.SpeedConstant)
	motorSpeed := speed * ratio
	shaft := torque / (ratio * float64(e.Gear.Efficiency))
	back := motorSpeed / kv // V, induced by the motor's turning
	current := shaft*kv + float64(e.Motor.NoLoad)
	voltage := back + current*float64(e.Motor.Resistance)

	// The throttle t puts t (open - t current resistance) on the motor.
	open, resistance := float64(e.Source.Voltage), float64(e.Source.Resistance)
	square := open*open - 4*current*resistance*voltage
	if square < 0 {
		return Operation{}, false
	}
	throttle := 2 * voltage / (open + math.Sqrt(square))
	if !(throttle <= 1) {
		return Operation{}, false
	}
	drawn := throttle * current
	return Operation{
		Throttle:       units.Ratio(throttle),
		Speed:          units.AngularSpeed(motorSpeed),
		Rotor:          units.Power(torque * speed),
		GearLoss:       units.Power(shaft*motorSpeed - torque*speed),
		NoLoadLoss:     units.Power(back * float64(e.Motor.NoLoad)),
		CopperLoss:     units.Power(current * current * float64(e.Motor.Resistance)),
		SourceLoss:     units.Power(drawn * drawn * resistance),
		Power:          units.Power(drawn * open),
		MotorCurrent:   units.Current(current),
		MotorVoltage:   units.Voltage(voltage),
		BatteryCurrent: units.Current(drawn),
		BatteryVoltage: units.Voltage(open - drawn*resistance),
	}, true
}
