package setup_test

import (
	"errors"
	"math"
	"testing"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// with returns the setup of a setting on a machine, in the mode of a name, or else its first.
func with(r *setup.Rig, setting pitch.Setting, like setup.Setup) setup.Setup {
	m, ok := r.Mode(like.Name())
	if !ok {
		m = r.Modes()[0]
	}
	return m.Enter(setting)
}

// gauge returns what a setup's gauge reads, in degrees.
func gauge(tb interface {
	Helper()
	Fatal(...any)
}, s setup.Setup, stick float64) float64 {
	tb.Helper()
	row, err := s.Row(stick)
	if err != nil {
		tb.Fatal(err)
	}
	return row.Gauge.Degrees()
}

// Transferred to its own machine, a setup with its servos free of steps comes back:
// the same demand everywhere, by the rates and the curve it has if its curve ends at
// full demand.
func TestTransferToItself(t *testing.T) {
	const near = 1e-11 // of a demand: the solver ends at the last bits of a pitch
	files := rigtest.Files(t)
	rapid.Check(t, func(t *rapid.T) {
		s := drawSetup(t, files, "a")
		got, err := s.Transfer(s.Rig(), setup.TransferOptions{MaxPoints: curve.MaxPoints})
		if err != nil {
			t.Fatal(err)
		}
		was, is := s.Setting(), got.Exact
		for _, f := range [][2]units.Ratio{{was.Rates.Right, is.Rates.Right}, {was.Rates.Forward, is.Rates.Forward}} {
			if math.Abs(float64(f[0]-f[1])) > near {
				t.Errorf("rates %+v came back as %+v", was.Rates, is.Rates)
			}
		}
		points := was.Pitch.Points()
		if is.Expo != was.Expo || is.Pitch.Kind() != was.Pitch.Kind() || len(is.Pitch.Points()) != len(points) || got.Enough != len(points) {
			t.Errorf("%+v came back as %+v, %d points enough", was, is, got.Enough)
		}
		for i := range 101 {
			stick := float64(i) / 100
			if a, b := was.Pitch.At(stick)*float64(was.Rates.Collective), is.Pitch.At(stick)*float64(is.Rates.Collective); math.Abs(a-b) > near {
				t.Errorf("stick %v: demand %v came back as %v", stick, a, b)
			}
		}
		var most float64
		for _, p := range is.Pitch.Points() {
			most = math.Max(most, math.Abs(p.Y))
		}
		if least := leastSteps(is, s.Rig()); most > 1 || is.Pitch.Kind() == curve.Polyline && stepsOf(is, s.Rig()) > least+math.Min(10, least/10) {
			t.Errorf("rate %v for a curve up to %v", is.Rates.Collective, most)
		}
		if math.Abs(got.Worst.Pitch.Degrees()) > rigtest.TidyDegrees {
			t.Errorf("worst %+v", got.Worst)
		}
		for _, l := range got.Phases {
			if l.Change != 0 && math.Abs(l.Change.Degrees()) > rigtest.TidyDegrees {
				t.Errorf("%+v", l)
			}
		}
		for _, f := range sheet.OfTransfer(got).Findings {
			t.Errorf("%+v", f)
		}
	})
	// Full demand at the ends: the very rates and points.
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"spatial.json"), rigtest.Hover)
	got := rigtest.Transfer(t, r.Modes()[0], r, setup.TransferOptions{})
	if rates := *r.Modes()[0].Mode().Rates; math.Abs(float64(got.Enter.Rates.Collective-rates.Collective)) > near ||
		math.Abs(float64(got.Enter.Rates.Right-rates.Right)) > near || math.Abs(float64(got.Enter.Rates.Forward-rates.Forward)) > near {
		t.Errorf("rates %+v, want %+v", got.Enter.Rates, rates)
	}
	for i, p := range r.Modes()[0].Mode().Pitch.Points {
		if q := got.Enter.Points[i]; math.Abs(float64(q[1]-p[1])) > near || q[0] != p[0] {
			t.Errorf("point %v came back as %v", p, q)
		}
	}
}

// Transferred from any machine to any other and compared, the blades do not differ
// at the points: on servos without steps to within what the package promises.
func TestTransferThenCompare(t *testing.T) {
	files := rigtest.Files(t)
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSetup(t, files, "a"), drawSetup(t, files, "b")
		a, b = smooth(t, a), smooth(t, b)
		checkTransfer(t, a, b.Rig())
	})
}

// smooth returns the same setup with servos without steps.
func smooth(t *rapid.T, s setup.Setup) setup.Setup {
	m := s.Rig().Machine()
	rigtest.Stepless(m)
	r, err := setup.Build(m)
	if err != nil {
		t.Fatal(err)
	}
	return r.Modes()[0]
}

// The same, of all flight modes, with each machine of the five once on each side.
func TestTransferAmongMachines(t *testing.T) {
	rigs := rigtest.Rigs(t, rigtest.Stepless)
	for _, a := range rigs {
		for i := range a.Modes() {
			for _, b := range rigs {
				checkTransfer(t, a.Modes()[i], b)
			}
		}
	}
}

// checkTransfer carries a setup over between machines without steps, and reads
// both blades.
func checkTransfer(t interface {
	Helper()
	Errorf(string, ...any)
	Fatal(...any)
}, from setup.Setup, to *setup.Rig) {
	t.Helper()
	got, err := from.Transfer(to, setup.TransferOptions{})
	if err != nil {
		if errors.As(err, new(*setup.TargetError)) {
			return // out of reach: other tests look at that
		}
		t.Fatal(err)
	}
	carried := with(to, got.Exact, from)
	for _, p := range from.Setting().Pitch.Points() {
		if off := gauge(t, carried, p.X) - gauge(t, from, p.X); math.Abs(off) > rigtest.ExactDegrees {
			t.Errorf("%s to %s, stick %v: off by %g°", got.From, got.To, p.X, off)
		}
	}
	c, err := setup.Compare(from, carried)
	if err != nil {
		t.Fatal(err)
	}
	if *c.Largest != got.Worst && math.Abs((c.Largest.Pitch-got.Worst.Pitch).Degrees()) > rigtest.TidyDegrees {
		t.Errorf("%s to %s: largest %+v, told %+v", got.From, got.To, c.Largest, got.Worst)
	}
	for i, full := range []setup.ComparedCyclic{c.Cyclic[0], c.Cyclic[2]} {
		if off := full.Difference.Pitch.Degrees(); math.Abs(off) > rigtest.TidyDegrees {
			t.Errorf("%s to %s: cyclic %s off by %g°", got.From, got.To, full.Stick, off)
		}
		if off := (full.Difference.PhaseAngle - got.Phases[i].Change).Degrees(); full.A.Pitch != 0 && math.Abs(off) > rigtest.TidyDegrees {
			t.Errorf("%s to %s: lead %s changes by %v, told %+v", got.From, got.To, full.Stick, full.Difference.PhaseAngle, got.Phases[i])
		}
	}
	// Entered in the radio's steps, it can be pasted into the machine file, and
	// the worst is as told.
	m := to.Machine()
	m.Modes = []machine.Mode{got.Mode}
	pasted, err := setup.Build(m)
	if err != nil {
		t.Fatal(err)
	}
	if c, err = setup.Compare(from, pasted.Modes()[0]); err != nil {
		t.Fatal(err)
	}
	if math.Abs((c.Largest.Pitch - got.WorstEntered.Pitch).Degrees()) > rigtest.TidyDegrees {
		t.Errorf("%s to %s: entered, largest %+v, told %+v", got.From, got.To, c.Largest, got.WorstEntered)
	}
	for _, row := range c.Rows {
		if row.Throttle != 0 {
			t.Errorf("throttle differs by %v at %v", row.Throttle, row.Stick)
		}
		for _, reading := range got.Readings {
			if row.Stick == reading.Target.Stick && math.Abs((row.B.Gauge-reading.Entered).Degrees()) > rigtest.TidyDegrees {
				t.Errorf("%s to %s, stick %v: gauge %v, told %v", got.From, got.To, row.Stick, row.B.Gauge, reading.Entered)
			}
		}
	}
}

// An independent solver, plain bisection over the machine's own readings, finds the
// same demands and the same rates.
func TestTransferAgainstBisection(t *testing.T) {
	const near = 1e-10 // of a demand
	rigs := rigtest.Rigs(t, rigtest.Stepless)
	for _, names := range [][2]string{{"direct", "flybar"}, {"flybar", "spatial"}, {"spatial", "bellcranks"}, {"bellcranks", "fourservos"}, {"fourservos", "direct"}} {
		a, b := rigs[names[0]+".json"], rigs[names[1]+".json"]
		from := a.Modes()[1]
		got := rigtest.Transfer(t, from, b, setup.TransferOptions{Extra: []units.Ratio{0.3, 0.8}})
		line, err := curve.New(curve.Polyline, []curve.Point{{X: 0, Y: -1}, {X: 1, Y: 1}})
		if err != nil {
			t.Fatal(err)
		}
		bare := with(b, pitch.Setting{Pitch: line, Rates: swash.Rates{Collective: 0.6}}, from)
		points := got.Exact.Pitch.Points()
		if len(points) != 5 {
			t.Fatalf("%v", points)
		}
		for _, p := range points {
			want := gauge(t, from, p.X)
			stick := bisect(func(x float64) bool { return gauge(t, bare, x) > want })
			demand := (2*stick - 1) * 0.6
			if off := p.Y*float64(got.Exact.Rates.Collective) - demand; math.Abs(off) > near {
				t.Errorf("%v, stick %v: demand off by %g from bisection's %v", names, p.X, off, demand)
			}
		}
		for _, full := range []pitch.Stick{{Collective: 0.5, Right: 1}, {Collective: 0.5, Forward: 1}} {
			added := func(r *setup.Rig, setting pitch.Setting) units.Angle {
				m := with(r, setting, from)
				c, centre := rigtest.Cyclic(t, r, m, full), rigtest.Cyclic(t, r, m, pitch.Stick{Collective: 0.5})
				return units.Angle(math.Hypot(float64(c.Sine-centre.Sine), float64(c.Cosine-centre.Cosine)))
			}
			want := added(a, from.Setting())
			rate := bisect(func(x float64) bool {
				setting := got.Exact
				setting.Rates.Right, setting.Rates.Forward = units.Ratio(x), units.Ratio(x)
				return added(b, setting) > want
			})
			told := got.Exact.Rates.Right
			if full.Forward != 0 {
				told = got.Exact.Rates.Forward
			}
			if math.Abs(float64(told)-rate) > near {
				t.Errorf("%v, %+v: rate %v, by bisection %v", names, full, told, rate)
			}
		}
	}
}

// bisect returns where in 0 to 1 above begins to hold.
func bisect(above func(float64) bool) float64 {
	lo, hi := 0., 1.
	for range 60 {
		if mid := (lo + hi) / 2; above(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return (lo + hi) / 2
}

// More points bring the blades together between the points: as many as are said to
// be enough do, and one less does not.
func TestTransferWithMorePoints(t *testing.T) {
	rigs := rigtest.Rigs(t, func(m *machine.Machine) { rigtest.Stepless(m); rigtest.Straight(m); m.Gauge.Step = 0.01 * units.Degree })
	const half = 0.005 // degree
	a, b := rigs["bellcranks.json"], rigs["flybar.json"]
	from := a.Modes()[0]
	own := rigtest.Transfer(t, from, b, setup.TransferOptions{})
	if own.Enough < 5 || len(own.Exact.Pitch.Points()) != 3 || math.Abs(own.Worst.Pitch.Degrees()) < half {
		t.Fatalf("%d enough, worst %+v", own.Enough, own.Worst)
	}
	const what = sheet.CurveDiffers
	found := func(of *setup.Transfer) *sheet.Finding {
		findings := sheet.OfTransfer(of).Findings
		for i := range findings {
			if findings[i].Kind == what {
				return &findings[i]
			}
		}
		return nil
	}
	f, all := found(own), sheet.OfTransfer(own).Findings
	if f == nil || f.Severity != sheet.Note {
		t.Errorf("%+v", all)
	}
	if all[len(all)-1].Severity != sheet.Note || all[0].Severity != sheet.Fix {
		t.Errorf("the gravest does not come first: %+v", all)
	}
	last := own
	for most := range curve.MaxPoints + 3 {
		got := rigtest.Transfer(t, from, b, setup.TransferOptions{MaxPoints: most})
		n := len(got.Exact.Pitch.Points())
		if n > max(most, 3) || got.Enough != own.Enough || math.Abs(float64(got.Worst.Pitch)) > math.Abs(float64(last.Worst.Pitch)) {
			t.Errorf("up to %d: %d points, %d enough, worst %+v after %+v", most, n, got.Enough, got.Worst, last.Worst)
		}
		if near := math.Abs(got.Worst.Pitch.Degrees()) <= half; near != (most >= own.Enough) || near != (found(got) == nil) {
			t.Errorf("up to %d: worst %+v with %d enough: %+v", most, got.Worst, got.Enough, sheet.OfTransfer(got).Findings)
		}
		c := compare(t, from, with(b, got.Exact, from))
		if math.Abs((c.Largest.Pitch - got.Worst.Pitch).Degrees()) > rigtest.TidyDegrees {
			t.Errorf("up to %d: worst %+v, compared %+v", most, got.Worst, c.Largest)
		}
		last = got
	}
	// No number of points is enough for a gauge that shows everything.
	fine := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"flybar.json"), func(m *machine.Machine) { rigtest.Stepless(m); rigtest.Straight(m); m.Gauge.Step = 0 })
	got := rigtest.Transfer(t, from, fine, setup.TransferOptions{MaxPoints: 100})
	if got.Enough != 0 || len(got.Exact.Pitch.Points()) != curve.MaxPoints {
		t.Errorf("%d enough, %d points", got.Enough, len(got.Exact.Pitch.Points()))
	}
}

// With the radios' pulse steps, the worst of the entered values is what the gauge
// reads on servos with steps, against the machine carried from without.
func TestTransferEnteredReadings(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	plain := rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Hover(m); rigtest.Stepless(m) })
	stepped := rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Hover(m); m.Radio.PulseStep = 8 * units.PulseMicrosecond })
	to := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"flybar.json"), func(m *machine.Machine) { rigtest.Hover(m); m.Radio.PulseStep = 5 * units.PulseMicrosecond })
	got := rigtest.Transfer(t, stepped.Modes()[0], to, setup.TransferOptions{})
	from, entered := plain.Modes()[0], with(to, got.Entered, plain.Modes()[0])
	var worst float64
	for i := range 101 {
		stick := float64(i) / 100
		worst = math.Max(worst, math.Abs(gauge(t, entered, stick)-gauge(t, from, stick)))
	}
	if math.Abs(math.Abs(got.WorstEntered.Pitch.Degrees())-worst) > rigtest.TidyDegrees || worst < 2*math.Abs(got.Worst.Pitch.Degrees()) {
		t.Errorf("worst entered %+v, exact %+v; want %v°", got.WorstEntered, got.Worst, worst)
	}
	for _, r := range got.Readings {
		stick := float64(r.Target.Stick)
		if math.Abs(r.Target.Pitch.Degrees()-gauge(t, from, stick)) > rigtest.TidyDegrees || math.Abs(r.Entered.Degrees()-gauge(t, entered, stick)) > rigtest.TidyDegrees {
			t.Errorf("%+v", r)
		}
	}
}

// The rest of the flight mode is transferred as it is.
func TestTransferCarriesTheRest(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		m.Modes[2].ThrottleHold, m.Modes[2].Expo = 0.05, 0.3
		m.Modes[2].Throttle.Points[1][1] = 0.4
	})
	to := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"spatial.json"), rigtest.Hover)
	got := rigtest.Transfer(t, r.Modes()[2], to, setup.TransferOptions{}).Mode
	was := r.Machine().Modes[2]
	if got.Name != was.Name || got.ThrottleHold != 0.05 || !got.Held || got.Expo != 0.3 ||
		got.Pitch.Kind != was.Targets.Kind || got.Targets != nil || !cmp.Equal(got.Throttle, was.Throttle) {
		t.Errorf("%+v from %+v", got, was)
	}
}

// Extra points are exact, and those already there are not taken twice.
func TestTransferExtraPoints(t *testing.T) {
	rigs := rigtest.Rigs(t, func(m *machine.Machine) { rigtest.Stepless(m); rigtest.Hover(m) })
	a, b := rigs["direct.json"], rigs["bellcranks.json"]
	from := a.Modes()[0]
	extra := []units.Ratio{0.77, 0.5, 0.21, 1, 0.77}
	got := rigtest.Transfer(t, from, b, setup.TransferOptions{Extra: extra})
	want := []float64{0, 0.21, 0.5, 0.77, 1}
	points := got.Exact.Pitch.Points()
	if len(points) != len(want) {
		t.Fatalf("%v", points)
	}
	carried := with(b, got.Exact, from)
	for i, p := range points {
		if p.X != want[i] || float64(got.Readings[i].Target.Stick) != p.X || math.Abs(gauge(t, carried, p.X)-gauge(t, from, p.X)) > rigtest.ExactDegrees {
			t.Errorf("%v: %+v", p, got.Readings[i])
		}
	}
	if extra[0] != 0.77 || extra[2] != 0.21 {
		t.Errorf("the caller's options were changed: %v", extra)
	}
}

// A function that the setup turns round stays turned round.
func TestTransferKeepsReversedFunctions(t *testing.T) {
	a := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		rigtest.Straight(m)
		m.Modes[0].Rates = &swash.Rates{Collective: -0.4, Right: -0.5, Forward: 0.6}
	})
	b := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"spatial.json"), func(m *machine.Machine) { rigtest.Straight(m); m.Head.Phase = a.Machine().Head.Phase })
	got := rigtest.Transfer(t, a.Modes()[0], b, setup.TransferOptions{})
	if r := got.Enter.Rates; r.Right >= 0 || r.Forward <= 0 || got.Enter.Points[0][1] <= 0 || math.Abs(got.Phases[0].Change.Degrees()) > 1 {
		t.Errorf("%+v, %+v", got.Enter, got.Phases)
	}
	for _, c := range got.Cyclic {
		if c.Wanted <= 0 || math.Abs((c.Exact-c.Wanted).Degrees()) > rigtest.ExactDegrees {
			t.Errorf("%+v", c)
		}
	}
	// A horn on the trailing side, with a ring phase that suits it, has its
	// collective turned and its cyclic not.
	trailing := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		rigtest.Straight(m)
		m.Head.Horn, m.Head.Phase, m.Head.RingDriver = pitch.Trailing, -80*units.Degree, -80*units.Degree
	})
	plain := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) { rigtest.Straight(m); m.Head.RingDriver = 80 * units.Degree })
	got = rigtest.Transfer(t, plain.Modes()[0], trailing, setup.TransferOptions{})
	if got.Enter.Points[0][1] <= 0 || got.Enter.Points[2][1] >= 0 || got.Enter.Rates.Right <= 0 {
		t.Errorf("%+v", got.Enter)
	}
	for _, l := range got.Phases {
		if math.Abs(l.Change.Degrees()-20) > 0.1 {
			t.Errorf("%+v", l)
		}
	}
}

// What a machine does not reach is told by the point, what it wants and the nearest.
func TestTransferOutOfReach(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	a := rigtest.Rig(t, data, rigtest.Straight)
	from := a.Modes()[0]
	short := rigtest.Rig(t, data, func(m *machine.Machine) {
		rigtest.Straight(m)
		rigtest.Stepless(m)
		kind := m.Servos["bench digital"]
		kind.Max = 1620 * units.PulseMicrosecond // the two rising on longer pulses end at a quarter of their throw
		m.Servos["bench digital"] = kind
	})
	_, err := from.Transfer(short, setup.TransferOptions{})
	var target *setup.TargetError
	var mode *setup.ModeError
	if !errors.As(err, &target) || !errors.As(err, &mode) || mode.Mode != "hover" {
		t.Fatal(err)
	}
	// Down the left servo's pulse grows too, so the first point is already beyond.
	want := gauge(t, from, 0)
	limit := short.Modes()[0].Setting()
	limit.Rates.Collective = 0.25
	nearest := gauge(t, with(short, limit, from), 0)
	var clip *servo.RangeError
	if target.What != "pitch at stick 0 %" || math.Abs(target.Wanted.Degrees()-want) > rigtest.ExactDegrees ||
		math.Abs(target.Nearest.Degrees()-nearest) > rigtest.ExactDegrees || target.Cause != "left rear servo at its pulse limit" || !errors.As(err, &clip) {
		t.Errorf("%v; want %v°, nearest %v°", err, want, nearest)
	}
	// Cyclic.
	far := rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Straight(m); m.Head.HornRadius = 40 * units.Millimetre })
	small := rigtest.Rig(t, data, func(m *machine.Machine) {
		rigtest.Straight(m)
		m.Modes[0].Rates = &swash.Rates{Collective: 0.1, Right: 0.95, Forward: 0.2}
	})
	_, err = small.Modes()[0].Transfer(far, setup.TransferOptions{})
	if !errors.As(err, &target) || target.What != "cyclic pitch at full right" || target.Nearest >= target.Wanted {
		t.Error(err)
	}
}

// A smooth curve that runs beyond its points may be out of reach there alone: the
// first position on the stick is told, be it the middle, where cyclic is looked at, or not.
func TestTransferOutOfReachBetweenPoints(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	for at, points := range map[string][][2]units.Ratio{
		"50 %": {{0, -0.8}, {0.4, 0.6}, {0.6, 0.6}, {1, -0.8}},
		"68 %": {{0, -0.8}, {0.5, 0.2}, {0.66, 0.6}, {0.8, 0.6}, {1, -0.6}},
	} {
		a := rigtest.Rig(t, data, func(m *machine.Machine) {
			rigtest.Hover(m)
			m.Modes[0].Rates = &swash.Rates{Collective: 1, Right: 0.1, Forward: 0.1}
			m.Modes[0].Pitch = &machine.Curve{Kind: curve.Natural, Points: points}
		})
		from := a.Modes()[0]
		b := rigtest.Rig(t, data, func(m *machine.Machine) {
			rigtest.Hover(m)
			kind := m.Servos["bench digital"]
			kind.Max = kind.Neutral + 250*units.PulseMicrosecond // 0.625 of the throw
			m.Servos["bench digital"] = kind
			for i := range m.Plate.Legs { // all rise on longer pulses, so that only up is limited
				m.Plate.Legs[i].Servo.Raises, m.Plate.Legs[i].Servo.Reverse = machine.LongerPulses, false
			}
		})
		_, err := from.Transfer(b, setup.TransferOptions{MaxPoints: curve.MaxPoints})
		var target *setup.TargetError
		var mode *setup.ModeError
		if !errors.As(err, &target) || !errors.As(err, &mode) {
			t.Fatal(at, err)
		}
		if mode.Where != "stick "+at+" on "+b.Name() || target.What != "pitch at stick "+at || target.Nearest >= target.Wanted {
			t.Errorf("%v; want stick %v", err, at)
		}
	}
}

// A setup that clips a servo has nothing to transfer, and says where.
func TestTransferOfAClippedSetup(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	to := rigtest.Rig(t, data, rigtest.Straight)
	for where, rates := range map[string]swash.Rates{
		"stick 0 %":  {Collective: 2, Right: 0.5, Forward: 0.5},
		"full right": {Collective: 0.4, Right: 2, Forward: 0.5},
	} {
		a := rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Straight(m); m.Modes[0].Rates = &rates })
		_, err := a.Modes()[0].Transfer(to, setup.TransferOptions{})
		var mode *setup.ModeError
		var leg *swash.LegError
		if !errors.As(err, &mode) || mode.Where != where+" on "+a.Name() || !errors.As(err, &leg) || errors.As(err, new(*setup.TargetError)) {
			t.Errorf("%s: %v", where, err)
		}
	}
}

// Options that make no sense are refused with the amount.
func TestTransferRefuses(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Hover)
	from := r.Modes()[0]
	var mode *setup.ModeError
	for _, bad := range []float64{-0.1, 1.1, math.NaN(), math.Inf(1)} {
		var out *curve.RangeError
		_, err := from.Transfer(r, setup.TransferOptions{Extra: []units.Ratio{0.2, units.Ratio(bad)}})
		if !errors.As(err, &out) || !errors.As(err, &mode) || mode.Where != "extra point 2" {
			t.Errorf("%v: %v", bad, err)
		}
	}
	var many []units.Ratio
	for i := range 20 {
		many = append(many, units.Ratio(i)/20)
	}
	var points *units.FieldError
	if _, err := from.Transfer(r, setup.TransferOptions{Extra: many}); !errors.As(err, &points) || !errors.As(err, &mode) {
		t.Error(err)
	}
	if _, err := from.Transfer(nil, setup.TransferOptions{}); !errors.As(err, &mode) {
		t.Error(err)
	}
	setting := from.Setting()
	setting.Rates.Right = units.Ratio(math.NaN())
	wild := with(r, setting, from)
	var number *units.FieldError
	if _, err := wild.Transfer(r, setup.TransferOptions{}); !errors.As(err, &number) || !errors.As(err, &mode) {
		t.Error(err)
	}
}

func BenchmarkTransfer(b *testing.B) {
	rigs := rigtest.Rigs(b, rigtest.Hover)
	from := rigs["direct.json"].Modes()[0]
	b.ReportAllocs()
	for b.Loop() {
		if _, err := from.Transfer(rigs["bellcranks.json"], setup.TransferOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
