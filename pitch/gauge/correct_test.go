package gauge

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// corrected fits readings, and corrects the build.
func corrected(t testing.TB, b *Bench, readings []Reading) (*Correction, *work, *Result) {
	t.Helper()
	r, err := b.Fit(readings)
	if err != nil {
		t.Fatal(err)
	}
	w, err := r.begin()
	if err != nil {
		t.Fatal(err)
	}
	c, err := w.correct()
	if err != nil {
		t.Fatal(err)
	}
	return c, w, r
}

// worstOff returns the largest amount by which checks are off.
func worstOff(checks []Check) units.Angle {
	var worst float64
	for i := range checks {
		worst = math.Max(worst, math.Abs(float64(checks[i].Off())))
	}
	return units.Angle(worst)
}

// sharp is a bench whose tools read to a hundredth of a degree, its pitch gauge set to
// zero with certainty.
func sharp(t testing.TB, name string, tolerances Tolerances) *Bench {
	t.Helper()
	rig := rigOf(t, name)
	gauge, level, protractor := PitchGauge(rig), Level(0.01*units.Degree), Protractor(0.01*units.Degree)
	gauge.Step, gauge.Zero, gauge.Repeat = 0.4*units.Degree, 0, 0.005*units.Degree
	gauge.Low, gauge.High = -30*units.Degree, 30*units.Degree
	level.Repeat, protractor.Repeat = 0.005*units.Degree, 0.01*units.Degree
	b, err := NewBench(rig, 2, tolerances, gauge, level, protractor)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// A build with one thing wrong is put right by the one step that undoes it, and by no
// other.
func TestCorrectsOneFault(t *testing.T) {
	const thread = 0.4 * units.Millimetre // of M2, as on the demonstration machines
	only := func(edit func(*Tolerances)) Tolerances {
		var tolerances Tolerances
		edit(&tolerances)
		return tolerances
	}
	links := only(func(t *Tolerances) { t.ServoLink, t.HornLink = 1*units.Millimetre, 1*units.Millimetre })
	servos := only(func(t *Tolerances) { t.ServoCentre, t.ServoGain = 10*units.Degree, 5*units.Percent })
	for _, c := range []struct {
		name, machine string
		tolerances    Tolerances
		off           map[Part]float64
		want          []Step // Action, What, Mode and Count
	}{
		{"blade 2 low", "direct", links, map[Part]float64{{HornLink, 1}: -float64(thread) / 2},
			[]Step{{Action: TurnHornLink, What: "blade 2 horn link", Count: 1}}},
		{"both blades high", "spatial", links, map[Part]float64{{HornLink, 0}: float64(thread), {HornLink, 1}: float64(thread)},
			[]Step{{Action: TurnHornLink, What: "blade 1 horn link", Count: -2}, {Action: TurnHornLink, What: "blade 2 horn link", Count: -2}}},
		{"a servo link long", "direct", links, map[Part]float64{{ServoLink, 1}: float64(thread) / 2},
			[]Step{{Action: TurnLink, What: "right rear servo link", Count: -1}}},
		{"a crank link short", "bellcranks", only(func(t *Tolerances) { t.ServoLink = 0.5 * units.Millimetre }), map[Part]float64{{ServoLink, 2}: -float64(thread) / 2}, nil},
		{"a tooth off", "direct", servos, map[Part]float64{{ServoCentre, 2}: 2 * math.Pi / 25},
			[]Step{{Action: MoveTooth, What: "left rear servo", Count: -1}}},
		{"all servos short", "direct", servos, map[Part]float64{{ServoGain, 0}: -0.06, {ServoGain, 1}: -0.06, {ServoGain, 2}: -0.06},
			[]Step{
				{Action: Rate, What: "right cyclic rate", Mode: "hover", Count: 9},
				{Action: Rate, What: "forward cyclic rate", Mode: "hover", Count: 9},
				{Action: Rate, What: "collective rate", Mode: "hover", Count: 6},
				{Action: Rate, What: "right cyclic rate", Mode: "aerobatic", Count: 7},
				{Action: Rate, What: "forward cyclic rate", Mode: "aerobatic", Count: 7},
				{Action: Rate, What: "collective rate", Mode: "aerobatic", Count: 5},
				{Action: Rate, What: "right cyclic rate", Mode: "glide, throttle held", Count: 7},
				{Action: Rate, What: "forward cyclic rate", Mode: "glide, throttle held", Count: 6},
				{Action: Rate, What: "collective rate", Mode: "glide, throttle held", Count: 6},
			}},
		{"nothing", "direct", DefaultTolerances(), nil, nil},
	} {
		b := sharp(t, c.machine, c.tolerances)
		x := make([]float64, len(b.Parts()))
		for p, off := range c.off {
			x[placeOf(t, b, p)] = off
		}
		spots := append(pitchSpots(), leanSpots()...)
		for servo := range 3 {
			spots = append(spots, Spot{Of: ArmAngle, Servo: servo, Mode: "hover", Stick: pitch.Stick{Collective: 0.5}})
		}
		got, _, _ := corrected(t, b, simulate(t, b, x, nil, spots...))
		if c.want == nil && c.off == nil != got.Within {
			t.Errorf("%s: within %v", c.name, got.Within)
		}
		var steps []Step
		for _, s := range got.Steps {
			steps = append(steps, Step{Action: s.Action, What: s.What, Mode: s.Mode, Count: s.Count})
		}
		if c.want != nil || c.off == nil {
			if !slices.EqualFunc(steps, c.want, func(a, b Step) bool {
				return a.Action == b.Action && a.What == b.What && a.Mode == b.Mode && a.Count == b.Count
			}) {
				t.Errorf("%s: %+v", c.name, steps)
			}
		}
		// What the gauge cannot show is left of it.
		if off := worstOff(got.After); off > 0.15*units.Degree {
			t.Errorf("%s: still off by %v", c.name, off)
		}
	}
}

// On builds with every part off and tools of ordinary make, what is foretold holds at
// its stated rate, and the truth comes nearer to what is wanted.
func TestCorrectsBuilds(t *testing.T) {
	const builds = 20
	for _, name := range machines {
		b := benchOf(t, name)
		chance := rand.New(rand.NewPCG(1, 2))
		var covered, all, nearer, steps int
		var before, after float64
		for range builds {
			x := make([]float64, len(b.model.sd))
			for i, sd := range b.model.sd {
				x[i] = sd * chance.NormFloat64()
			}
			readings := simulate(t, b, x, chance, append(pitchSpots(), leanSpots()...)...)
			var off *ReadingError
			if _, err := b.Fit(readings); errors.As(err, &off) {
				continue // this build is off the gauge's scale
			}
			c, w, r := corrected(t, b, readings)
			steps += len(c.Steps)
			if c.Unsure && len(c.Steps) > 0 || c.Within && len(c.Steps) > 0 {
				t.Fatalf("%s: within %v, unsure %v, %d steps", name, c.Within, c.Unsure, len(c.Steps))
			}
			order := slices.IsSortedFunc(c.Steps, func(p, q Step) int { return int(min(p.Action, Rate)) - int(min(q.Action, Rate)) })
			if !order {
				t.Errorf("%s: steps out of order: %+v", name, c.Steps)
			}
			// The same turns on the true build.
			truth := slices.Clone(x)
			for i := range truth {
				truth[i] += w.fit.x[i] - r.fit.x[i]
			}
			start, err := r.begin()
			if err != nil {
				t.Fatal(err)
			}
			if err := start.move(x); err != nil {
				t.Fatal(err)
			}
			was, err := start.checks(start.goals)
			if err != nil {
				t.Fatal(err)
			}
			if err := w.move(truth); err != nil {
				t.Fatal(err)
			}
			is, err := w.checks(w.goals)
			if err != nil {
				t.Fatal(err)
			}
			for i := range is {
				all++
				if math.Abs(float64(is[i].Pitch.Value-c.After[i].Pitch.Value)) <= 1.96*float64(c.After[i].Pitch.Sigma) {
					covered++
				}
			}
			before += float64(worstOff(was))
			after += float64(worstOff(is))
			if worstOff(is) <= worstOff(was) {
				nearer++
			}
		}
		t.Logf("%s: %.1f steps, off by %.2f° before and %.2f° after on average, nearer in %d of %d; 95 %% intervals hold in %.1f %%",
			name, float64(steps)/builds, before/builds*180/math.Pi, after/builds*180/math.Pi, nearer, builds, 100*float64(covered)/float64(all))
		// The checks of one build go together: 20 builds may miss by this much.
		if rate := float64(covered) / float64(all); rate < 0.88 {
			t.Errorf("%s: the intervals hold in %.1f %%, want 95 %%", name, 100*rate)
		}
		if after > 0.6*before {
			t.Errorf("%s: off by %v before and %v after", name, before/builds, after/builds)
		}
	}
}

// The turns of horn links that leave two blades least apart are those of a search of all.
func TestTrack(t *testing.T) {
	chance := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		off := []float64{chance.NormFloat64(), chance.NormFloat64()}
		per := []float64{0.5 + 0.1*chance.Float64(), 0.5 + 0.1*chance.Float64()}
		got := track(off, per)
		apart := func(n []float64) float64 { return math.Abs(off[0] + n[0]*per[0] - off[1] - n[1]*per[1]) }
		// Either blade set to the nearest half turn, the other to it.
		for _, n := range [][]float64{{-math.Round(off[0] / per[0]), 0}, {0, -math.Round(off[1] / per[1])}} {
			if n[0] != 0 || n[1] == 0 {
				n[1] = math.Round((off[0] + n[0]*per[0] - off[1]) / per[1])
			}
			if apart(got) > apart(n)+1e-9 && n[0] == -math.Round(off[0]/per[0]) {
				t.Errorf("%v, %v: turns %v leave %v, %v leave %v", off, per, got, apart(got), n, apart(n))
			}
		}
	}
}

// Without readings nothing is known to be right, and nothing is done.
func TestCorrectUnsure(t *testing.T) {
	c, _, _ := corrected(t, benchOf(t, "direct"), nil)
	if c.Within || !c.Unsure || len(c.Steps) > 0 || len(c.Before) == 0 {
		t.Errorf("within %v, unsure %v, %d steps", c.Within, c.Unsure, len(c.Steps))
	}
}

// What is foretold of the checks is what Predict says of them, and levelling the plate
// leaves the blades where the horn links brought them.
func TestCorrectPredicts(t *testing.T) {
	b := sharp(t, "direct", DefaultTolerances())
	x := make([]float64, len(b.Parts()))
	x[placeOf(t, b, Part{ServoCentre, 0})] = float64(1 * units.Degree)
	x[placeOf(t, b, Part{HornLink, 1})] = 0.0003
	c, _, _ := corrected(t, b, simulate(t, b, x, nil, append(pitchSpots(), leanSpots()...)...))
	if len(c.Steps) < 2 {
		t.Fatalf("%+v", c.Steps)
	}
	for i := range c.After {
		check := &c.After[i]
		s := Spot{Blade: check.Blade, Mode: check.Mode, Stick: check.Stick}
		if s.Stick.Right != 0 || s.Stick.Forward != 0 {
			continue // at another bearing
		}
		if p, err := c.Predict(s); err != nil || p != check.Pitch {
			t.Errorf("%s: %+v, %v; want %+v", check.Where, p, err, check.Pitch)
		}
	}
	last := c.Steps[len(c.Steps)-1]
	if last.Action != SubTrim || worstOff(last.After) > b.gauges[0].Step/2 {
		t.Errorf("%s leaves %+v", last.Do(), last.After)
	}
	if _, err := c.Predict(Spot{Mode: "none"}); err == nil {
		t.Error("a mode that is not there was taken")
	}
}

func TestCorrectErrors(t *testing.T) {
	rig := rigOf(t, "direct")
	b, err := NewBench(rig, 1, DefaultTolerances(), Level(0.1*units.Degree))
	if err != nil {
		t.Fatal(err)
	}
	r, err := b.Fit(nil)
	if err != nil {
		t.Fatal(err)
	}
	var spec *SpecError
	if _, err := r.Correct(); !errors.As(err, &spec) || spec.Field != "gauges" {
		t.Errorf("without a pitch gauge: %v", err)
	}
}

func BenchmarkCorrect(b *testing.B) {
	bench := benchOf(b, "direct")
	x := make([]float64, len(bench.model.sd))
	for i, sd := range bench.model.sd {
		x[i] = sd * math.Sin(float64(i))
	}
	r, err := bench.Fit(simulate(b, bench, x, nil, pitchSpots()...))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := r.Correct(); err != nil {
			b.Fatal(err)
		}
	}
}
