package servo

import (
	"math"

	"example.org/levelhead/units"
)

// Servo describes one servo as the radio drives it and as it is mounted. The zero value
// is not a servo: Validate says what it lacks.
type Servo struct {
	Neutral units.PulseWidth // pulse at command 0 before sub-trim; 1520 µs is common practice, no source
	Throw   units.PulseWidth // change of pulse for command 1 at an end point of 100 %; more than 0
	Travel  units.Angle      // change of arm angle for one Throw: positive where a longer pulse raises the ball, negative where it lowers it
	Mount   units.Angle      // arm angle at the Neutral pulse: how far the arm sits off its drawn direction on the spline; positive where the ball is higher
	Reverse bool             // the radio's reverse: a positive command shortens the pulse
	SubTrim units.PulseWidth // the radio's shift of neutral, positive to longer pulses, within the pulse limits
	Low     units.Ratio      // end point on the side of shorter pulses: scales the throw there; 100 % is nominal, and it is more than 0
	High    units.Ratio      // end point on the side of longer pulses, likewise
	Step    units.PulseWidth // the radio's resolution: pulses are whole steps away from Neutral; 0 means stepless
	Min     units.PulseWidth // shortest pulse that the radio or servo allows, more than 0
	Max     units.PulseWidth // longest pulse, more than Min
}

// Output is what a servo does at one command.
type Output struct {
	Pulse units.PulseWidth // that the radio sends, within the limits
	Arm   units.Angle      // that the pulse commands, from the drawn neutral direction; positive where the ball is higher
	// BeyondLimit is by how much the wanted pulse lay outside the pulse limits:
	// negative under Min, positive over Max, and 0 where the command fits.
	BeyondLimit units.PulseWidth
}

// MaxEndPoint is the largest end point that is taken: far beyond any radio's. What is more is a
// slip, such as 100 for 100 %.
const MaxEndPoint = 300 * units.Percent

// Validate reports the first field that no servo can have, as a *units.FieldError that says what
// the field must be. The other methods expect a Servo that Validate accepts.
func (s *Servo) Validate() error {
	for _, f := range []struct {
		name  string
		value float64
	}{
		{"Neutral", float64(s.Neutral)}, {"Throw", float64(s.Throw)}, {"Travel", float64(s.Travel)},
		{"Mount", float64(s.Mount)}, {"SubTrim", float64(s.SubTrim)}, {"Low", float64(s.Low)},
		{"High", float64(s.High)}, {"Step", float64(s.Step)}, {"Min", float64(s.Min)},
		{"Max", float64(s.Max)},
	} {
		if math.IsNaN(f.value) || math.IsInf(f.value, 0) {
			return words.Refuse(f.name, "must be a finite number, not %v", f.value)
		}
	}
	switch centre := s.Neutral + s.SubTrim; {
	case s.Throw <= 0:
		return words.Refuse("Throw", "must be more than 0 µs, not %v", s.Throw)
	case s.Travel == 0 || math.Abs(s.Travel.Degrees()) >= 180:
		return words.Refuse("Travel", "must be between 0° and 180°, or between -180° and 0°, not %v", s.Travel)
	case math.Abs(s.Mount.Degrees()) >= 180:
		return words.Refuse("Mount", "must be between -180° and 180°, not %v", s.Mount)
	case s.Low > MaxEndPoint:
		return words.Refuse("Low", "must be %v at most, not %v", MaxEndPoint, s.Low)
	case s.High > MaxEndPoint:
		return words.Refuse("High", "must be %v at most, not %v", MaxEndPoint, s.High)
	case s.Low <= 0:
		return words.Refuse("Low", "must be more than 0 %%, not %v", s.Low)
	case s.High <= 0:
		return words.Refuse("High", "must be more than 0 %%, not %v", s.High)
	case s.Step < 0:
		return words.Refuse("Step", "must be 0 µs (stepless) or more, not %v", s.Step)
	case s.Min <= 0:
		return words.Refuse("Min", "must be more than 0 µs, not %v", s.Min)
	case s.Max <= s.Min:
		return words.Refuse("Max", "must be more than %v, the shortest, not %v", s.Min, s.Max)
	case s.Neutral < s.Min || s.Neutral > s.Max:
		return words.Refuse("Neutral", "must be within the pulse limits, %v to %v, not %v", s.Min, s.Max, s.Neutral)
	case centre < s.Min || centre > s.Max:
		return words.Refuse("SubTrim", "must leave neutral within the pulse limits, %v to %v, and not at %v", s.Min, s.Max, centre)
	}
	return nil
}

// Output returns what the servo does at a command, a plain number of which 1 is the nominal
// throw. Commands beyond ±1 are driven as far as the pulse limits allow. A NaN gives NaN.
func (s *Servo) Output(command float64) Output {
	want := s.quantize(s.Neutral + s.SubTrim + s.offset(command))
	pulse := min(max(want, s.Min), s.Max)
	return Output{Pulse: pulse, Arm: s.Arm(pulse), BeyondLimit: want - pulse}
}

// offset returns the change of pulse for command, before steps and limits.
func (s *Servo) offset(command float64) units.PulseWidth {
	if s.Reverse {
		command = -command
	}
	if command < 0 {
		return units.PulseWidth(command*float64(s.Low)) * s.Throw
	}
	return units.PulseWidth(command*float64(s.High)) * s.Throw
}

// quantize moves p to the nearest whole radio step from neutral.
func (s *Servo) quantize(p units.PulseWidth) units.PulseWidth {
	if s.Step == 0 {
		return p
	}
	return s.Neutral + s.fromNeutral(p)
}

// fromNeutral returns how far p is from neutral, in whole radio steps: an exact
// multiple of the step, and 0 without rounding's remains.
func (s *Servo) fromNeutral(p units.PulseWidth) units.PulseWidth {
	if s.Step == 0 {
		return p - s.Neutral
	}
	return units.PulseWidth(math.RoundToEven(float64((p-s.Neutral)/s.Step)))*s.Step + 0
}

// Arm returns the arm angle that pulse p commands, positive where the ball is higher than in
// the drawn neutral direction. It does not look at the pulse limits.
func (s *Servo) Arm(p units.PulseWidth) units.Angle {
	return s.Mount + units.Angle((p-s.Neutral)/s.Throw)*s.Travel
}

// PulseFor returns the pulse that puts the arm at an angle, before the radio's steps: the
// inverse of Arm. The error is a *RangeError for a pulse outside the limits, or a
// *units.FieldError for an angle that is not finite.
func (s *Servo) PulseFor(arm units.Angle) (units.PulseWidth, error) {
	p := s.Neutral + units.PulseWidth((arm-s.Mount)/s.Travel)*s.Throw
	switch {
	case p > s.Max:
		return 0, &RangeError{arm, p - s.Max}
	case p < s.Min:
		return 0, &RangeError{arm, p - s.Min}
	case !units.Finite(p):
		return 0, words.Refuse("arm", "must be a finite number, not %v", arm)
	}
	return p, nil
}

// Command returns the command that makes pulse p, before the radio's steps and limits: the
// inverse of Output. It is beyond ±1 where the pulse is beyond the end points.
func (s *Servo) Command(p units.PulseWidth) float64 {
	c := float64((p - s.Neutral - s.SubTrim) / s.Throw)
	if c < 0 {
		c /= float64(s.Low)
	} else {
		c /= float64(s.High)
	}
	if s.Reverse {
		return -c
	}
	return c
}

// ArmPerCommand returns the change of arm angle per unit of command, on the
// side of the command's sign: the analytic slope of Output's Arm without steps and
// limits. At 0 it is that of positive commands.
func (s *Servo) ArmPerCommand(command float64) units.Angle {
	end, sign := s.High, units.Angle(1)
	if s.Reverse {
		sign = -1
	}
	if (command < 0) != s.Reverse {
		end = s.Low
	}
	return sign * units.Angle(end) * s.Travel
}

// ArmPerStep returns how far the arm turns at one step of the radio, always
// positive or zero.
func (s *Servo) ArmPerStep() units.Angle {
	return units.Angle(math.Abs(float64(s.Step/s.Throw) * float64(s.Travel)))
}

// Use returns how much of the way from neutral to the nearer pulse limit pulse p takes: 1 is
// that limit, and more than 1 is possible on the farther side. Neutral includes sub-trim. Use
// is 0 where neutral stands at a limit.
func (s *Servo) Use(p units.PulseWidth) units.Ratio {
	centre := s.Neutral + s.SubTrim
	room := min(s.Max-centre, centre-s.Min)
	if !(room > 0) {
		return 0
	}
	return units.Ratio(math.Abs(float64((p - centre) / room)))
}

// ArmRange returns the arm angles at the two pulse limits, the one with the lower ball
// first.
func (s *Servo) ArmRange() (low, high units.Angle) {
	a, b := s.Arm(s.Min), s.Arm(s.Max)
	return min(a, b), max(a, b)
}

// SubTrimFor returns the sub-trim that puts the arm at an angle when the
// command is 0, in whole radio steps. The servo's own SubTrim does not matter. The errors are
// those of PulseFor.
func (s *Servo) SubTrimFor(arm units.Angle) (units.PulseWidth, error) {
	p, err := s.PulseFor(arm)
	if err != nil {
		return 0, err
	}
	return s.fromNeutral(p), nil
}
