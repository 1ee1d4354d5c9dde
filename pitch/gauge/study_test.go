package gauge

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// band is how many standard errors a number of a seeded study may be off: chance puts
// some hundreds of numbers within it.
const band = 4.5

// fewSticks keep studies short.
var fewSticks = []pitch.Stick{{Collective: 0.1}, {Collective: 0.8}, {Collective: 0.6, Right: 0.5, Forward: -0.4}}

// scaled returns the default tolerances times k.
func scaled(k float64) Tolerances {
	t := DefaultTolerances()
	t.ServoCentre *= units.Angle(k)
	t.ServoTravel *= units.Ratio(k)
	t.EndPoint *= units.Ratio(k)
	for _, l := range []*units.Length{&t.ArmRadius, &t.ServoLink, &t.HubHeight, &t.PitchLink, &t.HornRadius} {
		*l *= units.Length(k)
	}
	return t
}

func studyOf(t testing.TB, rig *setup.Rig, blades int, tolerances Tolerances, s Study) *Outcome {
	t.Helper()
	b, err := NewSession(rig, blades, tolerances)
	if err != nil {
		t.Fatal(err)
	}
	s.Mode = "hover"
	o, err := b.Study(t.Context(), s)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// The outcome does not depend on the number of workers, nor on gauges and their zeros,
// but on the seed.
func TestStudyWorkers(t *testing.T) {
	for _, name := range machines {
		rig := rigOf(t, name)
		// Wide enough for some builds not to work: they too count the same.
		tolerances := scaled(4)
		tolerances.PitchLink = 8 * units.Millimetre
		s := Study{Builds: 300, Seed: 7, Workers: 1, Sticks: fewSticks}
		want := studyOf(t, rig, 2, tolerances, s)
		if want.First == nil {
			t.Errorf("%s: all builds work", name)
		}
		same := cmp.Comparer(func(x, y *BuildError) bool { return fmt.Sprint(x) == fmt.Sprint(y) })
		for _, workers := range []int{0, 2, 3, 7} {
			s.Workers = workers
			if got := studyOf(t, rig, 2, tolerances, s); !cmp.Equal(got, want, same) {
				t.Errorf("%s, %d workers:\n%s", name, workers, cmp.Diff(want, got, same))
			}
		}
		gauged, err := NewSession(rig, 2, tolerances, PitchGauge(rig))
		if err != nil {
			t.Fatal(err)
		}
		s.Mode = "hover"
		if got, err := gauged.Study(t.Context(), s); err != nil || !cmp.Equal(got, want, same) {
			t.Errorf("%s, with a gauge (%v):\n%s", name, err, cmp.Diff(want, got, same))
		}
		s.Seed++
		if got := studyOf(t, rig, 2, tolerances, s); got.At[0].Pitch[0].Mean == want.At[0].Pitch[0].Mean {
			t.Errorf("%s: another seed gives the same", name)
		}
	}
}

// surveyOf samples a study of the direct machine.
func surveyOf(t testing.TB, s Study) *survey {
	t.Helper()
	b, err := NewSession(rigOf(t, "direct"), 2, DefaultTolerances())
	if err != nil {
		t.Fatal(err)
	}
	s.Mode = "hover"
	v, err := b.survey(&s)
	if err != nil {
		t.Fatal(err)
	}
	if err := v.sample(t.Context()); err != nil {
		t.Fatal(err)
	}
	return v
}

// A longer study begins with the builds of a shorter one.
func TestStudyPrefix(t *testing.T) {
	short, long := surveyOf(t, Study{Builds: 200, Seed: 3}), surveyOf(t, Study{Builds: 500, Seed: 3})
	for i := range short.shown {
		for q := range short.shown[i] {
			if !cmp.Equal(short.shown[i][q], long.shown[i][q][:200]) {
				t.Fatalf("place %d, sight %d differs", i, q)
			}
		}
	}
}

// What parts are off by is normal, in each build independent of the builds around it
// though their sources differ by one, and of its other parts.
func TestStudyDraws(t *testing.T) {
	const builds = 20_000
	v := surveyOf(t, Study{Builds: builds, Seed: 1, Sticks: fewSticks[:1]})
	se := 1 / math.Sqrt(builds)
	for j, z := range v.off {
		mean, sd := stat.MeanStdDev(z, nil)
		if math.Abs(mean) > band*se || math.Abs(sd-1) > band*se/math.Sqrt2 {
			t.Errorf("%v: mean %v, standard deviation %v", v.params[j], mean, sd)
		}
		for lag := 1; lag <= 4; lag++ {
			if c := stat.Correlation(z[lag:], z[:builds-lag], nil); math.Abs(c) > band*se {
				t.Errorf("%v: correlation %v with build %d before", v.params[j], c, lag)
			}
		}
		for i := range j {
			if c := stat.Correlation(z, v.off[i], nil); math.Abs(c) > band*se {
				t.Errorf("%v: correlation %v with %v", v.params[j], c, v.params[i])
			}
		}
	}
}

// Parameters that are checked are never off by more than three tolerances, and else often.
func TestStudyCut(t *testing.T) {
	most := func(cut bool) (most float64) {
		for _, z := range surveyOf(t, Study{Builds: 1000, Cut: cut, Sticks: fewSticks[:1]}).off {
			for _, z := range z {
				most = max(most, math.Abs(z))
			}
		}
		return most
	}
	if checked, all := most(true), most(false); !(checked <= Worst && checked > 2.9 && all > 3.3) {
		t.Errorf("the most is %v with the cut, %v without", checked, all)
	}
}

// Small tolerances: all is linear and normal, and the sampled spread is the
// root-sum-square one.
func TestStudyLinear(t *testing.T) {
	const (
		builds = 4000
		blades = 3
		// Second order is a hundredth of a part in a hundred here.
		small = 0.01
		// Half of the probability that a number is off by band: as for the others.
		outside = 3.4e-6
	)
	for i, level := range Levels() {
		if z := distuv.UnitNormal.Quantile(level); math.Abs(z-float64(i-2)) > 0.05 {
			t.Errorf("level %v is %v standard deviations from the mean", level, z)
		}
	}
	chi := distuv.ChiSquared{K: builds - 1}
	low, high := math.Sqrt(chi.Quantile(outside)/chi.K), math.Sqrt(chi.Quantile(1-outside)/chi.K)
	for _, name := range machines {
		o := studyOf(t, rigOf(t, name), blades, scaled(small), Study{Builds: builds, Seed: 5, Sticks: fewSticks})
		if o.Builds != builds || o.First != nil {
			t.Errorf("%s: %d work: %v", name, o.Builds, o.First)
		}
		for _, at := range o.At {
			for blade, p := range at.Pitch {
				rss := float64(at.PitchBudget[blade].RSS)
				if ratio := float64(p.SD) / rss; ratio < low || ratio > high {
					t.Errorf("%s, %v, blade %d: standard deviation over rss %v, not within %v and %v", name, at.Stick, blade, ratio, low, high)
				}
				if z := float64(p.Mean) / rss; math.Abs(z) > band/math.Sqrt(builds) {
					t.Errorf("%s, %v, blade %d: mean %v", name, at.Stick, blade, z)
				}
				for i, q := range p.Quantiles {
					// The standard error of a quantile is sqrt(p(1-p)/n) over the density there.
					want := distuv.UnitNormal.Quantile(Levels()[i])
					se := math.Sqrt(Levels()[i]*(1-Levels()[i])/builds) / distuv.UnitNormal.Prob(want)
					if z := float64(q) / rss; math.Abs(z-want) > band*se {
						t.Errorf("%s, %v, blade %d: quantile %v is %v, want %v", name, at.Stick, blade, Levels()[i], z, want)
					}
				}
			}
			for _, b := range append(at.PitchBudget, at.TiltBudget) {
				if name != "fourservos" && math.Abs(b.Explained-1) > 1e-4 {
					t.Errorf("%s, %v: explained %v", name, at.Stick, b.Explained)
				}
				checkShares(t, name, o, &b, builds)
			}
			// The range of three normal numbers has mean 1.6926 and standard deviation
			// 0.8884: factors d2 and d3 of control charts, from memory. Of a blade
			// only the horn and its link are its own.
			own := 0.
			for j, p := range o.Parameters {
				if (p.Kind == PitchLink || p.Kind == HornRadius) && p.Index == 0 {
					own += at.PitchBudget[0].Shares[j]
				}
			}
			alone := float64(at.PitchBudget[0].RSS) * math.Sqrt(own)
			if d2 := float64(at.Tracking.Mean) / alone; math.Abs(d2-1.6926) > band*0.8884/math.Sqrt(builds) {
				t.Errorf("%s, %v: mean tracking over a blade's own deviation %v, want 1.6926", name, at.Stick, d2)
			}
		}
	}
}

// checkShares holds the shares that were sampled to those of the derivatives.
func checkShares(t *testing.T, name string, o *Outcome, b *Budget, builds float64) {
	t.Helper()
	var sum, sampled float64
	for j, share := range b.Shares {
		sum += share
		sampled += b.Sampled[j]
		// Both variances of a ratio are known to the root of 2/n.
		se := 2 * share / math.Sqrt(builds)
		if name == "fourservos" {
			se += 0.01 // a plate that fights: see TestSlopes
		}
		if math.Abs(b.Sampled[j]-share) > band*se+1e-6 {
			t.Errorf("%s, %v: share %.5f, sampled %.5f", name, o.Parameters[j], share, b.Sampled[j])
		}
	}
	const rounding = 1e-12
	if math.Abs(sum-1) > rounding {
		t.Errorf("%s: the shares sum to %v", name, sum)
	}
	if math.Abs(sampled-1) > 0.1 {
		t.Errorf("%s: the sampled shares sum to %v", name, sampled)
	}
}

// Large tolerances bend the answer: the mean moves, and a line explains less.
func TestStudyNonlinear(t *testing.T) {
	var before float64
	for _, k := range []float64{0.1, 1, 5} {
		o := studyOf(t, rigOf(t, "direct"), 1, scaled(k), Study{Builds: 2000, Seed: 5, Sticks: fewSticks})
		at := o.At[0]
		left := 1 - at.PitchBudget[0].Explained
		t.Logf("×%v: pitch mean %.4g°, deviation %.4g°, rss %.4g°; unexplained %.2g of pitch, %.2g of tilt; %d work", k, at.Pitch[0].Mean.Degrees(),
			at.Pitch[0].SD.Degrees(), at.PitchBudget[0].RSS.Degrees(), left, 1-at.TiltBudget.Explained, o.Builds)
		// Second order grows with the square of the tolerances.
		if !(left > 10*before) {
			t.Errorf("×%v: unexplained %v, before %v", k, left, before)
		}
		before = left
	}
}

// Doubling one tolerance makes its variance four times as large, and leaves the others;
// a part without tolerance has no share.
func TestBudgetTolerances(t *testing.T) {
	rig := rigOf(t, "bellcranks")
	s := Study{Builds: 200, Sticks: fewSticks}
	base := studyOf(t, rig, 2, DefaultTolerances(), s)
	tolerances := DefaultTolerances()
	tolerances.ServoLink *= 2
	tolerances.HubHeight = 0
	other := studyOf(t, rig, 2, tolerances, s)
	for i := range base.At {
		variances := func(o *Outcome) map[Parameter]float64 {
			v := map[Parameter]float64{}
			b := o.At[i].PitchBudget[1]
			for j, p := range o.Parameters {
				v[p] = b.Shares[j] * float64(b.RSS*b.RSS)
			}
			return v
		}
		then := variances(other)
		if _, ok := then[Parameter{HubHeight, 0}]; ok {
			t.Error("a part without tolerance has a share")
		}
		for p, v := range variances(base) {
			want := v
			switch p.Kind {
			case ServoLink:
				want = 4 * v
			case HubHeight:
				want = 0
			}
			const rounding = 1e-12
			if math.Abs(then[p]-want) > rounding*v {
				t.Errorf("%v: variance %v, then %v", p, v, then[p])
			}
		}
	}
}

// What no part moves has an empty budget: the plate's tilt where only blades are off,
// and all where nothing is.
func TestStill(t *testing.T) {
	rig := rigOf(t, "direct")
	o := studyOf(t, rig, 2, Tolerances{PitchLink: units.Millimetre}, Study{Builds: 200, Sticks: fewSticks})
	empty := Budget{Shares: []float64{0, 0}, Sampled: []float64{0, 0}}
	for _, at := range o.At {
		if !cmp.Equal(at.TiltBudget, empty) || at.Tilt.Quantiles[0] != at.Tilt.Quantiles[4] {
			t.Errorf("tilt: %+v, %+v", at.TiltBudget, at.Tilt)
		}
	}
	b, err := NewSession(rig, 2, Tolerances{}, PitchGauge(rig))
	if err != nil {
		t.Fatal(err)
	}
	o, err = b.Study(t.Context(), Study{Mode: "hover", Builds: 200})
	if err != nil || len(o.Parameters) != 0 || o.Pitch.SD != 0 || o.Pitch.Over != 0 || o.Tracking.SD != 0 || o.At[20].PitchBudget[0].Explained != 0 {
		t.Errorf("%+v, %v", o, err)
	}
}

// The worst over the sticks is that of a build one by one, and shares beyond limits are
// those of a normal spread where there is but one stick.
func TestExtremes(t *testing.T) {
	const builds = 4000
	v := surveyOf(t, Study{Builds: builds, Seed: 2, Sticks: fewSticks[:2]})
	o, err := v.outcome(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var tilt, off, tracking int
	for k := range builds {
		var overTilt, overOff, overTracking bool
		for i := range v.shown {
			a, b := units.Angle(v.shown[i][0][k]), units.Angle(v.shown[i][1][k])
			file := o.At[i].FilePitch
			step := v.model.rig.Gauge().Step
			overOff = overOff || a-file > step || file-a > step || b-file > step || file-b > step
			overTracking = overTracking || a-b > step || b-a > step
			overTilt = overTilt || math.Hypot(v.shown[i][2][k], v.shown[i][3][k]) > float64(v.model.rig.Limits().Tilt)
		}
		tilt, off, tracking = tilt+count(overTilt), off+count(overOff), tracking+count(overTracking)
	}
	for _, c := range []struct {
		name  string
		e     Extreme
		limit units.Angle
		over  int
	}{
		{"tilt", o.Tilt, v.model.rig.Limits().Tilt, tilt}, {"pitch", o.Pitch, v.model.rig.Gauge().Step, off},
		{"tracking", o.Tracking, v.model.rig.Gauge().Step, tracking},
	} {
		if c.e.Limit != c.limit || float64(c.e.Over) != float64(c.over)/builds || c.over == 0 || c.over == builds {
			t.Errorf("%s: limit %v, over %v; want %v, %v of %v", c.name, c.e.Limit, c.e.Over, c.limit, c.over, builds)
		}
	}

	one := studyOf(t, v.model.rig, 1, scaled(0.5), Study{Builds: builds, Seed: 2, Sticks: fewSticks[1:2]})
	want := 2 * distuv.UnitNormal.Survival(float64(one.Pitch.Limit/one.At[0].PitchBudget[0].RSS))
	if se := math.Sqrt(want * (1 - want) / builds); math.Abs(float64(one.Pitch.Over)-want) > band*se+0.01*want {
		t.Errorf("%v of builds are beyond a step, want %v", one.Pitch.Over, want)
	}
}

func count(is bool) int {
	if is {
		return 1
	}
	return 0
}

// Builds that do not work are counted by what stops them, and the first is named.
func TestStudyFailures(t *testing.T) {
	rig := rigOf(t, "direct")
	tolerances := scaled(3)
	tolerances.ArmRadius = 6 * units.Millimetre // half of the arm: some come out below 0
	tolerances.PitchLink = 10 * units.Millimetre
	s := Study{Builds: 1000, Seed: 9}
	o := studyOf(t, rig, 1, tolerances, s)
	if o.Unassembled == 0 || o.Unreachable == 0 || o.Builds+o.Unassembled+o.Unreachable != s.Builds {
		t.Fatalf("%d work, %d cannot be put together, %d stop", o.Builds, o.Unassembled, o.Unreachable)
	}
	t.Log(o.First)
	// The first build that does not work, looked at alone.
	b, err := NewSession(rig, 1, tolerances)
	if err != nil {
		t.Fatal(err)
	}
	s.Mode = "hover"
	v, err := b.survey(&s)
	if err != nil {
		t.Fatal(err)
	}
	if err := v.sample(t.Context()); err != nil {
		t.Fatal(err)
	}
	for k, err := range v.errs {
		if err != nil {
			if o.First.Build != k || o.First.Error() != err.Error() || errors.Unwrap(o.First) == nil {
				t.Errorf("the first is %v, want %v", o.First, err)
			}
			break
		}
	}
	// The mean is that of the builds that work.
	var mean float64
	for k, err := range v.errs {
		if err == nil {
			mean += (v.shown[0][0][k] - v.file[0][0]) / float64(o.Builds)
		}
	}
	const rounding = 1e-12 // rad
	if got := float64(o.At[0].Pitch[0].Mean); math.Abs(got-mean) > rounding {
		t.Errorf("the mean is %v, want %v", got, mean)
	}

	s.Builds = 200
	var few *StudyError
	if _, err := b.Study(t.Context(), s); !errors.As(err, &few) || few.Work+few.First.Build > few.Builds || few.Builds != 200 {
		t.Errorf("%v", err)
	}
	var first *BuildError
	if !errors.As(few, &first) {
		t.Errorf("%v does not unwrap to its first build", few)
	}
}

func TestStudyErrors(t *testing.T) {
	rig := rigOf(t, "direct")
	none := rig.Modes()[1].Setting()
	none.Pitch = nil // as where its targets are out of reach
	rig = rig.Modes()[1].Enter(none).Rig()
	b, err := NewSession(rig, 2, DefaultTolerances())
	if err != nil {
		t.Fatal(err)
	}
	many := make([]pitch.Stick, 1000)
	for _, c := range []struct {
		field string
		study Study
	}{
		{"Mode", Study{Mode: "none", Builds: 200}},
		{"Mode", Study{Mode: rig.Modes()[1].Name(), Builds: 200}},
		{"Builds", Study{Mode: "hover"}},
		{"Builds", Study{Mode: "hover", Builds: -1}},
		{"Builds", Study{Mode: "hover", Builds: 199}},
		{"Builds", Study{Mode: "hover", Builds: mostBuilds + 1}},
		{"Builds", Study{Mode: "hover", Builds: mostBuilds, Sticks: many}},
		{"Workers", Study{Mode: "hover", Builds: 200, Workers: -1}},
		{"Stick.Collective", Study{Mode: "hover", Builds: 200, Sticks: []pitch.Stick{{Collective: math.NaN()}}}},
		{"Stick.Right", Study{Mode: "hover", Builds: 200, Sticks: []pitch.Stick{{}, {Right: math.Inf(1)}}}},
		{"Stick.Forward", Study{Mode: "hover", Builds: 200, Sticks: []pitch.Stick{{Forward: -1.01}}}},
	} {
		var spec *units.FieldError
		if o, err := b.Study(t.Context(), c.study); o != nil || !errors.As(err, &spec) || spec.Field != c.field {
			t.Errorf("%+v: %v, want a *units.FieldError for %s", c.study, err, c.field)
		}
	}
}

// A file whose own build does not get to a position of the sticks has no study.
func TestStudyOfNothing(t *testing.T) {
	b, err := NewSession(rigOf(t, "direct"), 1, DefaultTolerances())
	if err != nil {
		t.Fatal(err)
	}
	v, err := b.survey(&Study{Mode: "hover", Builds: 200, Sticks: fewSticks})
	if err != nil {
		t.Fatal(err)
	}
	v.places[1].at[0].turn = math.NaN() // which no plate takes
	var stopped *BuildError
	if err := v.look(); !errors.As(err, &stopped) || stopped.Build != -1 || *stopped.Stick != fewSticks[1] {
		t.Errorf("%v", err)
	}
	// Nor has it one build.
	if err := v.sample(t.Context()); err != nil {
		t.Fatal(err)
	}
	for k, err := range v.errs {
		if err == nil || err.Build != k || *err.Stick != fewSticks[1] {
			t.Fatalf("build %d: %v", k, err)
		}
	}
}

// countdown is a context that is done once it has been asked a number of times.
type countdown struct {
	context.Context
	left int
}

func (c *countdown) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// A study stops soon after its context is done, wherever it is, and gives no outcome.
func TestStudyStops(t *testing.T) {
	b, err := NewSession(rigOf(t, "direct"), 1, DefaultTolerances())
	if err != nil {
		t.Fatal(err)
	}
	s := Study{Mode: "hover", Builds: 400, Workers: 1, Sticks: fewSticks}
	asked := 1 << 30
	whole := &countdown{t.Context(), asked}
	if _, err := b.Study(whole, s); err != nil {
		t.Fatal(err)
	}
	asked -= whole.left
	for n := range asked {
		if o, err := b.Study(&countdown{t.Context(), n}, s); o != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("stopped when asked %d times of %d: %v, %v", n, asked, o, err)
		}
	}
	if asked < 10 {
		t.Errorf("the context is asked %d times", asked)
	}
	cancelled, cancel := context.WithCancel(t.Context())
	cancel()
	s.Builds, s.Workers = mostBuilds, 2
	if _, err := b.Study(cancelled, s); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// Looking at a build at every position of the sticks allocates nothing beyond putting it
// together.
func TestMeasureAllocates(t *testing.T) {
	for _, name := range machines {
		b := sessionOf(t, name)
		v, err := b.survey(&Study{Mode: "hover", Builds: 200})
		if err != nil {
			t.Fatal(err)
		}
		if err := v.sample(t.Context()); err != nil {
			t.Fatal(err)
		}
		build, err := b.model.newBuild()
		if err != nil {
			t.Fatal(err)
		}
		x := make([]float64, len(b.model.params))
		together := testing.AllocsPerRun(20, func() { _ = build.set(x) })
		if n := testing.AllocsPerRun(20, func() { v.measure(build, 0, x) }); n != together {
			t.Errorf("%s: %v allocations, %v of them to put it together", name, n, together)
		}
	}
}
