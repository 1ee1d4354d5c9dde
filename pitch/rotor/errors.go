package rotor

import (
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/units"
)

// InputError reports a number that is outside the closed range from Lo to Hi,
// or is no number.
type InputError struct {
	Field  string // what the number is of and, in brackets, the SI unit of the three numbers, such as "chord (m)"
	Value  float64
	Lo, Hi float64
}

func (e *InputError) Error() string {
	name, unit, _ := strings.Cut(strings.TrimSuffix(e.Field, ")"), " (")
	factor := 1.
	switch unit {
	case "": // a number or a ratio
	case "rad":
		unit, factor = "°", 180/math.Pi
	case "rad/s":
		unit, factor = " rpm", 30/math.Pi
	default:
		unit = " " + unit
	}
	return fmt.Sprintf("rotor: %s must be from %.6g%[5]s to %.6[3]g%[5]s, not %.6[4]g%[5]s", name, e.Lo*factor, e.Hi*factor, e.Value*factor, unit)
}

// within refuses a value outside [lo, hi]. NaN and infinities are outside every
// range.
func within[Q ~float64](field string, value, lo, hi Q) error {
	if value >= lo && value <= hi {
		return nil
	}
	return &InputError{field, float64(value), float64(lo), float64(hi)}
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
