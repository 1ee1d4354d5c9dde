package rotor

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Quantities that package units does not hold, each in its coherent SI unit.
type (
	// A Density is in kilograms per cubic metre.
	Density float64
	// A Pressure is in pascals.
	Pressure float64
	// A Temperature is the thermodynamic one, in kelvins.
	Temperature float64
)

// Hectopascal is the unit in which weather reports give pressure.
const Hectopascal Pressure = 100

const iceKelvin = 273.15 // K at 0 °C, exact

// Celsius returns the temperature of so many degrees Celsius.
func Celsius(degrees float64) Temperature { return Temperature(degrees + iceKelvin) }

// Celsius returns t in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t) - iceKelvin }

// String returns t in degrees Celsius, to a tenth.
func (t Temperature) String() string { return fmt.Sprintf("%.1f °C", t.Celsius()) }

// UnmarshalText reads a number of degrees Celsius, "20 °C", or Fahrenheit, "68 °F", or
// of kelvins, "293.15 K".
func (t *Temperature) UnmarshalText(text []byte) error {
	for _, scale := range []struct {
		unit        string
		size, start float64 // kelvins in a degree, and at 0
	}{{"°C", 1, iceKelvin}, {"°F", 5. / 9, 459.67 * 5 / 9}, {"K", 1, 0}} {
		number, ok := strings.CutSuffix(strings.TrimSpace(string(text)), scale.unit)
		if !ok {
			continue
		}
		degrees, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if err != nil || math.IsNaN(degrees) || math.IsInf(degrees, 0) {
			return fmt.Errorf("temperature %q has no number that can be read", text)
		}
		*t = Temperature(degrees*scale.size + scale.start)
		return nil
	}
	return fmt.Errorf("temperature %q has no unit (units that fit: °C, °F, K)", text)
}

// MarshalText returns t exactly, in kelvins. It refuses NaN and infinities.
func (t Temperature) MarshalText() ([]byte, error) {
	if k := float64(t); math.IsNaN(k) || math.IsInf(k, 0) {
		return nil, fmt.Errorf("temperature %v is not finite", k)
	}
	return []byte(strconv.FormatFloat(float64(t), 'g', -1, 64) + " K"), nil
}
