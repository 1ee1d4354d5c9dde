package servo

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// Servo describes one servo as the radio drives it and as it is mounted.
type Servo struct {
	Neutral units.PulseWidth // pulse at command 0 before sub-trim; 1520 µs is common practice, no source
	Throw   units.PulseWidth // change of pulse for command 1 at an end point of 100 %
	Travel  units.Angle      // arm angle that Throw makes: above 0 where a longer pulse raises the ball, below 0 where it lowers it
	Mount   units.Angle      // arm angle at the Neutral pulse: how far the arm sits off its drawn direction on the spline
	Reverse bool             // the radio's reverse: a positive command shortens the pulse
	SubTrim units.PulseWidth // the radio's shift of neutral, within the pulse limits
	Low     units.Ratio      // end point on the side of shorter pulses: scales the throw there; 1 is nominal
	High    units.Ratio      // end point on the side of longer pulses
	Step    units.PulseWidth // the radio's resolution: pulses are whole steps away from Neutral; 0 means stepless
	Min     units.PulseWidth // shortest pulse the radio or servo allows
	Max     units.PulseWidth // longest pulse
}

// Output is what a servo does at one command.
type Output struct {
	Pulse units.PulseWidth
	Arm   units.Angle
	// BeyondLimit is by how much the wanted pulse lay outside the pulse limits:
	// below 0 under Min, above 0 over Max, and 0 where the command fits.
	BeyondLimit units.PulseWidth
}

// Validate reports the first field that makes no sense, as a *FieldError.
func (s *Servo) Validate() error {
	for _, f := range []struct {
		name  string
		value float64
	}{
		{"neutral", float64(s.Neutral)}, {"throw", float64(s.Throw)}, {"travel", float64(s.Travel)},
		{"mount", float64(s.Mount)}, {"sub-trim", float64(s.SubTrim)}, {"low end point", float64(s.Low)},
		{"high end point", float64(s.High)}, {"step", float64(s.Step)}, {"shortest pulse", float64(s.Min)},
		{"longest pulse", float64(s.Max)},
	} {
		if math.IsNaN(f.value) || math.IsInf(f.value, 0) {
			return &FieldError{f.name, fmt.Sprintf("%v is not a finite number", f.value)}
		}
	}
	switch centre := s.Neutral + s.SubTrim; {
	case s.Throw <= 0:
		return &FieldError{"throw", fmt.Sprintf("%v is not above zero", s.Throw)}
	case s.Travel == 0 || math.Abs(s.Travel.Degrees()) >= 180:
		return &FieldError{"travel", fmt.Sprintf("%v is not an arm's turn between 0° and 180° either way", s.Travel)}
	case math.Abs(s.Mount.Degrees()) >= 180:
		return &FieldError{"mount", fmt.Sprintf("%v is half a turn or more", s.Mount)}
	case s.Low <= 0:
		return &FieldError{"low end point", fmt.Sprintf("%v is not above zero", s.Low)}
	case s.High <= 0:
		return &FieldError{"high end point", fmt.Sprintf("%v is not above zero", s.High)}
	case s.Step < 0:
		return &FieldError{"step", fmt.Sprintf("%v is below zero", s.Step)}
	case s.Min <= 0:
		return &FieldError{"shortest pulse", fmt.Sprintf("%v is not above zero", s.Min)}
	case s.Max <= s.Min:
		return &FieldError{"longest pulse", fmt.Sprintf("%v is not above the shortest, %v", s.Max, s.Min)}
	case s.Neutral < s.Min || s.Neutral > s.Max:
		return &FieldError{"neutral", fmt.Sprintf("%v is outside %v to %v", s.Neutral, s.Min, s.Max)}
	case centre < s.Min || centre > s.Max:
		return &FieldError{"sub-trim", fmt.Sprintf("puts neutral at %v, outside %v to %v", centre, s.Min, s.Max)}
	}
	return nil
}

// Output returns what the servo does at command. Commands beyond ±1 are driven
// as far as the pulse limits allow.
//
// Special cases are: a command that is NaN gives NaN; infinite ones are clipped.
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

// Arm returns the arm angle that pulse p commands.
func (s *Servo) Arm(p units.PulseWidth) units.Angle {
	return s.Mount + units.Angle((p-s.Neutral)/s.Throw)*s.Travel
}

// PulseFor returns the pulse that stands the arm at angle arm, before the
// radio's steps. A pulse outside the limits is a *RangeError.
func (s *Servo) PulseFor(arm units.Angle) (units.PulseWidth, error) {
	p := s.Neutral + units.PulseWidth((arm-s.Mount)/s.Travel)*s.Throw
	switch {
	case p > s.Max:
		return 0, &RangeError{arm, p - s.Max}
	case p < s.Min:
		return 0, &RangeError{arm, p - s.Min}
	case !units.Finite(p):
		return 0, &FieldError{"arm angle", fmt.Sprintf("%v is not a finite number", arm)}
	}
	return p, nil
}

// Command returns the command that makes pulse p, before the radio's steps.
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
// side of the command's sign: the analytic slope of Drive without steps and
// limits.
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

// Use returns how much of the way from neutral, sub-trim and all, to the nearer pulse limit
// pulse p takes: 1 is that limit. It is 0 where neutral stands at a limit.
func (s *Servo) Use(p units.PulseWidth) units.Ratio {
	centre := s.Neutral + s.SubTrim
	room := min(s.Max-centre, centre-s.Min)
	if !(room > 0) {
		return 0
	}
	return units.Ratio(math.Abs(float64((p - centre) / room)))
}

// ArmRange returns the arm angles at the two pulse limits, lower first.
func (s *Servo) ArmRange() (low, high units.Angle) {
	a, b := s.Arm(s.Min), s.Arm(s.Max)
	return min(a, b), max(a, b)
}

// SubTrimFor returns the sub-trim that stands the arm at angle arm when the
// command is 0, in whole radio steps. A pulse outside the limits is a
// *RangeError.
func (s *Servo) SubTrimFor(arm units.Angle) (units.PulseWidth, error) {
	p, err := s.PulseFor(arm)
	if err != nil {
		return 0, err
	}
	return s.fromNeutral(p), nil
}
