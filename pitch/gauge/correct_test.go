package gauge

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// corrected fits readings, and corrects the build.
func corrected(t testing.TB, b *Session, readings []Reading) (*Correction, *work, *Result) {
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
func sharp(t testing.TB, rig *setup.Rig, tolerances Tolerances) *Session {
	t.Helper()
	gauge, level, protractor := PitchGauge(rig), Level(0.01*units.Degree), Protractor(0.01*units.Degree)
	gauge.Step, gauge.Zero, gauge.Repeat = 0.4*units.Degree, 0, 0.005*units.Degree
	gauge.Low, gauge.High = -30*units.Degree, 30*units.Degree
	level.Repeat, protractor.Repeat = 0.005*units.Degree, 0.01*units.Degree
	b, err := NewSession(rig, 2, tolerances, gauge, level, protractor)
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
	links := only(func(t *Tolerances) { t.ServoLink, t.PitchLink = 1*units.Millimetre, 1*units.Millimetre })
	servos := only(func(t *Tolerances) { t.ServoCentre, t.ServoTravel = 10*units.Degree, 5*units.Percent })
	for _, c := range []struct {
		name, machine string
		tolerances    Tolerances
		off           map[Parameter]float64
		want          []Step // Action, What, Mode and Count
	}{
		{"blade 2 low", "direct", links, map[Parameter]float64{{PitchLink, 1}: -float64(thread) / 2},
			[]Step{{Action: TurnPitchLink, What: "blade 2", Count: 1}}},
		{"both blades high", "spatial", links, map[Parameter]float64{{PitchLink, 0}: float64(thread), {PitchLink, 1}: float64(thread)},
			[]Step{{Action: TurnPitchLink, What: "blade 1", Count: -2}, {Action: TurnPitchLink, What: "blade 2", Count: -2}}},
		{"a servo link long", "direct", links, map[Parameter]float64{{ServoLink, 1}: float64(thread) / 2},
			[]Step{{Action: TurnLink, What: "right rear servo link", Count: -1}}},
		{"a crank link short", "bellcranks", only(func(t *Tolerances) { t.ServoLink = 0.5 * units.Millimetre }), map[Parameter]float64{{ServoLink, 2}: -float64(thread) / 2}, nil},
		{"a tooth off", "direct", servos, map[Parameter]float64{{ServoCentre, 2}: 2 * math.Pi / 25},
			[]Step{{Action: MoveTooth, What: "left rear servo", Count: -1}}},
		{"all servos long", "direct", servos, map[Parameter]float64{{ServoTravel, 0}: 0.06, {ServoTravel, 1}: 0.06, {ServoTravel, 2}: 0.06},
			[]Step{
				{Action: Rate, What: "collective rate", Mode: "hover", Count: -4},
				{Action: Rate, What: "right cyclic rate", Mode: "hover", Count: -6},
				{Action: Rate, What: "forward cyclic rate", Mode: "hover", Count: -5},
				{Action: Rate, What: "collective rate", Mode: "aerobatic", Count: -4},
				{Action: CurvePoint, What: "pitch curve's point at 100 % stick", Mode: "aerobatic", Count: -2},
				{Action: Rate, What: "right cyclic rate", Mode: "aerobatic", Count: -7},
				{Action: Rate, What: "forward cyclic rate", Mode: "aerobatic", Count: -7},
				{Action: Rate, What: "collective rate", Mode: "glide, throttle held", Count: -5},
				{Action: Rate, What: "right cyclic rate", Mode: "glide, throttle held", Count: -6},
				{Action: Rate, What: "forward cyclic rate", Mode: "glide, throttle held", Count: -6},
			}},
		{"all servos short", "direct", servos, map[Parameter]float64{{ServoTravel, 0}: -0.06, {ServoTravel, 1}: -0.06, {ServoTravel, 2}: -0.06},
			[]Step{
				{Action: Rate, What: "collective rate", Mode: "hover", Count: 5},
				{Action: Rate, What: "right cyclic rate", Mode: "hover", Count: 7},
				{Action: Rate, What: "forward cyclic rate", Mode: "hover", Count: 6},
				{Action: Rate, What: "collective rate", Mode: "aerobatic", Count: 5},
				{Action: CurvePoint, What: "pitch curve's point at 100 % stick", Mode: "aerobatic", Count: 2},
				{Action: Rate, What: "right cyclic rate", Mode: "aerobatic", Count: 8},
				{Action: Rate, What: "forward cyclic rate", Mode: "aerobatic", Count: 8},
				{Action: Rate, What: "collective rate", Mode: "glide, throttle held", Count: 7},
				{Action: Rate, What: "right cyclic rate", Mode: "glide, throttle held", Count: 6},
				{Action: Rate, What: "forward cyclic rate", Mode: "glide, throttle held", Count: 7},
			}},
		// The tilt shows on the blades; their links are right.
		{"a plate that tilts", "direct", only(func(t *Tolerances) { t.ServoCentre, t.PitchLink = 3*units.Degree, 0.3*units.Millimetre }),
			map[Parameter]float64{{ServoCentre, 1}: float64(3 * units.Degree), {ServoCentre, 2}: float64(-3 * units.Degree)},
			[]Step{{Action: SubTrim, What: "right rear servo", Count: -33}, {Action: SubTrim, What: "left rear servo", Count: -33}}},
		{"nothing", "direct", DefaultTolerances(), nil, nil},
	} {
		b := sharp(t, rigOf(t, c.machine), c.tolerances)
		x := make([]float64, len(b.Parameters()))
		for p, off := range c.off {
			x[placeOf(t, b, p)] = off
		}
		points := append(pitchPoints(), tiltPoints()...)
		for servo := range 3 {
			points = append(points, Point{Of: ArmAngle, Servo: servo, Mode: "hover", Stick: pitch.Stick{Collective: 0.5}})
		}
		got, _, _ := corrected(t, b, simulate(t, b, x, nil, points...))
		if c.want == nil && c.off == nil != got.Within {
			t.Errorf("%s: within %v", c.name, got.Within)
		}
		var steps []Step
		for _, s := range got.Steps {
			steps = append(steps, Step{Action: s.Action, What: s.What, Mode: s.Mode, Count: s.Count})
			dataAgrees(t, b, &s)
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
	t.Parallel()
	for _, name := range machines {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			correctsBuilds(t, name)
		})
	}
}

func correctsBuilds(t *testing.T, name string) {
	const builds = 20
	b := sessionOf(t, name)
	b.gauges[0].Low, b.gauges[0].High = -20*units.Degree, 20*units.Degree // so that no build is off its scale
	chance := rand.New(rand.NewPCG(1, 2))
	var covered, all, nearer, steps int
	var before, after float64
	for range builds {
		x := make([]float64, len(b.model.sd))
		for i, sd := range b.model.sd {
			x[i] = sd * chance.NormFloat64()
		}
		readings := simulate(t, b, x, chance, append(pitchPoints(), tiltPoints()...)...)
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

// The turns of pitch links that leave two blades least apart are those of a search of all.
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
	c, _, _ := corrected(t, sessionOf(t, "direct"), nil)
	if c.Within || !c.Unsure || len(c.Steps) > 0 || len(c.Before) == 0 {
		t.Errorf("within %v, unsure %v, %d steps", c.Within, c.Unsure, len(c.Steps))
	}
}

// What is foretold of the checks is what Predict says of them, and levelling the plate
// leaves the blades where the pitch links brought them.
func TestCorrectPredicts(t *testing.T) {
	b := sharp(t, rigOf(t, "direct"), DefaultTolerances())
	x := make([]float64, len(b.Parameters()))
	x[placeOf(t, b, Parameter{ServoCentre, 0})] = float64(1 * units.Degree)
	x[placeOf(t, b, Parameter{PitchLink, 1})] = 0.0003
	c, _, _ := corrected(t, b, simulate(t, b, x, nil, append(pitchPoints(), tiltPoints()...)...))
	if len(c.Steps) < 2 {
		t.Fatalf("%+v", c.Steps)
	}
	for i := range c.After {
		check := &c.After[i]
		s := Point{Blade: check.Blade, Mode: check.Mode, Stick: check.Stick}
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
	if _, err := c.Predict(Point{Mode: "none"}); err == nil {
		t.Error("a mode that is not there was taken")
	}
}

// demoWith is the direct demonstration machine, edited.
func demoWith(t testing.TB, edit func(*machine.Machine)) *setup.Rig {
	t.Helper()
	return rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), edit)
}

// dataAgrees checks a step's words, and those of its checks, against its data.
func dataAgrees(t *testing.T, b *Session, s *Step) {
	t.Helper()
	var what string
	switch s.Action {
	case MoveTooth, SubTrim:
		what = b.model.rig.Servos()[s.Index].Name + " servo"
	case TurnLink:
		what = b.Name(Parameter{ServoLink, s.Index})
	case TurnPitchLink:
		what = fmt.Sprintf("blade %d", s.Index+1)
	case Rate:
		what = []string{Collective: "collective rate", RightCyclic: "right cyclic rate", ForwardCyclic: "forward cyclic rate"}[s.Control]
	case CurvePoint:
		what = s.What
	}
	if s.What != what || (s.Action == Rate) != (s.Control != NoControl) {
		t.Errorf("%+v, want %q", s, what)
	}
	for _, c := range s.After {
		where := c.At
		if c.Mode != "" {
			where = fmt.Sprintf("mode %q, %s", c.Mode, c.At)
		}
		if c.Where != where || c.Cyclic() != strings.Contains(c.At, "cyclic, blade "+Direction(c.Bearing)) {
			t.Errorf("%+v", c)
		}
	}
}

// What is wanted does not move with the sub-trims: once they are entered in the file, the
// same build has nothing left to do.
func TestCorrectAgain(t *testing.T) {
	servos := Tolerances{ServoCentre: 2 * units.Degree}
	rig := rigOf(t, "direct")
	x := []float64{float64(2 * units.Degree), float64(-1.3 * units.Degree), float64(0.8 * units.Degree)}
	points := append(pitchPoints(), tiltPoints()...)
	b := sharp(t, rig, servos)
	first, _, _ := corrected(t, b, simulate(t, b, x, nil, points...))
	again := demoWith(t, func(m *machine.Machine) {
		for _, s := range first.Steps {
			for i := range m.Plate.Legs {
				if s.Action == SubTrim && s.Index == i {
					m.Plate.Legs[i].Servo.SubTrim = units.PulseWidth(s.To)
				}
			}
		}
		for i := range m.Modes { // what the radio has, also where there are targets
			set := rig.Modes()[i].Setting()
			m.Modes[i].Rates, m.Modes[i].Pitch = &set.Rates, &machine.Curve{Kind: set.Pitch.Kind()}
			for _, p := range set.Pitch.Points() {
				m.Modes[i].Pitch.Points = append(m.Modes[i].Pitch.Points, [2]units.Ratio{units.Ratio(p.X), units.Ratio(p.Y)})
			}
		}
	})
	b = sharp(t, again, servos)
	second, _, _ := corrected(t, b, simulate(t, b, x, nil, points...))
	if len(first.Steps) != 3 || len(second.Steps) > 0 || !second.Within {
		t.Errorf("first %+v, then within %v, %+v", first.Steps, second.Within, second.Steps)
	}
	for i := range second.Before {
		if d := second.Before[i].Wanted - first.Before[i].Wanted; math.Abs(d.Degrees()) > 1e-9 {
			t.Errorf("%s: wanted moved by %v", second.Before[i].Where, d)
		}
	}
}

// A rate stops at the radio's limit, and it is said what the build needs.
func TestCorrectRateLimit(t *testing.T) {
	limit := 78 * units.Percent
	b := sharp(t, demoWith(t, func(m *machine.Machine) { m.Radio.RateLimit = &limit }), Tolerances{ServoTravel: 5 * units.Percent})
	c, _, _ := corrected(t, b, simulate(t, b, []float64{-0.07, -0.07, -0.07}, nil, pitchPoints()...))
	var rate *RateError
	if !errors.As(c.Unmet["aerobatic"], &rate) || rate.Limit != limit || rate.What != "forward cyclic rate" || math.Abs(float64(rate.Rate)-0.80) > 1e-9 {
		t.Errorf("unmet: %v", c.Unmet)
	}
	for _, s := range c.Steps {
		if s.Action == Rate && s.To > float64(limit)+1e-9 {
			t.Errorf("beyond the limit: %s", s.Do())
		}
	}
	if len(c.Unmet) != 1 {
		t.Errorf("unmet: %v", c.Unmet)
	}
}

// Sub-trims beyond the pulse limits are not set, not even in part.
func TestCorrectPulseLimit(t *testing.T) {
	rig := demoWith(t, func(m *machine.Machine) {
		s := m.Servos["bench digital"]
		s.Min = 1100 * units.PulseMicrosecond
		m.Servos["bench digital"] = s
		m.Plate.Legs[0].Servo.SubTrim, m.Plate.Legs[0].Servo.Mount = -400*units.PulseMicrosecond, 36*units.Degree
	})
	b := sharp(t, rig, Tolerances{ServoCentre: 4 * units.Degree})
	var points []Point
	for servo := range 3 {
		points = append(points, Point{Of: ArmAngle, Servo: servo, Mode: "hover", Stick: pitch.Stick{Collective: 0.5}})
	}
	c, _, _ := corrected(t, b, simulate(t, b, []float64{float64(5 * units.Degree), float64(1 * units.Degree), 0}, nil, points...))
	for _, s := range c.Steps {
		if s.Action == SubTrim {
			t.Errorf("set: %s", s.Do())
		}
	}
}

// A point of the curve that is no target's is brought to the curve that the targets want.
func TestCorrectPoint(t *testing.T) {
	rig := demoWith(t, func(m *machine.Machine) {
		m.Modes[1].Rates = &swash.Rates{Collective: 0.52, Right: 0.755, Forward: 0.755}
		m.Modes[1].Pitch = &machine.Curve{Kind: m.Modes[1].Targets.Kind, Points: [][2]units.Ratio{{0, -1}, {0.25, -0.4}, {0.5, 0}, {1, 0.985}}}
	})
	b := sharp(t, rig, Tolerances{PitchLink: 0.3 * units.Millimetre})
	c, _, _ := corrected(t, b, simulate(t, b, []float64{0, 0}, nil, pitchPoints()...))
	var steps []string
	for _, s := range c.Steps {
		steps = append(steps, s.Do())
	}
	if want := []string{`Mode "aerobatic": set the pitch curve's point at 25 % stick from -40 % to -49.5 %.`}; !slices.Equal(steps, want) {
		t.Errorf("%q, want %q", steps, want)
	}
}

// Targets out of reach are told, also where the mode's own curve stands in.
func TestCorrectUnmet(t *testing.T) {
	rig := demoWith(t, func(m *machine.Machine) {
		m.Modes[0].Targets = &machine.Targets{Kind: m.Modes[1].Targets.Kind, Collective: m.Modes[1].Targets.Collective, Cyclic: 40 * units.Degree}
	})
	c, _, _ := corrected(t, sharp(t, rig, DefaultTolerances()), nil)
	var target *setup.TargetError
	if !errors.As(c.Unmet["hover"], &target) || len(c.Unmet) != 1 {
		t.Errorf("unmet: %v", c.Unmet)
	}
}

// What is off by less than a link or the radio mends is no matter of more readings, and is
// not stirred by steps that gain nothing.
func TestCorrectCoarse(t *testing.T) {
	rig := demoWith(t, func(m *machine.Machine) {
		m.Radio.PulseStep, m.Radio.PercentStep = 20*units.PulseMicrosecond, 5*units.Percent
	})
	b := sharp(t, rig, Tolerances{PitchLink: 0.3 * units.Millimetre})
	b.gauges[0].Step = 0.1 * units.Degree
	c, _, _ := corrected(t, b, simulate(t, b, []float64{0, 0}, nil, pitchPoints()...))
	if c.Within || c.Unsure || len(c.Steps) > 0 {
		t.Errorf("within %v, unsure %v, %+v", c.Within, c.Unsure, c.Steps)
	}
	// Both blades 0.1° high: a higher rate, and points that take it back, leave them there.
	c, _, _ = corrected(t, b, simulate(t, b, []float64{0.00003, 0.00003}, nil, pitchPoints()...))
	for _, s := range c.Steps {
		if s.Mode == "hover" {
			t.Errorf("it gains nothing to %s", s.Do())
		}
	}
}

// On a radio without steps a sub-trim is set to the microsecond.
func TestCorrectStepless(t *testing.T) {
	b := sharp(t, demoWith(t, func(m *machine.Machine) { m.Radio.PulseStep = 0 }), Tolerances{ServoCentre: 3 * units.Degree})
	c, _, _ := corrected(t, b, simulate(t, b, []float64{0, float64(3 * units.Degree), float64(-3 * units.Degree)}, nil, append(pitchPoints(), tiltPoints()...)...))
	if len(c.Steps) != 2 || c.Steps[0].Count != -33 || math.Abs(c.Steps[0].To+33e-6) > 1e-12 {
		t.Errorf("%+v", c.Steps)
	}
}

// The rig that the modes are transferred to is the fitted build, with blades alike.
func TestFittedRig(t *testing.T) {
	b := sharp(t, demoWith(t, func(m *machine.Machine) { m.Radio.PulseStep = 0 }), DefaultTolerances())
	r, err := b.Fit(nil)
	if err != nil {
		t.Fatal(err)
	}
	w, err := r.begin()
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float64, len(b.model.sd))
	for i, sd := range b.model.sd {
		x[i] = 3 * sd * math.Sin(float64(i*i))
	}
	if err := w.move(x); err != nil {
		t.Fatal(err)
	}
	rig, err := w.built()
	if err != nil {
		t.Fatal(err)
	}
	checks, err := w.checks(w.ofMode(0))
	if err != nil {
		t.Fatal(err)
	}
	const mean = 0.02 * units.Degree // horns that differ by some 1 % each: the pitch of an average blade is not quite the average pitch
	for i := 0; i < len(checks); i += 2 {
		if checks[i].Cyclic() {
			continue
		}
		row, err := rig.Modes()[0].Enter(w.settings[0]).Row(checks[i].Stick.Collective)
		if err != nil {
			t.Fatal(err)
		}
		if want := (checks[i].Pitch.Value + checks[i+1].Pitch.Value) / 2; math.Abs(float64(row.Gauge-want)) > float64(mean) {
			t.Errorf("%s: the rig gives %v, the build %v", checks[i].Where, row.Gauge, want)
		}
	}
}

// Blades that read right over the collective stick are left alone, whatever the cyclic stick
// does; those that read wrong by a gauge that may be, too, are read again first.
func TestCorrectDoubt(t *testing.T) {
	rig := rigOf(t, "direct")
	gauge := PitchGauge(rig)
	b, err := NewSession(rig, 2, DefaultTolerances(), gauge)
	if err != nil {
		t.Fatal(err)
	}
	right := simulate(t, b, make([]float64, len(b.Parameters())), nil, pitchPoints()[:6]...)
	if c, _, _ := corrected(t, b, right); !c.Within || c.Unsure || len(c.Steps) > 0 {
		t.Errorf("right: within %v, unsure %v, %+v", c.Within, c.Unsure, c.Steps)
	}
	gauge.Zero, gauge.Repeat = 2*units.Degree, 1*units.Degree
	if b, err = NewSession(rig, 2, DefaultTolerances(), gauge); err != nil {
		t.Fatal(err)
	}
	wrong := []Reading{{Point: Point{Mode: "hover", Stick: pitch.Stick{Collective: 0.5}}, Value: 6.5 * units.Degree}}
	if c, _, _ := corrected(t, b, wrong); c.Within || !c.Unsure || len(c.Steps) > 0 {
		t.Errorf("doubtful: within %v, unsure %v, %+v", c.Within, c.Unsure, c.Steps)
	}
}

// What is looked at stays the same while sub-trims change, even where the machine of the
// file would no longer reach its targets with them.
func TestCorrectSameChecks(t *testing.T) {
	reaching := func(most units.Angle) *setup.Rig {
		return demoWith(t, func(m *machine.Machine) {
			m.Modes[0].Targets = &machine.Targets{Kind: m.Modes[1].Targets.Kind, Cyclic: 1 * units.Degree, Collective: []machine.Target{
				{Stick: 0.1, Pitch: -5 * units.Degree}, {Stick: 0.9, Pitch: most},
			}}
		})
	}
	var out *setup.TargetError
	if !errors.As(reaching(60 * units.Degree).Modes()[0].Unmet(), &out) {
		t.Fatal("60° is within reach")
	}
	rig := reaching(out.Nearest - 0.05*units.Degree)
	if rig.Modes()[0].Unmet() != nil {
		t.Fatal(rig.Modes()[0].Unmet())
	}
	b := sharp(t, rig, Tolerances{ServoCentre: 5 * units.Degree})
	x := []float64{float64(-4 * units.Degree), float64(-3 * units.Degree), float64(-3 * units.Degree)}
	c, _, _ := corrected(t, b, simulate(t, b, x, nil, append(pitchPoints(), tiltPoints()...)...))
	if len(c.Steps) < 3 || len(c.Before) != len(c.After) {
		t.Fatalf("%d steps, %d checks before, %d after", len(c.Steps), len(c.Before), len(c.After))
	}
	for i := range c.Before {
		if c.Before[i].Where != c.After[i].Where {
			t.Errorf("%s became %s", c.Before[i].Where, c.After[i].Where)
		}
	}
}

func TestCorrectErrors(t *testing.T) {
	rig := rigOf(t, "direct")
	b, err := NewSession(rig, 1, DefaultTolerances(), Level(0.1*units.Degree))
	if err != nil {
		t.Fatal(err)
	}
	r, err := b.Fit(nil)
	if err != nil {
		t.Fatal(err)
	}
	var spec *units.FieldError
	if _, err := r.Correct(); !errors.As(err, &spec) || spec.Field != "gauges" {
		t.Errorf("without a pitch gauge: %v", err)
	}
}

func BenchmarkCorrect(b *testing.B) {
	session := sessionOf(b, "direct")
	x := make([]float64, len(session.model.sd))
	for i, sd := range session.model.sd {
		x[i] = sd * math.Sin(float64(i))
	}
	r, err := session.Fit(simulate(b, session, x, nil, pitchPoints()...))
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

// Sub-trims are for the servos as they are: where those turn too far for their pulses,
// less of a pulse levels the plate.
func TestTrimOfServosThatTurnTooFar(t *testing.T) {
	b := sharp(t, rigOf(t, "direct"), Tolerances{ServoCentre: 3 * units.Degree, ServoTravel: 0.1})
	x := make([]float64, len(b.Parameters()))
	for servo, off := range []units.Angle{0, 3 * units.Degree, -3 * units.Degree} {
		x[placeOf(t, b, Parameter{ServoCentre, servo})] = float64(off)
		x[placeOf(t, b, Parameter{ServoTravel, servo})] = 0.15
	}
	points := append(pitchPoints(), tiltPoints()...)
	for servo := range 3 {
		for _, stick := range []float64{0, 0.5, 1} {
			points = append(points, Point{Of: ArmAngle, Servo: servo, Mode: "hover", Stick: pitch.Stick{Collective: stick}})
		}
	}
	_, w, _ := corrected(t, b, simulate(t, b, x, nil, points...))
	right, forward, err := w.tilt()
	if err != nil {
		t.Fatal(err)
	}
	// A pulse step tilts the plate by 0.02°; 15 % of the trims would be four of them.
	if tilt := units.Angle(math.Hypot(right.value, forward.value)); tilt > 0.03*units.Degree {
		t.Errorf("the plate still tilts by %v", tilt)
	}
}

func TestStepsInWords(t *testing.T) {
	const µs = float64(units.PulseMicrosecond)
	for want, s := range map[string]Step{
		"Right cyclic, first link: lengthen by one and a half turns.":     {Action: TurnLink, What: "right cyclic, first link", Count: 3},
		"Blade 1: shorten the pitch link by half a turn.":                 {Action: TurnPitchLink, What: "blade 1", Count: -1},
		"Blade 1: shorten the pitch link by 6.5 turns.":                   {Action: TurnPitchLink, What: "blade 1", Count: -13},
		"Front servo: move the arm's ball up by one tooth of the spline.": {Action: MoveTooth, What: "front servo", Count: 1},
		"Ärm servo: move the arm's ball down by two teeth of the spline.": {Action: MoveTooth, What: "ärm servo", Count: -2},
		"Set the sub-trim of the front servo from +3 µs to 0 µs.":         {Action: SubTrim, What: "front servo", From: 3 * µs, To: -4.23516e-16 * µs},
		`Mode "hover": set the right cyclic rate from 60 % to 57.5 %.`:    {Action: Rate, What: "right cyclic rate", Mode: "hover", From: 0.6, To: 0.575},
		": lengthen by no turns.":                                         {Action: TurnLink},
	} {
		if got := s.Do(); got != want {
			t.Errorf("%+v: %q, want %q", s, got, want)
		}
	}
	if got := ServoLink.Format(-1e-9); got != "+0.00 mm" {
		t.Errorf("next to nothing is %q", got)
	}
}

func TestChanceInWords(t *testing.T) {
	for p, want := range map[float64]string{
		1e-12: "less than once in a million times", 1.01e-6: "about once in 990000 times", 1. / 1234: "about once in 1200 times", 0.05: "about once in 20 times",
	} {
		if got := (&MisfitError{P: p}).Chance(); got != want {
			t.Errorf("%g: %q, want %q", p, got, want)
		}
	}
}
