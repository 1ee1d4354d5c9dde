package gauge

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// Fits agree with those of SciPy 1.10.1's least_squares on a model of the same machine
// written apart from this one: testdata/fits.py.
func TestFitsOfSciPy(t *testing.T) {
	const (
		// Of the estimates, in standard errors: SciPy stops at about 1e-8, for its
		// derivatives are numerical.
		agree = 1e-6
		// Of the standard errors, relative: those of numerical derivatives.
		agreeSigma = 1e-6
	)
	data, err := os.ReadFile("testdata/fits.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		Name     string
		Readings []struct {
			Of      Quantity
			Blade   int
			Servo   int
			Bearing float64 `json:"bearing_deg"`
			Stick   [3]float64
			Value   float64
		}
		Estimate, Sigma []float64
		ChiSquare       float64 `json:"chi_square"`
	}
	if err := json.Unmarshal(data, &cases); err != nil {
		t.Fatal(err)
	}
	b := sessionOf(t, "direct")
	if len(cases) < 6 {
		t.Fatalf("%d cases", len(cases))
	}
	for _, c := range cases {
		var readings []Reading
		for _, r := range c.Readings {
			bearing := units.Angle(r.Bearing) * units.Degree
			readings = append(readings, Reading{
				Point: Point{
					Of: r.Of, Blade: r.Blade, Servo: r.Servo, Bearing: &bearing, Mode: "hover",
					Stick: pitch.Stick{Collective: r.Stick[0], Right: r.Stick[1], Forward: r.Stick[2]},
				},
				Value: units.Angle(r.Value),
			})
		}
		got, err := b.Fit(readings)
		if err != nil {
			t.Errorf("%s: %v", c.Name, err)
			continue
		}
		if math.Abs(got.ChiSquare/c.ChiSquare-1) > agree {
			t.Errorf("%s: chi-square %v, SciPy's %v", c.Name, got.ChiSquare, c.ChiSquare)
		}
		for i, e := range got.Parameters {
			if d := (e.Off - c.Estimate[i]) / e.Sigma; math.Abs(d) > agree {
				t.Errorf("%s, %v: %v, SciPy's %v: off by %.2g standard errors", c.Name, e.Parameter, e.Off, c.Estimate[i], d)
			}
			if d := e.Sigma/c.Sigma[i] - 1; math.Abs(d) > agreeSigma {
				t.Errorf("%s, %v: standard error %v, SciPy's %v", c.Name, e.Parameter, e.Sigma, c.Sigma[i])
			}
		}
	}
}
