package servo

import (
	"fmt"
	"math"
	"slices"

	"example.org/levelhead/units"
)

// Rating is what a servo's maker says it can do, and how it holds.
type Rating struct {
	Points []RatingPoint // one or more, by rising voltage
	// Deadband is the change of pulse, to both sides together, within which the
	// servo does not answer.
	Deadband units.PulseWidth
	// FullTorqueAt is the error of the arm beyond the deadband at which the
	// servo pulls with its whole stall torque: small for a digital servo with
	// its fast motor pulses, larger for an analogue one. Up to there torque is
	// taken to grow in proportion. Measure it; makers do not give it.
	FullTorqueAt units.Angle
	// Frame is the time from one pulse to the next.
	Frame units.Time
}

// RatingPoint is a rating at one voltage.
type RatingPoint struct {
	Voltage units.Voltage
	Stall   units.Torque       // the torque at which it stops
	Speed   units.AngularSpeed // without load, such as units.TransitSpeed makes of s/60°
}

// VoltageError reports a voltage outside the rated ones.
type VoltageError struct {
	Voltage units.Voltage
	Beyond  units.Voltage // by how much: below 0 under the lowest, above 0 over the highest
}

func (e *VoltageError) Error() string {
	if e.Beyond < 0 {
		return fmt.Sprintf("servo: %v is %v below the lowest rated voltage", e.Voltage, -e.Beyond)
	}
	return fmt.Sprintf("servo: %v is %v above the highest rated voltage", e.Voltage, e.Beyond)
}

// Validate reports the first field that makes no sense, as a *FieldError.
func (r *Rating) Validate() error {
	if len(r.Points) == 0 {
		return &FieldError{"rating", "no points"}
	}
	for i, p := range r.Points {
		field := fmt.Sprintf("rating point %d", i+1)
		switch {
		case !(p.Voltage > 0) || !units.Finite(p.Voltage):
			return &FieldError{field, fmt.Sprintf("voltage %v is not above zero", p.Voltage)}
		case !(p.Stall > 0) || !units.Finite(p.Stall):
			return &FieldError{field, fmt.Sprintf("stall torque %v is not above zero", p.Stall)}
		case !(p.Speed > 0) || !units.Finite(p.Speed):
			return &FieldError{field, fmt.Sprintf("speed %v is not above zero", p.Speed)}
		case i > 0 && p.Voltage <= r.Points[i-1].Voltage:
			return &FieldError{field, fmt.Sprintf("voltage %v is not above the one before, %v", p.Voltage, r.Points[i-1].Voltage)}
		}
	}
	switch {
	case !(r.Deadband >= 0) || !units.Finite(r.Deadband):
		return &FieldError{"deadband", fmt.Sprintf("%v is below zero or not finite", r.Deadband)}
	case !(r.FullTorqueAt > 0) || r.FullTorqueAt.Degrees() > 90:
		return &FieldError{"full torque at", fmt.Sprintf("%v is not above zero and up to 90°", r.FullTorqueAt)}
	case !(r.Frame > 0) || !units.Finite(r.Frame):
		return &FieldError{"frame", fmt.Sprintf("%v is not above zero", r.Frame)}
	}
	return nil
}

// At returns the rating at a voltage, in a straight line between the rated ones. A
// voltage outside them is a *VoltageError, and the point returned with it is that of
// the nearest rated voltage: nothing is extrapolated.
func (r *Rating) At(v units.Voltage) (RatingPoint, error) {
	if len(r.Points) == 0 || !units.Finite(v) {
		return RatingPoint{}, &FieldError{"voltage", fmt.Sprintf("%v at %d rated points", v, len(r.Points))}
	}
	first, last := r.Points[0], r.Points[len(r.Points)-1]
	switch {
	case v < first.Voltage:
		return first, &VoltageError{v, v - first.Voltage}
	case v > last.Voltage:
		return last, &VoltageError{v, v - last.Voltage}
	}
	i := slices.IndexFunc(r.Points, func(p RatingPoint) bool { return p.Voltage >= v })
	if i == 0 || r.Points[i].Voltage == v {
		return r.Points[i], nil
	}
	a, b := r.Points[i-1], r.Points[i]
	part := float64((v - a.Voltage) / (b.Voltage - a.Voltage))
	return RatingPoint{
		Voltage: v,
		Stall:   a.Stall + units.Torque(part)*(b.Stall-a.Stall),
		Speed:   a.Speed + units.AngularSpeed(part)*(b.Speed-a.Speed),
	}, nil
}

// ArmYield returns by how much the arm gives way, as an amount, under a torque that the
// servo must hold at a rating: half the deadband, and the error that builds the
// torque up. A load of the stall torque or more is an *OverloadError.
func (r *Rating) ArmYield(at RatingPoint, s *Servo, load units.Torque) (units.Angle, error) {
	amount := units.Torque(math.Abs(float64(load)))
	if !(amount < at.Stall) {
		return 0, &OverloadError{amount, at.Stall}
	}
	deadband := units.Angle(math.Abs(float64(r.Deadband/s.Throw) * float64(s.Travel)))
	return deadband/2 + r.Yield(at, amount), nil
}

// Yield returns the error of the arm, as an amount, that builds up a torque at a rating:
// ArmYield without the deadband, and past stall in proportion still.
func (r *Rating) Yield(at RatingPoint, load units.Torque) units.Angle {
	return units.Angle(math.Abs(float64(load/at.Stall))) * r.FullTorqueAt
}

// OverloadError reports a torque that stalls a servo.
type OverloadError struct {
	Load, Stall units.Torque
}

func (e *OverloadError) Error() string {
	return fmt.Sprintf("servo: a load of %v stalls it at %v", e.Load, e.Stall)
}

// StrokeTime returns how long the arm takes to turn by an angle at a rating under a
// torque against it: at worst one frame until the pulse arrives, then at a speed that
// falls in a straight line from that without load to nothing at stall, as that of a
// direct-current motor does. Starting and stopping are not in it. A load of the stall
// torque or more is an *OverloadError.
func (r *Rating) StrokeTime(at RatingPoint, turn units.Angle, load units.Torque) (units.Time, error) {
	if !(load < at.Stall) {
		return 0, &OverloadError{load, at.Stall}
	}
	speed := float64(at.Speed) * (1 - math.Max(float64(load/at.Stall), 0))
	return r.Frame + units.Time(math.Abs(float64(turn))/speed), nil
}
