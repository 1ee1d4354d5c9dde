package units

// A Stiffness is the force that one length of give takes, such as that of a link and its
// mount, in newtons per metre.
type Stiffness float64

// Units of stiffness.
const (
	NewtonPerMetre      Stiffness = 1
	NewtonPerMillimetre Stiffness = 1e3
)

var stiffness = newDimension("stiffness",
	of(NewtonPerMillimetre, "N/mm"),
	of(NewtonPerMetre, "N/m"),
)

// NewtonsPerMetre returns k in newtons per metre.
func (k Stiffness) NewtonsPerMetre() float64 { return float64(k / NewtonPerMetre) }

// NewtonsPerMillimetre returns k in newtons per millimetre.
func (k Stiffness) NewtonsPerMillimetre() float64 { return float64(k / NewtonPerMillimetre) }

// String returns k for people, rounded to six significant digits.
func (k Stiffness) String() string { return format(k) }

// MarshalText returns k exactly. The error is a [*NotFiniteError].
func (k Stiffness) MarshalText() ([]byte, error) { return marshal(k) }

// UnmarshalText sets k as [Parse] does, and leaves it unchanged on an error.
func (k *Stiffness) UnmarshalText(text []byte) error { return unmarshal(k, text) }

func (Stiffness) dimension() *dimension { return stiffness }
