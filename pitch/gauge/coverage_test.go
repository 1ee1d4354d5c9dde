package gauge

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// Intervals hold the truth as often as they say: of many builds drawn from the
// tolerances and read with realistic errors, rounded to the gauge's step.
func TestCoverage(t *testing.T) {
	t.Parallel()
	const (
		builds = 2000
		// A rate is looked at for each prediction and each part alone; of so many rates
		// the worst is some 3.5 standard deviations of a binomial one off.
		band = 4.5
	)
	rig := rigOf(t, "direct")
	gauge := PitchGauge(rig)
	gauge.Low, gauge.High = -20*units.Degree, 20*units.Degree // so that no build is off its scale
	b, err := NewSession(rig, 2, DefaultTolerances(), gauge, Level(0.1*units.Degree))
	if err != nil {
		t.Fatal(err)
	}
	bearing := 45 * units.Degree
	predicted := []Point{
		{Mode: "aerobatic", Stick: pitch.Stick{Collective: 0}},
		{Mode: "aerobatic", Stick: pitch.Stick{Collective: 1}},
		{Blade: 1, Mode: "glide, throttle held", Stick: pitch.Stick{Collective: 0.5}},
		{Blade: 1, Bearing: &bearing, Mode: "hover", Stick: pitch.Stick{Collective: 0.3, Right: 0.7, Forward: -0.7}},
		{Of: TiltRight, Mode: "hover", Stick: pitch.Stick{Collective: 0.5, Right: 1}},
		{Of: ArmAngle, Servo: 2, Mode: "hover", Stick: pitch.Stick{Collective: 0.5}},
	}
	n := len(b.model.params)
	predictions, parts := make([][2]int, len(predicted)), make([][2]int, n)
	count := func(c *[2]int, z float64) {
		if math.Abs(z) < 1 {
			c[0]++
		}
		if math.Abs(z) < 1.959964 {
			c[1]++
		}
	}
	chance := rand.New(rand.NewPCG(20240607, 1))
	points := append(pitchPoints(), tiltPoints()...)
	fits, outliers := 0, 0
	for range builds {
		x := make([]float64, n)
		for j, sd := range b.model.sd {
			x[j] = sd * chance.NormFloat64()
		}
		r, err := b.Fit(simulate(t, b, x, chance, points...))
		if err != nil {
			continue // counted below
		}
		fits++
		outliers += len(r.Outliers)
		truth := simulateExact(t, b, x, predicted)
		for i, s := range predicted {
			p, err := r.Predict(s)
			if err != nil {
				t.Fatal(err)
			}
			count(&predictions[i], float64((p.Value-truth[i])/p.Sigma))
		}
		for j, e := range r.Parameters {
			count(&parts[j], (e.Off-x[j])/e.Sigma)
		}
	}
	refused := builds - fits
	t.Logf("%d builds: %d refused, %d outliers named", builds, refused, outliers)
	// Two tests of falseAlarm each: twice as many are far beyond chance.
	if most := 2 * 2 * falseAlarm * builds; float64(refused+outliers) > most {
		t.Errorf("%d sound builds refused and %d sound readings called outliers, of %d builds", refused, outliers, builds)
	}
	check := func(what string, c [2]int) {
		for i, want := range []float64{0.682689, 0.95} {
			rate := float64(c[i]) / float64(fits)
			if off := math.Abs(rate - want); off > band*math.Sqrt(want*(1-want)/float64(fits)) {
				t.Errorf("%s: %.1f %% within, where %.1f %% are wanted", what, 100*rate, 100*want)
			}
		}
		t.Logf("%s: %.1f %% and %.1f %%", what, 100*float64(c[0])/float64(fits), 100*float64(c[1])/float64(fits))
	}
	for i, s := range predicted {
		check(b.Describe(s), predictions[i])
	}
	for j, p := range b.model.params {
		check(b.Name(p), parts[j])
	}
}

// simulateExact returns what points truly are on a build whose parts are off by x.
func simulateExact(t testing.TB, b *Session, x []float64, points []Point) []units.Angle {
	t.Helper()
	build, err := b.model.newBuild()
	if err != nil {
		t.Fatal(err)
	}
	truth := make([]units.Angle, len(points))
	for i := range points {
		p, err := b.find(&points[i])
		if err != nil {
			t.Fatal(err)
		}
		values, slopes := make([]float64, 1), make([]float64, len(x))
		if err := build.show([]row{{place: p, zero: -1}}, x, values, slopes); err != nil {
			t.Fatal(err)
		}
		truth[i] = units.Angle(values[0])
	}
	return truth
}
