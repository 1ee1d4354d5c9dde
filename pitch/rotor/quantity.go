package rotor

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Quantities that package units does not hold, each in its coherent SI unit.
type (
	// Density is a density of air, in kilograms per cubic metre.
	Density float64
	// Pressure is the absolute pressure of air, in pascals.
	Pressure float64
	// Temperature is an absolute temperature, in kelvins. Write 20 °C as Celsius(20).
	Temperature float64
)

// Hectopascal is the unit in which weather reports give pressure.
const Hectopascal Pressure = 100

const iceKelvin = 273.15 // K at 0 °C, exact

// Celsius returns the temperature for a number of degrees Celsius.
func Celsius(degrees float64) Temperature { return Temperature(degrees + iceKelvin) }

// Celsius returns the temperature in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t) - iceKelvin }

// String returns the temperature in degrees Celsius, to a tenth.
func (t Temperature) String() string { return fmt.Sprintf("%.1f °C", t.Celsius()) }

// UnmarshalText reads degrees Celsius, "20 °C", Fahrenheit, "68 °F", or kelvins,
// "293.15 K". On an error the temperature stays as it was.
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
			return fmt.Errorf("temperature %q needs a number before its unit, such as \"20 °C\"", text)
		}
		*t = Temperature(degrees*scale.size + scale.start)
		return nil
	}
	return fmt.Errorf("temperature %q needs a unit, such as \"20 °C\" (or °F, K)", text)
}

// MarshalText returns the exact temperature in kelvins. It refuses NaN and infinities.
func (t Temperature) MarshalText() ([]byte, error) {
	if k := float64(t); math.IsNaN(k) || math.IsInf(k, 0) {
		return nil, fmt.Errorf("temperature must be finite, not %v", k)
	}
	return []byte(strconv.FormatFloat(float64(t), 'g', -1, 64) + " K"), nil
}
