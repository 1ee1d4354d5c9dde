package units

// A Mass is in kilograms. What a scale shows in kilograms is a Mass; what a spring
// balance pulls is a [Force].
type Mass float64

const pound = 0.45359237 // kg, exact, the avoirdupois pound

// Units of mass. Pound and Ounce are avoirdupois.
const (
	Kilogram Mass = 1
	Gram     Mass = 1e-3
	Pound    Mass = pound
	Ounce    Mass = pound / 16
)

var mass = newDimension("mass",
	of(Gram, "g", "gram", "grams"),
	of(Kilogram, "kg", "kilogram", "kilograms"),
	of(Pound, "lb", "lbs", "pound", "pounds"),
	of(Ounce, "oz", "ounce", "ounces"),
)

// Kilograms returns m in kilograms.
func (m Mass) Kilograms() float64 { return float64(m / Kilogram) }

// Grams returns m in grams.
func (m Mass) Grams() float64 { return float64(m / Gram) }

// Pounds returns m in pounds.
func (m Mass) Pounds() float64 { return float64(m / Pound) }

// Ounces returns m in ounces.
func (m Mass) Ounces() float64 { return float64(m / Ounce) }

// String returns m for people, rounded to six significant digits.
func (m Mass) String() string { return format(m) }

// MarshalText returns m exactly. The error is a [*NotFiniteError].
func (m Mass) MarshalText() ([]byte, error) { return marshal(m) }

// UnmarshalText sets m as [Parse] does, and leaves it unchanged on an error.
func (m *Mass) UnmarshalText(text []byte) error { return unmarshal(m, text) }

func (Mass) dimension() *dimension { return mass }
