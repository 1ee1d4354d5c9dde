package units

// An Inertia is a second moment of mass, such as that of a blade about its feathering
// axis, in kilogram square metres.
type Inertia float64

// Units of inertia.
const (
	KilogramSquareMetre  Inertia = 1
	GramSquareCentimetre Inertia = 1e-7
)

var inertia = newDimension("inertia",
	of(GramSquareCentimetre, "g·cm²", "g·cm2", "g·cm^2"),
	of(KilogramSquareMetre, "kg·m²", "kg·m2", "kg·m^2"),
)

// KilogramSquareMetres returns i in kilogram square metres.
func (i Inertia) KilogramSquareMetres() float64 { return float64(i / KilogramSquareMetre) }

// GramSquareCentimetres returns i in gram square centimetres.
func (i Inertia) GramSquareCentimetres() float64 { return float64(i / GramSquareCentimetre) }

// String returns i for people, rounded to six significant digits.
func (i Inertia) String() string { return format(i) }

// MarshalText returns i exactly. The error is a [*NotFiniteError].
func (i Inertia) MarshalText() ([]byte, error) { return marshal(i) }

// UnmarshalText sets i as [Parse] does, and leaves it unchanged on an error.
func (i *Inertia) UnmarshalText(text []byte) error { return unmarshal(i, text) }

func (Inertia) dimension() *dimension { return inertia }
