package units

// A Force is in newtons. Kilogram-force and its kin are by the standard gravity of
// 9.80665 m/s².
type Force float64

const standardGravity = 9.80665 // m/s², exact

// Units of force.
const (
	Newton        Force = 1
	KilogramForce Force = standardGravity
	GramForce     Force = standardGravity / 1000
	PoundForce    Force = pound * standardGravity
	OunceForce    Force = pound / 16 * standardGravity
)

var force = newDimension("force",
	of(Newton, "N", "newton", "newtons"),
	of(KilogramForce, "kgf"),
	of(GramForce, "gf"),
	of(PoundForce, "lbf"),
	of(OunceForce, "ozf"),
)

// Newtons returns f in newtons.
func (f Force) Newtons() float64 { return float64(f / Newton) }

// KilogramsForce returns f in kilograms-force.
func (f Force) KilogramsForce() float64 { return float64(f / KilogramForce) }

// GramsForce returns f in grams-force.
func (f Force) GramsForce() float64 { return float64(f / GramForce) }

// PoundsForce returns f in pounds-force.
func (f Force) PoundsForce() float64 { return float64(f / PoundForce) }

// OuncesForce returns f in ounces-force.
func (f Force) OuncesForce() float64 { return float64(f / OunceForce) }

// String returns f for people, rounded to six significant digits.
func (f Force) String() string { return format(f) }

// MarshalText returns f exactly. The error is a [*NotFiniteError].
func (f Force) MarshalText() ([]byte, error) { return marshal(f) }

// UnmarshalText sets f as [Parse] does, and leaves it unchanged on an error.
func (f *Force) UnmarshalText(text []byte) error { return unmarshal(f, text) }

func (Force) dimension() *dimension { return force }

// A Torque is a moment about a shaft, such as the stall torque of a servo, in newton
// metres.
type Torque float64

// Units of torque.
const (
	NewtonMetre             Torque = 1
	NewtonCentimetre        Torque = 1e-2
	KilogramForceMetre      Torque = standardGravity
	KilogramForceCentimetre Torque = standardGravity / 100
	OunceForceInch          Torque = pound / 16 * standardGravity * inch
	PoundForceInch          Torque = pound * standardGravity * inch
	PoundForceFoot          Torque = pound * standardGravity * 12 * inch
)

var torque = newDimension("torque",
	of(NewtonMetre, "N·m", "Nm"),
	of(NewtonCentimetre, "N·cm", "Ncm"),
	of(KilogramForceMetre, "kgf·m", "kg·m"),
	of(KilogramForceCentimetre, "kgf·cm", "kg·cm", "kgfcm", "kgcm"),
	of(OunceForceInch, "ozf·in", "oz·in"),
	of(PoundForceInch, "lbf·in", "lb·in", "in·lbf", "in·lb"),
	of(PoundForceFoot, "lbf·ft", "lb·ft", "ft·lbf", "ft·lb"),
)

// NewtonMetres returns t in newton metres.
func (t Torque) NewtonMetres() float64 { return float64(t / NewtonMetre) }

// KilogramForceCentimetres returns t in kilogram-force centimetres.
func (t Torque) KilogramForceCentimetres() float64 { return float64(t / KilogramForceCentimetre) }

// OunceForceInches returns t in ounce-force inches.
func (t Torque) OunceForceInches() float64 { return float64(t / OunceForceInch) }

// PoundForceInches returns t in pound-force inches.
func (t Torque) PoundForceInches() float64 { return float64(t / PoundForceInch) }

// PoundForceFeet returns t in pound-force feet.
func (t Torque) PoundForceFeet() float64 { return float64(t / PoundForceFoot) }

// String returns t for people, rounded to six significant digits.
func (t Torque) String() string { return format(t) }

// MarshalText returns t exactly. The error is a [*NotFiniteError].
func (t Torque) MarshalText() ([]byte, error) { return marshal(t) }

// UnmarshalText sets t as [Parse] does, and leaves it unchanged on an error.
func (t *Torque) UnmarshalText(text []byte) error { return unmarshal(t, text) }

func (Torque) dimension() *dimension { return torque }
