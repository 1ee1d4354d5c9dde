package rotor

import (
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/units"
)

// RangeError reports a number that is outside the closed range from Lo to Hi, or is no
// number. It is the cause of a [*units.FieldError], which names the number.
type RangeError struct {
	Unit          string // the SI unit of the three numbers, such as "m" or "rad/s"; "" for a number
	Value, Lo, Hi float64
}

func (e *RangeError) Error() string {
	unit, factor := e.Unit, 1.
	switch unit {
	case "":
	case "rad":
		unit, factor = "°", 180/math.Pi
	case "rad/s":
		unit, factor = " rpm", 30/math.Pi
	default:
		unit = " " + unit
	}
	return fmt.Sprintf("must be from %.6g%[4]s to %.6[2]g%[4]s, not %.6[3]g%[4]s", e.Lo*factor, e.Hi*factor, e.Value*factor, unit)
}

// within refuses the value of a field or argument outside [lo, hi]. NaN and infinities are
// outside every range. Words are those of the field and, in brackets, the SI unit, such as
// "chord (m)".
func within[Q ~float64](field, words string, value, lo, hi Q) error {
	if value >= lo && value <= hi {
		return nil
	}
	words, unit, _ := strings.Cut(strings.TrimSuffix(words, ")"), " (")
	err := &RangeError{unit, float64(value), float64(lo), float64(hi)}
	return &units.FieldError{Field: field, Words: "rotor: " + words, Reason: err.Error(), Err: err}
}

// firstOf returns the first error that is not nil.
func firstOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// WakeError reports a rotor that pushes so hard against its axial flow that there is no
// steady wake, as in a slow descent under load. For these vortex ring and turbulent wake
// states momentum theory has no answer.
type WakeError struct {
	Climb units.Velocity // 0 where the caller gave it in tip speeds
	// Beyond is the share of the load, from 0 to 1, carried by annuli in such a
	// state.
	Beyond units.Ratio
}

func (e *WakeError) Error() string {
	at := ""
	if e.Climb != 0 {
		at = fmt.Sprintf(" at an axial speed of %.3g m/s", float64(e.Climb))
	}
	return fmt.Sprintf("rotor: momentum theory has no answer%s: %.3g %% of the load is in the vortex ring or turbulent wake state",
		at, e.Beyond.Percent())
}

// ThrustError reports a thrust that the rotor cannot give at any pitch in range.
type ThrustError struct {
	Wanted  units.Force
	Reached units.Force // the nearest thrust
	Pitch   units.Angle // the pitch that gives it
}

func (e *ThrustError) Error() string {
	return fmt.Sprintf("rotor: a thrust of %.4g N is out of reach: the nearest is %.4g N, at a pitch of %.3g°",
		e.Wanted.Newtons(), e.Reached.Newtons(), e.Pitch.Degrees())
}

// HoldError reports a rotor speed that the motor or engine cannot hold.
type HoldError struct {
	Wanted units.AngularSpeed
	Torque units.Torque // to turn the rotor at the speed wanted
	// Best is the greatest rotor speed below the one wanted that can be held. The torque
	// is taken to fall with the square of the speed, as it does at a fixed pitch in
	// hover. Best is about 1e-12 on the safe side, and 0 if no speed can be held.
	Best   units.AngularSpeed
	Reason string // such as "full throttle is not enough"
}

func (e *HoldError) Error() string {
	best := "no speed can be held"
	if e.Best > 0 {
		best = fmt.Sprintf("the best speed is %.4g rpm", e.Best.RPM())
	}
	return fmt.Sprintf("rotor: cannot hold %.4g rpm against a torque of %.4g N·m: %s; %s",
		e.Wanted.RPM(), e.Torque.NewtonMetres(), e.Reason, best)
}
