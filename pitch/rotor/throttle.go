package rotor

import "example.org/levelhead/units"

// PowerTrain is what turns a rotor and holds its speed. [Electric] and [*Engine] are power
// trains.
type PowerTrain interface {
	// Hold returns how the power train works while it holds a rotor speed against a torque
	// of 0 or more. If it cannot, the error is a [*HoldError].
	Hold(speed units.AngularSpeed, torque units.Torque) (Operation, error)
}

// Operation is how a power train works while it holds a speed. Power is the sum of Rotor and
// the losses. Electric figures are 0 for an engine.
type Operation struct {
	Throttle units.Ratio        `json:"throttle"`    // from 0 to 1
	Speed    units.AngularSpeed `json:"drive_speed"` // of the motor or engine

	Power      units.Power `json:"drive_power"` // from the battery's cells, or of the engine
	Rotor      units.Power `json:"rotor_power"` // at the rotor's shaft
	GearLoss   units.Power `json:"gear_loss"`
	NoLoadLoss units.Power `json:"no_load_loss,omitempty"` // in the motor's iron and bearings
	CopperLoss units.Power `json:"copper_loss,omitempty"`  // in the motor's resistance
	SourceLoss units.Power `json:"source_loss,omitempty"`  // in the battery's resistance

	MotorCurrent   units.Current `json:"motor_current,omitempty"`
	MotorVoltage   units.Voltage `json:"motor_voltage,omitempty"`
	BatteryCurrent units.Current `json:"battery_current,omitempty"`
	BatteryVoltage units.Voltage `json:"battery_voltage,omitempty"` // under load
}

// Efficiency returns the share of the power that reaches the rotor's shaft. It is 0 without
// power.
func (o Operation) Efficiency() units.Ratio {
	if o.Power == 0 {
		return 0
	}
	return units.Ratio(o.Rotor / o.Power)
}

func validateDemand(speed units.AngularSpeed, torque units.Torque) error {
	return firstOf(
		within("speed", "rotor speed (rad/s)", speed, 1*units.RevolutionPerMinute, maxSpeed),
		within("torque", "rotor torque (N·m)", torque, 0, maxTorque),
	)
}

const (
	// bestSteps is the number of even steps in which bestSpeed first looks.
	bestSteps = 256
	// clearance keeps the best speed clear of the edge, where rounding decides.
	clearance = 1 - 0x1p-40
)

// bestSpeed returns the greatest speed below the one wanted that can be held, and 0 if it
// finds none. The torque falls with the square of the speed. A range of
// speeds narrower than a step may be missed.
func bestSpeed(wanted units.AngularSpeed, torque units.Torque, holds func(speed, torque float64) bool) units.AngularSpeed {
	can := func(share float64) bool {
		return holds(share*float64(wanted), share*share*float64(torque))
	}
	for i := bestSteps - 1; i > 0; i-- {
		lo, hi := float64(i)/bestSteps, float64(i+1)/bestSteps
		if !can(lo) {
			continue
		}
		for range 40 { // 2^-40 of a step
			if middle := (lo + hi) / 2; can(middle) {
				lo = middle
			} else {
				hi = middle
			}
		}
		return units.AngularSpeed(lo*clearance) * wanted
	}
	return 0
}

// ThrottlePoint is one point of a throttle curve.
type ThrottlePoint struct {
	Pitch     units.Angle
	Loads     Loads
	Operation Operation
	// Err says why the point has no Operation. If it comes from the rotor, the point has no
	// Loads either. It is nil if the speed is held.
	Err error
}

// ThrottleCurve appends to dst, for each pitch, how the power train holds the rotor's speed
// there. The error of a point is a [*units.FieldError], [*WakeError] or [*HoldError]. It is an
// [*units.FieldError] too if the torque is below 0, so that the air drives the rotor.
func (r *Rotor) ThrottleCurve(dst []ThrottlePoint, train PowerTrain, at Condition, pitches []units.Angle) []ThrottlePoint {
	for _, pitch := range pitches {
		p := ThrottlePoint{Pitch: pitch}
		if p.Loads, p.Err = r.Loads(pitch, at); p.Err == nil {
			p.Operation, p.Err = train.Hold(at.Speed, p.Loads.Torque)
		}
		dst = append(dst, p)
	}
	return dst
}
