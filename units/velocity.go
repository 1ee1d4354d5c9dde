package units

// A Velocity is a speed along a line, such as that of the air past a blade, in metres per
// second. For what turns there is [AngularSpeed].
type Velocity float64

// Units of velocity. The foot is that of 0.3048 m.
const (
	MetrePerSecond   Velocity = 1
	KilometrePerHour Velocity = 1 / 3.6
	FootPerSecond    Velocity = 0.3048
)

var velocity = newDimension("velocity",
	of(MetrePerSecond, "m/s"),
	of(KilometrePerHour, "km/h", "kph"),
	of(FootPerSecond, "ft/s"),
)

// MetresPerSecond returns v in metres per second.
func (v Velocity) MetresPerSecond() float64 { return float64(v / MetrePerSecond) }

// KilometresPerHour returns v in kilometres per hour.
func (v Velocity) KilometresPerHour() float64 { return float64(v / KilometrePerHour) }

// FeetPerSecond returns v in feet per second.
func (v Velocity) FeetPerSecond() float64 { return float64(v / FootPerSecond) }

// String returns v for people, rounded to six significant digits.
func (v Velocity) String() string { return format(v) }

// MarshalText returns v exactly. The error is a [*NotFiniteError].
func (v Velocity) MarshalText() ([]byte, error) { return marshal(v) }

// UnmarshalText sets v as [Parse] does, and leaves it unchanged on an error.
func (v *Velocity) UnmarshalText(text []byte) error { return unmarshal(v, text) }

func (Velocity) dimension() *dimension { return velocity }
