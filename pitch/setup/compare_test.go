package setup_test

import (
	"encoding/json"
	"errors"
	"math"
	"testing"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func compare(tb testing.TB, a, b setup.Setup) *setup.Comparison {
	tb.Helper()
	c, err := setup.Compare(a, b)
	if err != nil {
		tb.Fatal(err)
	}
	return c
}

// drawCurve draws a pitch curve that keeps within its range.
func drawCurve(t *rapid.T, label string) machine.Curve {
	c := machine.Curve{Kind: rapid.SampledFrom([]curve.Kind{curve.Polyline, curve.Monotone, curve.Akima, curve.Natural, curve.NotAKnot}).Draw(t, label+" kind")}
	n := rapid.IntRange(4, 6).Draw(t, label+" points")
	start := rapid.SampledFrom([]float64{0, 0.05}).Draw(t, label+" start")
	for i := range n {
		c.Points = append(c.Points, [2]units.Ratio{
			units.Ratio(start + (1-start)*float64(i)/float64(n-1)),
			units.Ratio(rapid.IntRange(-80, 80).Draw(t, label+" value")) * units.Percent,
		})
	}
	return c
}

// drawSetup draws a demonstration machine with its head changed a little, and its
// first mode's settings by chance.
func drawSetup(t *rapid.T, files map[string][]byte, label string) setup.Setup {
	names := []string{"bellcranks.json", "direct.json", "fourservos.json", "flybar.json", "spatial.json"}
	m, err := machine.Parse(files[rapid.SampledFrom(names).Draw(t, label)])
	if err != nil {
		t.Fatal(err)
	}
	m.Radio.PulseStep = units.PulseWidth(rapid.SampledFrom([]float64{0, 1}).Draw(t, label+" step")) * units.PulseMicrosecond
	m.Head.HornRadius = units.Length(rapid.Float64Range(18, 23).Draw(t, label+" horn")) * units.Millimetre
	m.Head.Phase = units.Angle(rapid.Float64Range(60, 100).Draw(t, label+" phase")) * units.Degree
	m.Gauge.Bearing = units.Angle(rapid.Float64Range(0, 360).Draw(t, label+" bearing")) * units.Degree
	m.Gauge.Step = units.Angle(rapid.SampledFrom([]float64{0, 0.05, 0.1, 0.5}).Draw(t, label+" gauge")) * units.Degree
	pitchCurve := drawCurve(t, label)
	percent := func(what string, low, high int) units.Ratio {
		return units.Ratio(rapid.IntRange(low, high).Draw(t, label+what)) * units.Percent
	}
	m.Modes = m.Modes[:1]
	m.Modes[0].Pitch = &pitchCurve
	m.Modes[0].Rates = &swash.Rates{Collective: percent(" collective", 10, 35), Right: percent(" right", -50, 50), Forward: percent(" forward", 0, 50)}
	m.Modes[0].Expo = percent(" expo", 0, 40)
	r, err := setup.Build(m)
	if err != nil {
		t.Skip(err) // a smooth curve that runs out of its range
	}
	return r.Modes()[0]
}

// A setup does not differ from itself.
func TestCompareWithItself(t *testing.T) {
	for name, r := range rigtest.Rigs(t, func(*machine.Machine) {}) {
		for i := range r.Modes() {
			s := r.Modes()[i]
			c := compare(t, s, s)
			if diff := cmp.Diff(c.A, c.B); diff != "" || c.A.Machine != r.Name() || c.A.Mode != r.Modes()[i].Name() {
				t.Errorf("%s: %+v, %s", name, c.A, diff)
			}
			if len(c.Rows) < 101 || c.Largest == nil || c.Largest.Pitch != 0 || !c.GaugeAlike {
				t.Errorf("%s: %d rows, largest %+v, alike %v", name, len(c.Rows), c.Largest, c.GaugeAlike)
			}
			for _, row := range c.Rows {
				if row.Pitch == nil || *row.Pitch != 0 || row.Throttle != 0 || row.A.Slope == nil || *row.A.Slope != *row.B.Slope {
					t.Errorf("%s: %+v", name, row)
				}
			}
			if len(c.Cyclic) != 4 {
				t.Errorf("%s: %+v", name, c.Cyclic)
			}
			for _, full := range c.Cyclic {
				if full.Difference == nil || *full.Difference != (setup.CyclicDifference{}) || full.A.Pitch == 0 {
					t.Errorf("%s: %+v", name, full)
				}
			}
			if _, err := json.Marshal(c); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

// Turned round, a comparison has every difference with the other sign.
func TestCompareTurnedRound(t *testing.T) {
	files := rigtest.Files(t)
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSetup(t, files, "a"), drawSetup(t, files, "b")
		one, err := setup.Compare(a, b)
		if err != nil {
			t.Fatal(err)
		}
		other, err := setup.Compare(b, a)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([]setup.ComparedSetup{one.A, one.B}, []setup.ComparedSetup{other.B, other.A}); diff != "" {
			t.Error(diff)
		}
		if one.GaugeAlike != other.GaugeAlike || one.Resolution != other.Resolution ||
			one.Largest.Stick != other.Largest.Stick || one.Largest.Pitch != -other.Largest.Pitch || len(one.Rows) != len(other.Rows) {
			t.Errorf("%+v and %+v", one, other)
		}
		for i, row := range one.Rows {
			back := other.Rows[i]
			if row.Stick != back.Stick || *row.Pitch != -*back.Pitch || row.Throttle != -back.Throttle || *row.A.Slope != *back.B.Slope {
				t.Errorf("%+v and %+v", row, back)
			}
		}
		for i, full := range one.Cyclic {
			d, back := full.Difference, other.Cyclic[i].Difference
			if d.Pitch != -back.Pitch || d.PhaseAngle != -back.PhaseAngle || d.Apart != back.Apart {
				t.Errorf("%+v and %+v", full, other.Cyclic[i])
			}
		}
	})
}

// A comparison's readings are Row's, its largest difference is the largest of its
// rows, its slopes are those of small steps of the stick, and zero pitch is zero.
func TestCompareAgainstRows(t *testing.T) {
	const (
		step = 1e-6 // of the stick
		near = 1e-4 // of a slope, for the curvature over that step
	)
	files := rigtest.Files(t)
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSetup(t, files, "a"), drawSetup(t, files, "b")
		c, err := setup.Compare(a, b)
		if err != nil {
			t.Fatal(err)
		}
		gauge := func(s setup.Setup, stick float64) float64 {
			row, err := s.Row(stick)
			if err != nil {
				t.Fatal(err)
			}
			return row.Gauge.Degrees()
		}
		// A row's stick is rounded, and where a pulse stands half-way between two
		// steps the last bit turns it: some 0.1° at the blades of these machines.
		tolerance, stepped := rigtest.TidyDegrees, a.Rig().Radio().PulseStep+b.Rig().Radio().PulseStep != 0
		if stepped {
			tolerance = 0.2
		}
		var largest float64
		alike := true
		for _, row := range c.Rows {
			stick := float64(row.Stick)
			want := gauge(b, stick) - gauge(a, stick)
			if off := row.Pitch.Degrees() - want; math.Abs(off) > tolerance {
				t.Errorf("stick %v: %v, want %v", row.Stick, row.Pitch, want)
			}
			largest = math.Max(largest, math.Abs(want))
			alike = alike && math.Abs(want) < math.Max(c.Resolution.Degrees(), 1e-7)
			i := math.Round(100 * stick)
			if a.Rig().Radio().PulseStep != 0 || math.Abs(100*stick-i) > 1e-9 || stick == 0 || stick == 1 || a.Setting().Pitch.Kind() == curve.Polyline {
				continue
			}
			if lo, hi := a.Setting().Pitch.Domain(); stick <= lo+step || stick >= hi-step {
				continue
			}
			slope := (gauge(a, stick+step) - gauge(a, stick-step)) / (2 * step) / 100
			if off := row.A.Slope.Degrees() - slope; math.Abs(off) > near*math.Max(math.Abs(slope), 0.1) {
				t.Errorf("stick %v: slope %v, by steps %v", row.Stick, row.A.Slope, slope)
			}
		}
		if math.Abs(math.Abs(c.Largest.Pitch.Degrees())-largest) > tolerance || !stepped && c.GaugeAlike != alike {
			t.Errorf("largest %+v, want %v; alike %v, want %v", c.Largest, largest, c.GaugeAlike, alike)
		}
		for s, zeros := range map[setup.Setup][]units.Ratio{a: c.A.ZeroPitch, b: c.B.ZeroPitch} {
			for _, zero := range zeros {
				if off := gauge(s, float64(zero)); math.Abs(off) > 2*tolerance {
					t.Errorf("zero pitch at %v reads %v°", zero, off)
				}
			}
		}
	})
}

// What a full stick adds is read off the blade all the way round: nowhere do the
// two differ by more than the difference's Apart, and at the best bearing by it.
func TestCompareCyclicAgainstTheBlade(t *testing.T) {
	rigs := rigtest.Rigs(t, rigtest.Stepless)
	a := rigs["direct.json"].Modes()[0]
	b := rigs["spatial.json"].Modes()[1]
	c := compare(t, a, b)
	for i, stick := range []pitch.Stick{{Right: 1}, {Right: -1}, {Forward: 1}, {Forward: -1}} {
		stick.Collective = 0.5
		with, without := [2]pitch.Cyclic{}, [2]pitch.Cyclic{}
		for k, s := range []setup.Setup{a, b} {
			with[k] = rigtest.Cyclic(t, s.Rig(), s, stick)
			without[k] = rigtest.Cyclic(t, s.Rig(), s, pitch.Stick{Collective: 0.5})
		}
		var apart float64
		for bearing := range 3600 {
			at := units.Angle(bearing) / 10 * units.Degree
			var added [2]units.Angle
			for k := range added {
				added[k] = with[k].At(at) - with[k].Collective - without[k].At(at) + without[k].Collective
			}
			apart = math.Max(apart, math.Abs((added[1] - added[0]).Degrees()))
		}
		const coarse = 1e-5 // for bearings 0.1° apart
		if got := c.Cyclic[i].Difference.Apart.Degrees(); math.Abs(got-apart) > coarse || apart < 0.1 {
			t.Errorf("%s: apart %v°, round the blade %v°", c.Cyclic[i].Stick, got, apart)
		}
	}
}

// uneven makes the direct machine's left and right differ.
func uneven(m *machine.Machine) {
	rigtest.Stepless(m)
	rigtest.Hover(m)
	m.Gauge.Bearing = 150 * units.Degree
	m.Plate.Legs[1].Upright.Bearing = 110 * units.Degree
	m.Plate.Legs[2].Upright.Arm = 13 * units.Millimetre
}

// A mirrored machine reads the same on the gauge, leads the same, and does to the
// right what the machine does to the left.
func TestCompareMirrored(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	a := rigtest.Rig(t, data, uneven)
	b := rigtest.Rig(t, data, func(m *machine.Machine) { uneven(m); rigtest.Mirrored(m) })
	c := compare(t, a.Modes()[0], b.Modes()[0])
	if math.Abs(c.Largest.Pitch.Degrees()) > rigtest.ExactDegrees || !c.GaugeAlike || c.A.Rotation == c.B.Rotation {
		t.Errorf("%+v, alike %v, turns %v and %v", c.Largest, c.GaugeAlike, c.A.Rotation, c.B.Rotation)
	}
	right, left := c.Cyclic[0], c.Cyclic[1]
	if math.Abs((right.A.Pitch - left.A.Pitch).Degrees()) < 0.01 {
		t.Fatalf("right and left are alike: %+v, %+v", right, left)
	}
	for _, pair := range [][2]setup.AddedCyclic{
		{right.A, left.B}, {left.A, right.B}, {c.Cyclic[2].A, c.Cyclic[2].B}, {c.Cyclic[3].A, c.Cyclic[3].B},
	} {
		a, b := pair[0], pair[1]
		turned := math.Abs(math.Mod((a.Phase + b.Phase).Degrees(), 360))
		if math.Abs((a.Pitch-b.Pitch).Degrees()) > rigtest.TidyDegrees || math.Abs((a.PhaseAngle-b.PhaseAngle).Degrees()) > rigtest.TidyDegrees ||
			math.Min(turned, 360-turned) > 2*rigtest.TidyDegrees {
			t.Errorf("%+v and %+v", a, b)
		}
	}
}

// On an even machine whose ring is driven at its balls, and so keeps them in their own
// vertical planes, the lead is the ring's phase. A driver elsewhere turns the ring a
// little on the plate as that tilts.
func TestLeadIsThePhase(t *testing.T) {
	for _, phase := range []units.Angle{60 * units.Degree, 80 * units.Degree, 90 * units.Degree} {
		r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"), func(m *machine.Machine) { rigtest.Straight(m); m.Head.Phase, m.Head.RingDriver = phase, phase })
		s := r.Modes()[0]
		for _, full := range compare(t, s, s).Cyclic {
			if math.Abs((full.A.PhaseAngle - phase).Degrees()) > rigtest.TidyDegrees {
				t.Errorf("%s: lead %v, phase %v", full.Stick, full.A.PhaseAngle, phase)
			}
		}
	}
}

// Two settings of one machine whose readings differ by less than the coarser gauge
// step are alike on the gauge, and else not.
func TestGaugeAlike(t *testing.T) {
	with := func(rate units.Ratio, step units.Angle) *setup.Rig {
		return rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Hover(m)
			m.Gauge.Step = step
			m.Modes[0].Rates = &swash.Rates{Collective: rate, Right: 0.5, Forward: 0.5}
		})
	}
	a := with(0.46, 0.1*units.Degree)
	for _, c := range []struct {
		rate  units.Ratio
		step  units.Angle
		alike bool
	}{
		{0.48, 0.5 * units.Degree, true},   // 0.4° at the ends
		{0.50, 0.5 * units.Degree, false},  // 0.8° at the ends
		{0.48, 0.05 * units.Degree, false}, // the other gauge is the coarser
	} {
		b := with(c.rate, c.step)
		got := compare(t, a.Modes()[0], b.Modes()[0])
		if got.GaugeAlike != c.alike || got.Resolution != max(c.step, a.Gauge().Step) {
			t.Errorf("rate %v, step %v: alike %v by %+v, resolution %v", c.rate, c.step, got.GaugeAlike, got.Largest, got.Resolution)
		}
		// And just about the largest difference.
		for share, alike := range map[units.Angle]bool{0.999: false, 1.001: true} {
			step := share * units.Angle(math.Abs(float64(got.Largest.Pitch)))
			b := with(c.rate, step)
			if got := compare(t, a.Modes()[0], b.Modes()[0]); got.GaugeAlike != alike {
				t.Errorf("rate %v, step %v: alike %v by %+v", c.rate, step, got.GaugeAlike, got.Largest)
			}
		}
	}
}

// Zero pitch is found where it is passed, and in the middle of where it stays.
func TestZeroPitch(t *testing.T) {
	for _, c := range []struct {
		points [][2]units.Ratio
		want   []float64
	}{
		{[][2]units.Ratio{{0, -1}, {1, 1}}, []float64{0.5}},
		{[][2]units.Ratio{{0, -0.25}, {1, 1}}, []float64{0.2}},
		{[][2]units.Ratio{{0, 0.5}, {0.5, -0.5}, {1, 0.5}}, []float64{0.25, 0.75}},
		{[][2]units.Ratio{{0, -0.5}, {0.2, 0}, {0.6, 0}, {1, 0.5}}, []float64{0.4}},
		{[][2]units.Ratio{{0, 0}, {0.1, 0}, {1, 1}}, []float64{0.05}},
		{[][2]units.Ratio{{0, 1}, {0.9, 0}, {1, 0}}, []float64{0.95}},
		{[][2]units.Ratio{{0, 0}, {1, 0}}, []float64{0.5}},
		{[][2]units.Ratio{{0, 0.2}, {1, 1}}, nil},
	} {
		r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Stepless(m)
			rigtest.Hover(m)
			m.Modes[0].Pitch = &machine.Curve{Kind: curve.Polyline, Points: c.points}
		})
		s := r.Modes()[0]
		var got []float64
		for _, zero := range compare(t, s, s).B.ZeroPitch {
			got = append(got, float64(zero))
		}
		const tolerance = 1e-7 // of the stick: positions are rounded to a tenth of that
		if !cmp.Equal(c.want, got, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < tolerance })) {
			t.Errorf("%v: %v, want %v", c.points, got, c.want)
		}
	}
}

// wide gives the servos so much travel that the linkage gives out before them.
func wide(m *machine.Machine) {
	rigtest.Hover(m)
	kind := m.Servos["bench digital"]
	kind.Min, kind.Max = 100*units.PulseMicrosecond, 2940*units.PulseMicrosecond
	m.Servos["bench digital"] = kind
}

// Positions that one machine does not reach are there with what stops it, and are
// in no difference.
func TestCompareStopped(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	a := rigtest.Rig(t, data, rigtest.Hover)
	b := rigtest.Rig(t, data, func(m *machine.Machine) {
		wide(m)
		m.Modes[0].Rates = &swash.Rates{Collective: 3, Right: 4, Forward: 0.5}
	})
	c := compare(t, a.Modes()[0], b.Modes()[0])
	if c.GaugeAlike || c.Largest == nil || len(c.Rows) != 101 {
		t.Fatalf("%d rows, %+v", len(c.Rows), c.Largest)
	}
	stopped := 0
	for _, row := range c.Rows {
		_, err := b.Modes()[0].Row(float64(row.Stick))
		if (err != nil) != (row.B.Unreachable != nil) || (row.Pitch == nil) != (row.B.Unreachable != nil) || row.A.Unreachable != nil {
			t.Errorf("%+v, %v", row, err)
		}
		if row.B.Unreachable == nil {
			continue
		}
		stopped++
		var mode *setup.ModeError
		if !errors.As(row.B.Unreachable.Err, &mode) || row.B.Unreachable.Cause == "" || row.B.Throttle != row.A.Throttle {
			t.Errorf("%+v", row.B)
		}
		if c.Largest.Stick == row.Stick {
			t.Errorf("largest difference at %v, where one is stopped", row.Stick)
		}
	}
	if stopped == 0 || stopped == len(c.Rows) {
		t.Errorf("%d positions stopped", stopped)
	}
	if right, forward := c.Cyclic[0], c.Cyclic[2]; right.B.Unreachable == nil || right.B.Unreachable.Cause == "" || right.Difference != nil || forward.Difference == nil {
		t.Errorf("%+v, %+v", right, forward)
	}
	// Neither of two alike reaches the ends: they are not alike for that.
	s := b.Modes()[0]
	if both := compare(t, s, s); both.GaugeAlike || both.Largest == nil || both.Largest.Pitch != 0 {
		t.Errorf("alike %v, %+v", both.GaugeAlike, both.Largest)
	}
}

// A servo at its pulse limit is named, and its part in the slope is gone.
func TestCompareClipped(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		rigtest.Hover(m)
		rigtest.Stepless(m)
		m.Modes[0].Rates = &swash.Rates{Collective: 2, Right: 2, Forward: 0.5}
		m.Plate.Legs[0].Servo.SubTrim = 40 * units.PulseMicrosecond // it clips first
	})
	s := r.Modes()[0]
	c := compare(t, s, s)
	last := c.Rows[len(c.Rows)-1]
	if last.A.AtLimit != "front" || last.A.Slope == nil || *last.A.Slope != 0 {
		t.Errorf("%+v, slope %v", last.A, last.A.Slope)
	}
	if mid := c.Rows[50]; mid.A.AtLimit != "" || *mid.A.Slope <= 0 {
		t.Errorf("%+v", mid.A)
	}
	// Between the front servo's limit and the others' the slope is theirs alone.
	seen := false
	for _, row := range c.Rows {
		at, err := r.Modes()[0].Row(float64(row.Stick))
		if err != nil {
			t.Fatal(err)
		}
		if at.BeyondLimit[0] <= 0 || at.BeyondLimit[1] != 0 {
			continue
		}
		seen = true
		const step = 1e-5
		hi, err := r.Modes()[0].Row(float64(row.Stick) + step)
		if err != nil {
			t.Fatal(err)
		}
		lo, err := r.Modes()[0].Row(float64(row.Stick) - step)
		if err != nil {
			t.Fatal(err)
		}
		if slope := (hi.Gauge - lo.Gauge).Degrees() / (200 * step); math.Abs(slope-row.A.Slope.Degrees()) > 1e-5 {
			t.Errorf("stick %v: slope %v, by steps %v", row.Stick, row.A.Slope, slope)
		}
	}
	if !seen {
		t.Error("no position where one servo alone clips")
	}
	if c.Cyclic[0].A.AtLimit == "" || c.Cyclic[2].A.AtLimit != "" {
		t.Errorf("%+v", c.Cyclic)
	}
}

// A servo that clips with the cyclic stick centred alone makes the difference as much as
// one that clips with it full over.
func TestCompareClippedAtCentre(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		rigtest.Hover(m)
		m.Modes[0].Pitch.Points[1][1] = 60 * units.Percent
		short := m.Servos["bench digital"]
		short.Max = short.Neutral + 50*units.PulseMicrosecond
		m.Servos["short"] = short
		m.Plate.Legs[0].Servo.Type = "short"
	})
	s := r.Modes()[0]
	forward := pitch.Stick{Collective: 0.5, Forward: 1} // lowers the front
	demand, err := s.Setting().Demand(forward)
	if err != nil {
		t.Fatal(err)
	}
	state := r.Head().Control.NewState()
	if _, err := r.Head().Control.Pose(state, demand); err != nil || state.BeyondLimit[0] != 0 {
		t.Fatalf("clipped by %v at full forward: %v", state.BeyondLimit, err)
	}
	if got := compare(t, s, s).Cyclic[2].A; got.AtLimit != "front" {
		t.Errorf("%+v", got)
	}
}

// The throttle is compared as it is in each mode, hold and all.
func TestCompareThrottle(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) { m.Modes[2].ThrottleHold = 0.05 })
	c := compare(t, r.Modes()[0], r.Modes()[2])
	for _, row := range c.Rows {
		want := 0.05 - r.Modes()[0].Throttle().At(float64(row.Stick))
		if math.Abs(float64(row.Throttle)-want) > 2e-8 || row.B.Throttle != 0.05 { // rounded to 1e-6 %
			t.Errorf("stick %v: %v, want %v", row.Stick, row.Throttle, want)
		}
	}
}

// A setup that is not whole is refused, and never panics.
func TestCompareRefuses(t *testing.T) {
	good := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Hover)
	whole := good.Modes()[0]
	unmet := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		m.Modes = m.Modes[1:2]
		m.Modes[0].Targets.Collective[0].Pitch = -60 * units.Degree
	})
	var target *setup.TargetError
	for name, s := range map[string]setup.Setup{
		"nothing": {},
		"empty":   setup.Setup{}.Enter(whole.Setting()),
		"unmet":   unmet.Modes()[0],
	} {
		_, errA := setup.Compare(s, whole)
		_, errB := setup.Compare(whole, s)
		_, errT := s.Transfer(good, setup.TransferOptions{})
		for _, err := range []error{errA, errB, errT} {
			var mode *setup.ModeError
			if !errors.As(err, &mode) || (name == "unmet") != errors.As(err, &target) {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	// Numbers that are none stop the machine; they make no difference.
	wild := whole.Setting()
	wild.Rates.Collective = units.Ratio(math.NaN())
	c := compare(t, whole, whole.Enter(wild))
	if c.Largest != nil || c.GaugeAlike || c.Rows[0].B.Unreachable == nil || c.Cyclic[0].B.Unreachable == nil {
		t.Errorf("%+v", c.Rows[0])
	}
}

func BenchmarkCompare(b *testing.B) {
	r := rigtest.Rig(b, rigtest.Read(b, rigtest.Demos+"direct.json"), func(*machine.Machine) {})
	one, other := r.Modes()[0], r.Modes()[1]
	b.ReportAllocs()
	for b.Loop() {
		if _, err := setup.Compare(one, other); err != nil {
			b.Fatal(err)
		}
	}
}
