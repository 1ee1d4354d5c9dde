package rotor

import "example.org/levelhead/units"

// PowerTrain holds a rotor at a speed. [Electric] and [*Engine] are drives.
type PowerTrain interface {
	// Hold returns how the drive holds a rotor speed against a torque of 0 or
	// more. Where it cannot, the error is a [*HoldError].
	Hold(speed units.AngularSpeed, torque units.Torque) (Operation, error)
}

// Operation is a drive at work. Power is the sum of Rotor and the losses. What
// is electric is 0 for an engine.
type Operation struct {
	Throttle units.Ratio        // from 0 to 1
	Speed    units.AngularSpeed // of the motor or engine

	Power      units.Power // from the battery's cells, or of the engine
	Rotor      units.Power // at the rotor's shaft
	GearLoss   units.Power
	NoLoadLoss units.Power // in the motor's iron and bearings
	CopperLoss units.Power // in the motor's resistance
	SourceLoss units.Power // in the battery's resistance

	MotorCurrent   units.Current
	MotorVoltage   units.Voltage
	BatteryCurrent units.Current
	BatteryVoltage units.Voltage // under load
}

// Efficiency returns the share of the power that gets to the rotor's shaft; 0
// without power.
func (o Operation) Efficiency() units.Ratio {
	if o.Power == 0 {
		return 0
	}
	return units.Ratio(o.Rotor / o.Power)
}

func validateDemand(speed units.AngularSpeed, torque units.Torque) error {
	return firstOf(
		within("rotor speed (rad/s)", speed, 1*units.RevolutionPerMinute, maxSpeed),
		within("rotor torque (N·m)", torque, 0, maxTorque),
	)
}

const (
	// bestSteps is the number of even steps in which bestSpeed first looks.
	bestSteps = 256
	// clearance keeps the best speed clear of the edge, where rounding decides.
	clearance = 1 - 0x1p-40
)

// bestSpeed returns the greatest speed below the one wanted that can be held, the
// torque falling with the square of the speed; 0 where none is found. A range of
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
	// Err says why the point has no Operation, and where it comes from the rotor,
	// no Loads. It is nil where the speed is held.
	Err error
}

// ThrottleCurve appends to dst, for each pitch, how the drive holds the rotor's
// speed there. The error of a point is an [*InputError], [*WakeError] or
// [*HoldError]; a torque below 0, by which the air drives the rotor, is an
// [*InputError].
func (r *Rotor) ThrottleCurve(dst []ThrottlePoint, d PowerTrain, at Condition, pitches []units.Angle) []ThrottlePoint {
	for _, pitch := range pitches {
		p := ThrottlePoint{Pitch: pitch}
		if p.Loads, p.Err = r.Loads(pitch, at); p.Err == nil {
			p.Operation, p.Err = d.Hold(at.Speed, p.Loads.Torque)
		}
		dst = append(dst, p)
	}
	return dst
}
