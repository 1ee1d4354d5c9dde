package units

import "math"

// An Angle is a plane angle in radians. It is not wrapped: 370° stays 370°.
type Angle float64

// Units of angle.
const (
	Radian Angle = 1
	Degree Angle = math.Pi / 180
)

var angle = newDimension("angle",
	of(Degree, "°", "deg", "degree", "degrees"),
	of(Radian, "rad", "radian", "radians"),
)

// Radians returns a in radians.
func (a Angle) Radians() float64 { return float64(a / Radian) }

// Degrees returns a in degrees.
func (a Angle) Degrees() float64 { return float64(a / Degree) }

// String returns a for people, rounded to six significant digits.
func (a Angle) String() string { return format(a) }

// MarshalText returns a exactly. The error is a [*NotFiniteError].
func (a Angle) MarshalText() ([]byte, error) { return marshal(a) }

// UnmarshalText sets a as [Parse] does, and leaves it unchanged on an error.
func (a *Angle) UnmarshalText(text []byte) error { return unmarshal(a, text) }

func (Angle) dimension() *dimension { return angle }

// An AngularSpeed is how fast a rotor or a servo arm turns, in radians per second.
type AngularSpeed float64

// Units of angular speed.
const (
	RadianPerSecond     AngularSpeed = 1
	DegreePerSecond     AngularSpeed = math.Pi / 180
	RevolutionPerMinute AngularSpeed = 2 * math.Pi / 60
)

// transit is the angle, in radians, over which the speed of a servo is timed.
const transit = 60 * math.Pi / 180

// TransitSpeed returns the angular speed of a servo that turns through 60° in
// the time given. It is infinite for a time of 0.
func TransitSpeed(per60Degrees Time) AngularSpeed {
	return AngularSpeed(transit / float64(per60Degrees))
}

var angularSpeed = newDimension("angular speed",
	of(RevolutionPerMinute, "rpm", "RPM", "r/min", "rev/min"),
	of(RadianPerSecond, "rad/s", "rad/sec"),
	of(DegreePerSecond, "°/s", "°/sec", "deg/s", "deg/sec"),
	row{
		unit{symbol: "s/60°", factor: transit, inverse: true},
		[]string{"s/60 °", "s/60deg", "s/60 deg", "sec/60°", "sec/60 °", "sec/60deg", "sec/60 deg"},
	},
)

// RadiansPerSecond returns s in radians per second.
func (s AngularSpeed) RadiansPerSecond() float64 { return float64(s / RadianPerSecond) }

// DegreesPerSecond returns s in degrees per second.
func (s AngularSpeed) DegreesPerSecond() float64 { return float64(s / DegreePerSecond) }

// RPM returns s in revolutions per minute.
func (s AngularSpeed) RPM() float64 { return float64(s / RevolutionPerMinute) }

// SecondsPer60Degrees returns the transit time of a servo, the time in seconds
// in which it turns through 60°. It is infinite for a speed of 0, and has the
// sign of the speed.
func (s AngularSpeed) SecondsPer60Degrees() float64 { return transit / float64(s) }

// String returns s for people, rounded to six significant digits.
func (s AngularSpeed) String() string { return format(s) }

// MarshalText returns s exactly. The error is a [*NotFiniteError].
func (s AngularSpeed) MarshalText() ([]byte, error) { return marshal(s) }

// UnmarshalText sets s as [Parse] does, and leaves it unchanged on an error.
func (s *AngularSpeed) UnmarshalText(text []byte) error { return unmarshal(s, text) }

func (AngularSpeed) dimension() *dimension { return angularSpeed }
