package servo

import (
	"fmt"
	"math"
	"slices"

	"example.org/levelhead/units"
)

// Rating is what a servo's maker says that it can do, and how firmly it holds, which the
// maker does not say.
type Rating struct {
	Points []RatingPoint // one or more, by rising voltage
	// Deadband is the change of pulse, to both sides together, within which the
	// servo does not answer. It is 0 or more.
	Deadband units.PulseWidth
	// FullTorqueAt is the error of the arm beyond the deadband at which the
	// servo pulls with its whole stall torque: small for a digital servo with
	// its fast motor pulses, larger for an analogue one. Up to there the torque
	// grows in proportion, as this model has it. Measure it; makers do not give it.
	FullTorqueAt units.Angle
	// Frame is the time from one pulse to the next, more than 0.
	Frame units.Time
}

// RatingPoint is a rating at one voltage.
type RatingPoint struct {
	Voltage units.Voltage      `json:"voltage"`
	Stall   units.Torque       `json:"stall"` // the torque at which it stops, more than 0
	Speed   units.AngularSpeed `json:"speed"` // without load, such as units.TransitSpeed makes of s/60°
}

// VoltageError reports a voltage outside the rated ones.
type VoltageError struct {
	Voltage units.Voltage
	Beyond  units.Voltage // by how much: negative under the lowest, positive over the highest
}

func (e *VoltageError) Error() string {
	if e.Beyond < 0 {
		return fmt.Sprintf("%v is %v below the lowest rated voltage", e.Voltage, -e.Beyond)
	}
	return fmt.Sprintf("%v is %v above the highest rated voltage", e.Voltage, e.Beyond)
}

// Validate reports the first field that no servo can have, as a *units.FieldError that says what it
// must be.
func (r *Rating) Validate() error {
	if len(r.Points) == 0 {
		return words.Refuse("Points", "must have one point or more")
	}
	for i, p := range r.Points {
		point := fmt.Sprintf("Points[%d].", i)
		switch {
		case !(p.Voltage > 0) || !units.Finite(p.Voltage):
			return words.Refuse(point+"Voltage", "must have a voltage of more than 0 V, not %v", p.Voltage)
		case !(p.Stall > 0) || !units.Finite(p.Stall):
			return words.Refuse(point+"Stall", "must have a stall torque of more than 0 N·m, not %v", p.Stall)
		case !(p.Speed > 0) || !units.Finite(p.Speed):
			return words.Refuse(point+"Speed", "must have a speed of more than 0 rpm, not %v", p.Speed)
		case i > 0 && p.Voltage <= r.Points[i-1].Voltage:
			return words.Refuse(point+"Voltage", "must have a higher voltage than the point before, which has %v, and not %v", r.Points[i-1].Voltage, p.Voltage)
		}
	}
	switch {
	case !(r.Deadband >= 0) || !units.Finite(r.Deadband):
		return words.Refuse("Deadband", "must be 0 µs or more, not %v", r.Deadband)
	case !(r.FullTorqueAt > 0) || r.FullTorqueAt.Degrees() > 90:
		return words.Refuse("FullTorqueAt", "must be more than 0° and at most 90°, not %v", r.FullTorqueAt)
	case !(r.Frame > 0) || !units.Finite(r.Frame):
		return words.Refuse("Frame", "must be more than 0 s, not %v", r.Frame)
	}
	return nil
}

// At returns the rating at a voltage, on a straight line between the rated ones. A
// voltage outside them is a *VoltageError, and the point returned with it is that of
// the nearest rated voltage: At never extrapolates. A rating without points, and a voltage
// that is not finite, is a *units.FieldError.
func (r *Rating) At(v units.Voltage) (RatingPoint, error) {
	if len(r.Points) == 0 || !units.Finite(v) {
		return RatingPoint{}, words.Refuse("v", "must be a finite number, and the rating must have a point; they are %v and %d", v, len(r.Points))
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

// ArmYield returns by how much the arm yields under a torque that the
// servo must hold at a rating: half the deadband, and the error that builds the
// torque up. It is never negative; the arm yields the way the load turns it. A load of the
// stall torque or more is an *OverloadError.
func (r *Rating) ArmYield(at RatingPoint, s *Servo, load units.Torque) (units.Angle, error) {
	amount := units.Torque(math.Abs(float64(load)))
	if !(amount < at.Stall) {
		return 0, &OverloadError{amount, at.Stall}
	}
	deadband := units.Angle(math.Abs(float64(r.Deadband/s.Throw) * float64(s.Travel)))
	return deadband/2 + r.Yield(at, amount), nil
}

// Yield returns the error of the arm that builds up a torque at a rating, never negative:
// ArmYield without the deadband. Past the stall torque it still grows in proportion.
func (r *Rating) Yield(at RatingPoint, load units.Torque) units.Angle {
	return units.Angle(math.Abs(float64(load/at.Stall))) * r.FullTorqueAt
}

// OverloadError reports a load of a servo's stall torque or more, under which it stops.
type OverloadError struct {
	Load, Stall units.Torque // at the servo's shaft
}

func (e *OverloadError) Error() string {
	return fmt.Sprintf("a load of %v stalls the servo, whose stall torque is %v", e.Load, e.Stall)
}

// StrokeTime returns how long the arm takes to turn by an angle of either sign at a rating.
// A positive load turns against the arm; a negative one counts as none. At worst the arm waits
// one frame for the pulse. Its speed falls on a straight line with the load, to nothing at the
// stall torque, as that of a direct-current motor does. Starting and stopping are not in it. A
// load of the stall torque or more is an *OverloadError.
func (r *Rating) StrokeTime(at RatingPoint, turn units.Angle, load units.Torque) (units.Time, error) {
	if !(load < at.Stall) {
		return 0, &OverloadError{load, at.Stall}
	}
	speed := float64(at.Speed) * (1 - math.Max(float64(load/at.Stall), 0))
	return r.Frame + units.Time(math.Abs(float64(turn))/speed), nil
}
