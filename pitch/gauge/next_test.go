package gauge

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/levelhead/units"
)

// Each suggestion, once taken, leaves what it said it would. The first gains nearly as much
// as any other candidate, and none that does is easier to take.
func TestNext(t *testing.T) {
	b := sessionOf(t, "direct")
	b.gauges[0].Low, b.gauges[0].High = -20*units.Degree, 20*units.Degree
	chance := rand.New(rand.NewPCG(11, 12))
	x := drawn(b, chance)
	readings := simulate(t, b, x, chance, pitchPoints()[:4]...)
	r, err := b.Fit(readings)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := r.Next(6)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Take) != 6 || plan.Enough {
		t.Fatalf("%d suggestions, enough %v", len(plan.Take), plan.Enough)
	}
	before := plan.Now
	for i, s := range plan.Take {
		t.Logf("%d: %s with the %s: %.3f° to %.3f°, expect %.2f° ± %.2f°", i, b.Describe(s.Point), s.Gauge,
			before.Degrees(), s.After.Degrees(), s.Expect.Degrees(), s.Sigma.Degrees())
		if s.After >= before {
			t.Errorf("suggestion %d: %v after, %v before", i, s.After, before)
		}
		before = s.After
		taken := simulate(t, b, x, chance, s.Point)
		taken[0].Gauge = s.Gauge
		readings = append(readings, taken...)
		again, err := b.Fit(readings)
		if err != nil {
			t.Fatal(err)
		}
		now, err := again.Next(0)
		if err != nil {
			t.Fatal(err)
		}
		const linear = 0.02
		if math.Abs(float64(now.Now/s.After)-1) > linear {
			t.Errorf("suggestion %d leaves %v, promised %v", i, now.Now, s.After)
		}
	}
	all := b.Candidates()
	for i := 0; i < len(all); i += 2 {
		c := all[i]
		other, err := r.Next(1, c)
		if err != nil {
			t.Fatal(err)
		}
		if len(other.Take) == 0 {
			continue
		}
		gain := func(s Suggestion) float64 { return float64(plan.Now*plan.Now - s.After*s.After) }
		const rounding = 1e-9
		if got, most := gain(plan.Take[0]), gain(other.Take[0]); got < (nearly-rounding)*most {
			t.Errorf("%s leaves %v, the suggestion %v", b.Describe(c.Point), other.Take[0].After, plan.Take[0].After)
		} else if got < most && b.trouble(&c.Point) < b.trouble(&plan.Take[0].Point) {
			t.Errorf("%s is easier and gains more than the suggestion", b.Describe(c.Point))
		}
	}
}

// Of readings that gain the same, as those of blades that are alike, the first is suggested,
// and not the one that rounding happens to favour.
func TestNextOfAlike(t *testing.T) {
	for _, machine := range []string{"direct", "bellcranks", "fourservos", "flybar", "spatial"} {
		r, err := sessionOf(t, machine).Fit(nil)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := r.Next(1)
		if err != nil {
			t.Fatal(err)
		}
		if first := plan.Take[0]; first.Of != BladePitch || first.Blade != 0 {
			t.Errorf("%s: %+v, want one of blade 1", machine, first.Point)
		}
	}
}

// Where the build is known to within the gauge's resolution, no reading is worth taking.
func TestNothingWorthTaking(t *testing.T) {
	rig := rigOf(t, "direct")
	b, err := NewSession(rig, 1, Tolerances{PitchLink: 0.02 * units.Millimetre}, PitchGauge(rig))
	if err != nil {
		t.Fatal(err)
	}
	r, err := b.Fit(nil)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := r.Next(3)
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Take) != 0 || !plan.Enough || plan.Now > plan.Resolution {
		t.Errorf("%+v", plan)
	}
	// A plan of many ends by itself.
	r, err = sessionOf(t, "direct").Fit(nil)
	if err != nil {
		t.Fatal(err)
	}
	if plan, err = r.Next(100); err != nil || !plan.Enough || len(plan.Take) == 0 {
		t.Errorf("%d suggestions, enough %v (%v)", len(plan.Take), plan.Enough, err)
	}
	t.Logf("%d readings, from %.3f° to %.3f°", len(plan.Take), plan.Now.Degrees(), plan.Take[len(plan.Take)-1].After.Degrees())
}

func BenchmarkNext(b *testing.B) {
	session := sessionOf(b, "direct")
	r, err := session.Fit(simulate(b, session, make([]float64, len(session.model.params)), nil, pitchPoints()...))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := r.Next(3); err != nil {
			b.Fatal(err)
		}
	}
}
