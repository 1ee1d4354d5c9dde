package gauge

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// sessionOf returns a bench for a demonstration machine of two blades, with a pitch gauge
// that is read to half a degree, a level and a protractor.
func sessionOf(t testing.TB, name string) *Session {
	t.Helper()
	rig := rigOf(t, name)
	gauge := PitchGauge(rig)
	gauge.Step = 0.5 * units.Degree
	b, err := NewSession(rig, 2, DefaultTolerances(), gauge, Level(0.1*units.Degree), Protractor(1*units.Degree))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// simulate reads points on a build whose parts are off by x, each with its gauge's error
// and rounded to its step. Without a source of chance it reads without error.
func simulate(t testing.TB, b *Session, x []float64, chance *rand.Rand, points ...Point) []Reading {
	t.Helper()
	build, err := b.model.newBuild()
	if err != nil {
		t.Fatal(err)
	}
	readings := make([]Reading, len(points))
	for i, s := range points {
		at, err := b.row(&s, "")
		if err != nil {
			t.Fatal(err)
		}
		values, slopes := make([]float64, 1), make([]float64, len(x))
		if err := build.show([]row{at}, x, values, slopes); err != nil {
			t.Fatal(err)
		}
		v := units.Angle(values[0])
		if g := b.gauges[at.gauge]; chance != nil {
			v += units.Angle(chance.NormFloat64()) * g.Repeat
			v = round(v, g.Step)
		}
		readings[i] = Reading{Point: s, Value: v}
	}
	return readings
}

// pitchPoints are those of a usual bench: both blades over the collective stick, and all
// ends of the cyclic stick.
func pitchPoints() []Point {
	var points []Point
	for blade := range 2 {
		for _, c := range []float64{0.2, 0.5, 0.8} {
			points = append(points, Point{Blade: blade, Mode: "hover", Stick: pitch.Stick{Collective: c}})
		}
	}
	for _, s := range []pitch.Stick{{Collective: 0.5, Right: 0.6}, {Collective: 0.5, Right: -0.6}, {Collective: 0.5, Forward: 0.6}} {
		points = append(points, Point{Mode: "hover", Stick: s})
	}
	return points
}

func tiltPoints() []Point {
	var points []Point
	for _, q := range []Quantity{TiltRight, TiltForward} {
		for _, c := range []float64{0, 0.5, 1} {
			points = append(points, Point{Of: q, Mode: "hover", Stick: pitch.Stick{Collective: c}})
		}
	}
	return points
}

// placeOf returns the place in x of a part, which must have one.
func placeOf(t testing.TB, b *Session, p Parameter) int {
	t.Helper()
	i, ok := b.model.place(p)
	if !ok {
		t.Fatalf("%v has no tolerance", p)
	}
	return i
}

// A single fault is found for what it is: the parts that are settled are right, and of
// those that cannot be told apart, what they do together.
func TestKnownFaults(t *testing.T) {
	for _, c := range []struct {
		name    string
		fault   Parameter
		off     float64
		verdict Verdict
	}{
		{"pitch link 0.5 mm long", Parameter{PitchLink, 0}, 0.5e-3, KnownTogether},
		{"one link half a turn long", Parameter{ServoLink, 1}, 0.2e-3, KnownTogether},
		{"one servo travel 3 % high", Parameter{ServoTravel, 2}, 0.03, Known},
	} {
		b := sessionOf(t, "direct")
		x := make([]float64, len(b.model.params))
		x[placeOf(t, b, c.fault)] = c.off
		points := append(pitchPoints(), tiltPoints()...)
		for i := range points {
			points[i].Mode = "aerobatic" // where the servos move most
		}
		r, err := b.Fit(simulate(t, b, x, rand.New(rand.NewPCG(1, 2)), points...))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		const far = 3 // standard errors, of one number in a hundred cases at most 0.3
		for j, e := range r.Parameters {
			if z := (e.Off - x[j]) / e.Sigma; math.Abs(z) > far {
				t.Errorf("%s: %s is found %s off, %.1f standard errors from the truth", c.name, b.Name(e.Parameter), e.Parameter.Kind.Format(e.Off), z)
			}
			if e.Parameter == c.fault && e.Verdict != c.verdict {
				t.Errorf("%s: %s is %v (%.2f)", c.name, b.Name(e.Parameter), e.Verdict, e.Known)
			}
		}
		// What the fault does to the readings is settled, whatever made it.
		truth := simulateExact(t, b, x, points)
		for i, s := range points {
			p, err := r.Predict(s)
			if err != nil {
				t.Fatal(err)
			}
			sigma := p.Sigma
			if z := float64((p.Value - truth[i]) / sigma); math.Abs(z) > far {
				t.Errorf("%s: %s predicted %v, is %v, off by %.1f standard errors", c.name, b.Describe(s), p.Value, truth[i], z)
			}
		}
		if c.verdict == KnownTogether && len(r.Combinations) == 0 {
			t.Errorf("%s: no combination is settled", c.name)
		}
		for _, comb := range r.Combinations {
			var is float64
			for _, p := range comb.Parameters {
				j := placeOf(t, b, p)
				is += r.fit.slope(comb.At).AtVec(j) * x[j]
			}
			if z := (float64(comb.Off) - is) / float64(comb.Sigma); math.Abs(z) > far || comb.Sigma > comb.Tolerance/2 {
				t.Errorf("%s: %d parts together %v ± %v (%v before), truly %v", c.name, len(comb.Parameters), comb.Off, comb.Sigma, comb.Tolerance, units.Angle(is))
			}
		}
	}
}

// What cannot be told apart is said to be shared: one blade's pitch link, the hub height
// and the gauge's zero, of pitch readings alone.
func TestSharedParts(t *testing.T) {
	rig := rigOf(t, "direct")
	tolerances := Tolerances{HubHeight: 0.3 * units.Millimetre, PitchLink: 0.3 * units.Millimetre, ServoTravel: 0.03}
	b, err := NewSession(rig, 1, tolerances, PitchGauge(rig))
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float64, len(b.model.params))
	x[placeOf(t, b, Parameter{PitchLink, 0})] = 0.3e-3
	var points []Point
	for _, c := range []float64{0.1, 0.3, 0.5, 0.7, 0.9} {
		points = append(points, Point{Mode: "hover", Stick: pitch.Stick{Collective: c}})
	}
	r, err := b.Fit(simulate(t, b, x, rand.New(rand.NewPCG(1, 2)), points...))
	if err != nil {
		t.Fatal(err)
	}
	want := []Parameter{{HubHeight, 0}, {PitchLink, 0}, {GaugeZero, 0}}
	for _, p := range want {
		e := r.Parameters[placeOf(t, b, p)]
		with := slices.DeleteFunc(slices.Clone(want), func(q Parameter) bool { return q == p })
		if e.Verdict != KnownTogether || !slices.Equal(e.With, with) {
			t.Errorf("%v is %v (%.2f) with %v, wanted with %v", p, e.Verdict, e.Known, e.With, with)
		}
	}
	if len(r.Combinations) != 1 || !slices.Equal(r.Combinations[0].Parameters, want) {
		t.Fatalf("combinations %+v, wanted one, of %v", r.Combinations, want)
	}
	const short = 0.3 / 20 // rad: the link's length over the horn's
	c := r.Combinations[0]
	if z := (math.Abs(float64(c.Off)) - short) / float64(c.Sigma); math.Abs(z) > 3 {
		t.Errorf("together %v ± %v, wanted about %v", c.Off, c.Sigma, units.Angle(short))
	}
}

// Builds drawn from the tolerances are found on every type of machine.
func TestFitOfEveryMachine(t *testing.T) {
	for _, name := range machines {
		b := sessionOf(t, name)
		chance := rand.New(rand.NewPCG(3, 4))
		for i := range 5 {
			x := make([]float64, len(b.model.params))
			for j, sd := range b.model.sd {
				x[j] = 0.7 * sd * chance.NormFloat64() // inside the gauge's scale
			}
			r, err := b.Fit(simulate(t, b, x, chance, append(pitchPoints(), tiltPoints()...)...))
			if err != nil {
				t.Errorf("%s %d: %v", name, i, err)
				continue
			}
			for j, e := range r.Parameters {
				if z := (e.Off - x[j]) / e.Sigma; math.Abs(z) > 4 {
					t.Errorf("%s %d: %s is %.1f standard errors from the truth", name, i, b.Name(e.Parameter), z)
				}
			}
		}
	}
}

// Without readings a result is what is known before.
func TestFitOfNothing(t *testing.T) {
	b := sessionOf(t, "direct")
	r, err := b.Fit(nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range r.Parameters {
		if e.Off != 0 || e.Sigma != e.Tolerance || e.Known != 0 || e.Verdict != Unknown {
			t.Errorf("%+v", e)
		}
	}
	if r.P != 1 || r.DoF != 0 || r.Combinations != nil {
		t.Errorf("%+v", r)
	}
}

func BenchmarkFit(b *testing.B) {
	rig := rigOf(b, "direct")
	tolerances := DefaultTolerances()
	tolerances.EndPoint, tolerances.ArmRadius, tolerances.HornRadius = 0, 0, 0
	session, err := NewSession(rig, 1, tolerances, PitchGauge(rig))
	if err != nil {
		b.Fatal(err)
	}
	points := pitchPoints()
	for i := range points {
		points[i].Blade = 0
		if i >= 3 && i < 6 {
			points[i].Stick.Forward = -0.5
		}
	}
	if len(session.Parameters()) != 12 || len(points) != 9 {
		b.Fatalf("%d unknowns, %d readings", len(session.Parameters()), len(points))
	}
	readings := simulate(b, session, make([]float64, 12), rand.New(rand.NewPCG(1, 2)), points...)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := session.Fit(readings); err != nil {
			b.Fatal(err)
		}
	}
}

// round returns an angle to the nearest whole step.
func round(a, step units.Angle) units.Angle {
	if step == 0 {
		return a
	}
	return units.Angle(math.RoundToEven(float64(a/step))) * step
}
