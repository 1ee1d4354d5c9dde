package rotor

import (
	"math"

	"example.org/levelhead/units"
)

// Constants of the US Standard Atmosphere 1976 (NOAA-S/T 76-1562), which up to
// 11 km is also that of ISO 2533:1975.
const (
	standardGravity    = 9.80665           // m/s²
	earthRadius        = 6356766           // m
	seaLevelKelvin     = 288.15            // K
	seaLevelPascal     = 101325            // Pa
	lapse              = 6.5e-3            // K/m, fall of temperature with geopotential height
	gasConstant        = 8314.32 / 28.9644 // J/(kg·K), of dry air
	lowestGeopotential = -5000 * units.Metre
	tropopause         = 11000 * units.Metre // the greatest geopotential height of this layer
)

// Air is the state of dry air in which a rotor turns.
type Air struct {
	Density     Density
	Pressure    Pressure
	Temperature Temperature
}

// StandardAir returns the standard atmosphere at a height above sea level, from -5 km to
// 11 km. This is the geometric height, as maps give it. The error is a [*units.FieldError].
func StandardAir(height units.Length) (Air, error) {
	if err := within("height", "height (m)", height, lowestGeopotential, tropopause); err != nil {
		return Air{}, err
	}
	return StandardAirGeopotential(height * earthRadius / (earthRadius + height))
}

// StandardAirGeopotential returns the standard atmosphere at a geopotential
// height, from -5 km to 11 km. ISO 2533 and pressure altimeters use that height. The error
// is a [*units.FieldError].
func StandardAirGeopotential(height units.Length) (Air, error) {
	if err := within("height", "geopotential height (m)", height, lowestGeopotential, tropopause); err != nil {
		return Air{}, err
	}
	t := seaLevelKelvin - lapse*height.Metres()
	p := seaLevelPascal * math.Pow(t/seaLevelKelvin, standardGravity/(lapse*gasConstant))
	return DryAir(Pressure(p), Temperature(t))
}

// DryAir returns the air at a pressure from 100 hPa to 2000 hPa and a temperature
// from -100 °C to 100 °C, as an ideal gas. The error is a [*units.FieldError].
func DryAir(p Pressure, t Temperature) (Air, error) {
	if err := firstOf(
		within("p", "pressure (Pa)", p, 100*Hectopascal, 2000*Hectopascal),
		within("t", "temperature (K)", t, Celsius(-100), Celsius(100)),
	); err != nil {
		return Air{}, err
	}
	return Air{Density(float64(p) / (gasConstant * float64(t))), p, t}, nil
}

// WithTemperature returns the air at the same pressure and another temperature, such as the
// one measured on the field. The error is a [*units.FieldError].
func (a Air) WithTemperature(t Temperature) (Air, error) { return DryAir(a.Pressure, t) }
