package gauge_test

import (
	"errors"
	"fmt"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// bench returns the demonstration machine, of two blades, on the bench.
func bench() (*gauge.Session, error) {
	m, err := setup.Parse(demo.Direct)
	if err != nil {
		return nil, err
	}
	rig, err := m.Build()
	if err != nil {
		return nil, err
	}
	return gauge.NewSession(rig, 2, gauge.DefaultTolerances(), gauge.PitchGauge(rig))
}

// read returns readings of both blades at three positions of the collective stick.
func read(blade1, blade2 [3]float64) []gauge.Reading {
	var readings []gauge.Reading
	for blade, values := range [][3]float64{blade1, blade2} {
		for i, v := range values {
			readings = append(readings, gauge.Reading{
				Point: gauge.Point{
					Blade: blade,
					Mode:  "aerobatic",
					Stick: pitch.Stick{Collective: float64(i) / 2},
				},
				Value: units.Angle(v) * units.Degree,
			})
		}
	}
	return readings
}

// The gauge reads -10°, 1° and 12° on one blade where -11°, 0° and 11° were wanted, and
// -11°, 0° and 12° on the other.
func Example() {
	b, err := bench()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := b.Fit(read([3]float64{-10, 1, 12}, [3]float64{-11, 0, 12}))
	if err != nil {
		fmt.Println(err)
		return
	}
	tip := gauge.Point{Mode: "hover", Stick: pitch.Stick{Collective: 0.75}}
	other := tip
	other.Blade = 1
	p, err := r.Predict(tip)
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := r.Difference(tip, other)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("hover, stick 75 %%: %.1f° ± %.1f°\n", p.Value.Degrees(), p.Sigma.Degrees())
	fmt.Printf("blade 1 over blade 2: %.1f° ± %.1f°\n", d.Value.Degrees(), d.Sigma.Degrees())
	for _, e := range r.Parts {
		if e.Part.Kind == gauge.PitchLink || e.Part.Kind == gauge.GaugeZero {
			k := e.Part.Kind
			fmt.Printf("%s: %s ± %s, %v\n", b.Name(e.Part), k.Format(e.Off), k.Format(e.Sigma)[1:], e.Verdict)
		}
	}
	c := r.Combinations[0]
	fmt.Printf("%d parts together: %+.1f° ± %.1f° at reading %d\n", len(c.Parts), c.Off.Degrees(), c.Sigma.Degrees(), c.At+1)
	// Output:
	// hover, stick 75 %: 8.4° ± 0.3°
	// blade 1 over blade 2: 0.6° ± 0.3°
	// blade 1 pitch link: +0.17 mm ± 0.19 mm, shared
	// blade 2 pitch link: -0.05 mm ± 0.19 mm, shared
	// pitch gauge zero: +0.03° ± 0.29°, shared
	// 6 parts together: +0.3° ± 0.3° at reading 4
}

// A reading that no build explains is left out, and named.
func ExampleSession_Fit_outlier() {
	b, err := bench()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := b.Fit(read([3]float64{-11, 0, 11}, [3]float64{-11, 4, 11}))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, o := range r.Outliers {
		fmt.Printf("reading %d is off by %.1f° ± %.1f°\n", o.Index+1, o.By.Degrees(), o.Sigma.Degrees())
	}
	// Output: reading 5 is off by 4.0° ± 0.4°
}

// Readings of another machine give no numbers.
func ExampleMisfitError() {
	b, err := bench()
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = b.Fit(read([3]float64{4, -6, 8}, [3]float64{9, 1, -7}))
	var misfit *gauge.MisfitError
	fmt.Println(errors.As(err, &misfit), len(misfit.Suspects), len(misfit.Unless))
	// Output: true 0 0
}

// What to measure next, and how much better blade pitch is known for it.
func ExampleResult_Next() {
	b, err := bench()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := b.Fit(read([3]float64{-10, 1, 12}, [3]float64{-11, 0, 12}))
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := r.Next(2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("now %.2f°\n", plan.Now.Degrees())
	for _, s := range plan.Take {
		fmt.Printf("%s: leaves %.2f°\n", b.Describe(s.Point), s.After.Degrees())
	}
	// Output:
	// now 0.60°
	// pitch of blade 1 at bearing 0°, mode hover, collective stick 50 %: leaves 0.47°
	// pitch of blade 2 at bearing 90°, mode hover, collective stick 50 %: leaves 0.43°
}
