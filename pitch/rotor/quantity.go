package rotor

// Quantities that package units does not hold, each in its coherent SI unit.
type (
	// A Density is in kilograms per cubic metre.
	Density float64
	// A Pressure is in pascals.
	Pressure float64
	// A Temperature is the thermodynamic one, in kelvins.
	Temperature float64
	// A Velocity is in metres per second.
	Velocity float64
	// An Inertia is a second moment of mass, in kilogram square metres.
	Inertia float64
	// A Resistance is in ohms.
	Resistance float64
)

const (
	Hectopascal Pressure   = 100
	Ohm         Resistance = 1
	Milliohm    Resistance = 1e-3
)

const iceKelvin = 273.15 // K at 0 °C, exact

// Celsius returns the temperature of so many degrees Celsius.
func Celsius(degrees float64) Temperature { return Temperature(degrees + iceKelvin) }

// Celsius returns t in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t) - iceKelvin }
