package units

// A Voltage is that of a battery or at a servo, in volts.
type Voltage float64

// Units of voltage.
const (
	Volt      Voltage = 1
	Millivolt Voltage = 1e-3
)

var voltage = newDimension("voltage",
	of(Volt, "V", "volt", "volts"),
	of(Millivolt, "mV", "millivolt", "millivolts"),
)

// Volts returns v in volts.
func (v Voltage) Volts() float64 { return float64(v / Volt) }

// Millivolts returns v in millivolts.
func (v Voltage) Millivolts() float64 { return float64(v / Millivolt) }

// String returns v for people, rounded to six significant digits.
func (v Voltage) String() string { return format(v) }

// MarshalText returns v exactly. The error is a [*NotFiniteError].
func (v Voltage) MarshalText() ([]byte, error) { return marshal(v) }

// UnmarshalText sets v as [Parse] does, and leaves it unchanged on an error.
func (v *Voltage) UnmarshalText(text []byte) error { return unmarshal(v, text) }

func (Voltage) dimension() *dimension { return voltage }

// A Current is in amperes; one that a battery gives is above 0.
type Current float64

// Units of current.
const (
	Ampere      Current = 1
	Milliampere Current = 1e-3
)

var current = newDimension("current",
	of(Ampere, "A", "ampere", "amperes", "amp", "amps"),
	of(Milliampere, "mA", "milliampere", "milliamperes"),
)

// Amperes returns c in amperes.
func (c Current) Amperes() float64 { return float64(c / Ampere) }

// Milliamperes returns c in milliamperes.
func (c Current) Milliamperes() float64 { return float64(c / Milliampere) }

// String returns c for people, rounded to six significant digits.
func (c Current) String() string { return format(c) }

// MarshalText returns c exactly. The error is a [*NotFiniteError].
func (c Current) MarshalText() ([]byte, error) { return marshal(c) }

// UnmarshalText sets c as [Parse] does, and leaves it unchanged on an error.
func (c *Current) UnmarshalText(text []byte) error { return unmarshal(c, text) }

func (Current) dimension() *dimension { return current }

// A Resistance is that of a cell or a winding, in ohms.
type Resistance float64

// Units of resistance.
const (
	Ohm      Resistance = 1
	Milliohm Resistance = 1e-3
)

var resistance = newDimension("resistance",
	of(Milliohm, "mΩ", "m\u2126", "mohm", "milliohm", "milliohms"),
	of(Ohm, "Ω", "\u2126", "ohm", "ohms"),
)

// Ohms returns r in ohms.
func (r Resistance) Ohms() float64 { return float64(r / Ohm) }

// Milliohms returns r in milliohms.
func (r Resistance) Milliohms() float64 { return float64(r / Milliohm) }

// String returns r for people, rounded to six significant digits.
func (r Resistance) String() string { return format(r) }

// MarshalText returns r exactly. The error is a [*NotFiniteError].
func (r Resistance) MarshalText() ([]byte, error) { return marshal(r) }

// UnmarshalText sets r as [Parse] does, and leaves it unchanged on an error.
func (r *Resistance) UnmarshalText(text []byte) error { return unmarshal(r, text) }

func (Resistance) dimension() *dimension { return resistance }
