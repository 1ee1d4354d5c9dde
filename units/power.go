package units

// A Power is what a motor gives or a rotor takes, in watts.
type Power float64

// Units of power. Horsepower is the mechanical one, 550 ft·lbf/s.
const (
	Watt       Power = 1
	Kilowatt   Power = 1e3
	Horsepower Power = 550 * 12 * inch * pound * standardGravity
)

var power = newDimension("power",
	of(Watt, "W", "watt", "watts"),
	of(Kilowatt, "kW", "kilowatt", "kilowatts"),
	of(Horsepower, "hp", "HP", "horsepower"),
)

// Watts returns p in watts.
func (p Power) Watts() float64 { return float64(p / Watt) }

// Kilowatts returns p in kilowatts.
func (p Power) Kilowatts() float64 { return float64(p / Kilowatt) }

// Horsepower returns p in horsepower.
func (p Power) Horsepower() float64 { return float64(p / Horsepower) }

// String returns p for people, rounded to six significant digits.
func (p Power) String() string { return format(p) }

// MarshalText returns p exactly. The error is a [*NotFiniteError].
func (p Power) MarshalText() ([]byte, error) { return marshal(p) }

// UnmarshalText sets p as [Parse] does, and leaves it unchanged on an error.
func (p *Power) UnmarshalText(text []byte) error { return unmarshal(p, text) }

func (Power) dimension() *dimension { return power }
