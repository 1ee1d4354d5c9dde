package rotor

import (
	"fmt"

	"example.org/levelhead/units"
)

// InputError reports a number that is outside the closed range from Lo to Hi,
// or is no number.
type InputError struct {
	Field  string // with the unit in which the three numbers are counted
	Value  float64
	Lo, Hi float64
}

func (e *InputError) Error() string {
	return fmt.Sprintf("rotor: %s is %g: must be from %g to %g", e.Field, e.Value, e.Lo, e.Hi)
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

// WakeError reports a rotor that pushes against its axial flow so hard that there
// is no steady wake, as in a slow descent under load: the vortex ring and
// turbulent wake states, for which momentum theory has no answer.
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
	return fmt.Sprintf("rotor: no steady wake%s: %.3g %% of the load is in the vortex ring or turbulent wake state",
		at, e.Beyond.Percent())
}

// ThrustError reports a thrust that the rotor cannot give at any pitch in range.
type ThrustError struct {
	Wanted  units.Force
	Reached units.Force // the nearest thrust
	Pitch   units.Angle // the pitch that gives it
}

func (e *ThrustError) Error() string {
	return fmt.Sprintf("rotor: a thrust of %.4g N is out of reach: %.4g N at a pitch of %.3g° is the nearest",
		e.Wanted.Newtons(), e.Reached.Newtons(), e.Pitch.Degrees())
}

// HoldError reports a rotor speed that the motor or engine cannot hold.
type HoldError struct {
	Wanted units.AngularSpeed
	Torque units.Torque // that the rotor asks for at the speed wanted
	// Best is the greatest rotor speed below the one wanted that can be held, the
	// torque falling with the square of the speed as it does at a fixed pitch in
	// hover. It is some 1e-12 on the safe side, and 0 where there is none.
	Best   units.AngularSpeed
	Reason string
}

func (e *HoldError) Error() string {
	return fmt.Sprintf("rotor: cannot hold %.4g rpm against %.4g N·m: %s; best is %.4g rpm",
		e.Wanted.RPM(), e.Torque.NewtonMetres(), e.Reason, e.Best.RPM())
}
