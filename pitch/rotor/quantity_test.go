package rotor

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The fixed points are those of ITS-90's ice point at normal pressure, and of the
// Fahrenheit scale: 32 °F and 212 °F are 0 °C and 100 °C by definition.
func TestTemperatureText(t *testing.T) {
	const rounding = 1e-12 // of some 300 K
	for text, want := range map[string]float64{
		"0 °C": 273.15, "20°C": 293.15, " -40 °C ": 233.15, "-40 °F": 233.15, "32 °F": 273.15, "212 °F": 373.15, "280 K": 280,
	} {
		var got Temperature
		if err := got.UnmarshalText([]byte(text)); err != nil || math.Abs(float64(got)/want-1) > rounding {
			t.Errorf("%q is read as %v K, %v; want %v K", text, float64(got), err, want)
		}
	}
	for _, text := range []string{"", "20", "°C", "NaN °C", "Inf K", "20 C", "twenty °C", "20 °C °C"} {
		got := Temperature(1)
		if err := got.UnmarshalText([]byte(text)); err == nil || got != 1 {
			t.Errorf("%q is read as %v", text, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		want := Temperature(rapid.Float64Range(1, 1000).Draw(t, "kelvins"))
		text, err := want.MarshalText()
		var got Temperature
		if err != nil || got.UnmarshalText(text) != nil || got != want {
			t.Errorf("%v K is written %q, %v, and read as %v K", float64(want), text, err, float64(got))
		}
	})
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if text, err := Temperature(bad).MarshalText(); err == nil {
			t.Errorf("%v K is written %q", bad, text)
		}
	}
	if got := Celsius(21.5).String(); got != "21.5 °C" {
		t.Errorf("21.5 °C is shown as %q", got)
	}
}
