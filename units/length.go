package units

// A Length is a distance, or a place along a line, in metres. The sign is for whoever
// uses it to explain.
type Length float64

const inch = 0.0254 // m, exact

// Units of length.
const (
	Metre      Length = 1
	Centimetre Length = 1e-2
	Millimetre Length = 1e-3
	Inch       Length = inch
	Foot       Length = 12 * inch
)

var length = newDimension("length",
	of(Millimetre, "mm", "millimetre", "millimetres", "millimeter", "millimeters"),
	of(Centimetre, "cm", "centimetre", "centimetres", "centimeter", "centimeters"),
	of(Metre, "m", "metre", "metres", "meter", "meters"),
	of(Inch, "in", "\"", "″", "inch", "inches"),
	of(Foot, "ft", "foot", "feet"),
)

// Metres returns l in metres.
func (l Length) Metres() float64 { return float64(l / Metre) }

// Centimetres returns l in centimetres.
func (l Length) Centimetres() float64 { return float64(l / Centimetre) }

// Millimetres returns l in millimetres.
func (l Length) Millimetres() float64 { return float64(l / Millimetre) }

// Inches returns l in inches.
func (l Length) Inches() float64 { return float64(l / Inch) }

// Feet returns l in feet.
func (l Length) Feet() float64 { return float64(l / Foot) }

// String returns l for people, rounded to six significant digits.
func (l Length) String() string { return format(l) }

// MarshalText returns l exactly. The error is a [*NotFiniteError].
func (l Length) MarshalText() ([]byte, error) { return marshal(l) }

// UnmarshalText sets l as [Parse] does, and leaves it unchanged on an error.
func (l *Length) UnmarshalText(text []byte) error { return unmarshal(l, text) }

func (Length) dimension() *dimension { return length }
