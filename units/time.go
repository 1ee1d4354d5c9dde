package units

// A Time is a span of time in seconds.
type Time float64

// Units of time.
const (
	Second      Time = 1
	Millisecond Time = 1e-3
	Microsecond Time = 1e-6
	Minute      Time = 60
)

var span = newDimension("time",
	of(Second, "s", "sec", "second", "seconds"),
	of(Millisecond, "ms", "millisecond", "milliseconds"),
	of(Microsecond, "µs", "us", "microsecond", "microseconds"),
	of(Minute, "min", "minute", "minutes"),
)

// Seconds returns t in seconds.
func (t Time) Seconds() float64 { return float64(t / Second) }

// Milliseconds returns t in milliseconds.
func (t Time) Milliseconds() float64 { return float64(t / Millisecond) }

// Microseconds returns t in microseconds.
func (t Time) Microseconds() float64 { return float64(t / Microsecond) }

// Minutes returns t in minutes.
func (t Time) Minutes() float64 { return float64(t / Minute) }

// String returns t for people, rounded to six significant digits.
func (t Time) String() string { return format(t) }

// MarshalText returns t exactly. The error is a [*NotFiniteError].
func (t Time) MarshalText() ([]byte, error) { return marshal(t) }

// UnmarshalText sets t as [Parse] does, and leaves it unchanged on an error.
func (t *Time) UnmarshalText(text []byte) error { return unmarshal(t, text) }

func (Time) dimension() *dimension { return span }

// A PulseWidth is the length of the pulse that commands a servo, or a change of it, in
// seconds. It is a type of its own so that no transit time is mistaken for a command.
type PulseWidth float64

// Units of pulse width.
const (
	PulseSecond      PulseWidth = 1
	PulseMillisecond PulseWidth = 1e-3
	PulseMicrosecond PulseWidth = 1e-6
)

var pulseWidth = newDimension("pulse width",
	of(PulseMicrosecond, "µs", "us", "microsecond", "microseconds"),
	of(PulseMillisecond, "ms", "millisecond", "milliseconds"),
	of(PulseSecond, "s", "sec", "second", "seconds"),
)

// Seconds returns p in seconds.
func (p PulseWidth) Seconds() float64 { return float64(p / PulseSecond) }

// Milliseconds returns p in milliseconds.
func (p PulseWidth) Milliseconds() float64 { return float64(p / PulseMillisecond) }

// Microseconds returns p in microseconds.
func (p PulseWidth) Microseconds() float64 { return float64(p / PulseMicrosecond) }

// String returns p for people, rounded to six significant digits.
func (p PulseWidth) String() string { return format(p) }

// MarshalText returns p exactly. The error is a [*NotFiniteError].
func (p PulseWidth) MarshalText() ([]byte, error) { return marshal(p) }

// UnmarshalText sets p as [Parse] does, and leaves it unchanged on an error.
func (p *PulseWidth) UnmarshalText(text []byte) error { return unmarshal(p, text) }

func (PulseWidth) dimension() *dimension { return pulseWidth }
