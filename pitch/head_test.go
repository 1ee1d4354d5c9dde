package pitch_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"pgregory.net/rapid"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// demoHead is the machine of the example.
func demoHead(tb testing.TB) *pitch.Head {
	tb.Helper()
	h, err := demoMachine()
	if err != nil {
		tb.Fatal(err)
	}
	return h
}

func drawDemand(t *rapid.T) swash.Demand {
	part := rapid.Float64Range(-0.4, 0.4)
	return swash.Demand{Collective: part.Draw(t, "collective"), Right: part.Draw(t, "d.Right"), Forward: part.Draw(t, "d.Forward")}
}

// From a demand to the blade's pitch over the revolution and back.
func TestHeadRoundTrip(t *testing.T) {
	h := demoHead(t)
	rapid.Check(t, func(t *rapid.T) {
		want := drawDemand(t)
		pose, err := h.Control.Pose(h.Control.NewState(), want)
		if err != nil {
			t.Fatal(err)
		}
		rev, err := h.Grip.Revolution(pose)
		if err != nil {
			t.Fatal(err)
		}
		got, _, err := h.Demand(h.Control.NewState(), rev.Cyclic)
		if err != nil {
			t.Fatal(err)
		}
		off := math.Abs(got.Collective-want.Collective) + math.Abs(got.Right-want.Right) + math.Abs(got.Forward-want.Forward)
		if !(off < 1e-10) {
			t.Fatalf("%+v came back as %+v", want, got)
		}
	})
}

// The slopes from the sticks to the blade are those of Blade.
func TestSensitivityAgainstDifferences(t *testing.T) {
	h := demoHead(t)
	rapid.Check(t, func(t *rapid.T) {
		at, psi := drawDemand(t), angle(t, 0, 360, "bearing")
		s, err := h.Sensitivity(h.Control.NewState(), psi, at)
		if err != nil {
			t.Fatal(err)
		}
		out := h.Control.NewState()
		slope := func(move func(*swash.Demand, float64)) float64 {
			return fd.Derivative(func(x float64) float64 {
				d := at
				move(&d, x)
				p, _, err := h.Blade(out, psi, d)
				if err != nil {
					t.Fatal(err)
				}
				return float64(p)
			}, 0, &fd.Settings{Formula: fd.Central, Step: 1e-5})
		}
		for _, c := range []struct{ got, want float64 }{
			{s.PerCollective, slope(func(d *swash.Demand, x float64) { d.Collective += x })},
			{s.PerRight, slope(func(d *swash.Demand, x float64) { d.Right += x })},
			{s.PerForward, slope(func(d *swash.Demand, x float64) { d.Forward += x })},
		} {
			if !(math.Abs(c.got-c.want) < 1e-7) {
				t.Fatalf("%v, by differences %v", c.got, c.want)
			}
		}
	})
}

// A machine with square arms, mid stick at zero and even legs gives equal and
// opposite pitch at the stick's ends but for what the arcs of its arms and links
// make: with rates of 45 %, 79 % and 79 % (common practice, no source)
// that is a sum of 0.14°, less than 2 % of the pitch. With the arcs shrunk, links and arms long against the
// travel, the rest goes with them.
func TestEqualAndOpposite(t *testing.T) {
	h := demoHead(t)
	line, err := curve.New(curve.Polyline, []curve.Point{{X: 0, Y: -1}, {X: 1, Y: 1}})
	if err != nil {
		t.Fatal(err)
	}
	mode := pitch.Setting{Pitch: line, Rates: swash.Rates{Collective: 0.45, Right: 0.79, Forward: 0.79}}
	read := func(stick float64) units.Angle {
		d, err := mode.Demand(pitch.Stick{Collective: stick})
		if err != nil {
			t.Fatal(err)
		}
		p, _, err := h.Blade(h.Control.NewState(), 180*units.Degree, d)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	if mid := read(0.5).Degrees(); math.Abs(mid) > 1e-10 {
		t.Errorf("mid stick reads %v°", mid)
	}
	sum := (read(1) + read(0)).Degrees()
	if math.Abs(sum) > 0.02*read(1).Degrees() {
		t.Errorf("the ends' sum is %v°", sum)
	}
	// To second order the sum comes from curvature alone, so it shrinks as the
	// square of the travel.
	mode.Rates.Collective /= 4
	if small := (read(1) + read(0)).Degrees(); math.Abs(small/sum-1./16) > 0.01 {
		t.Errorf("at a quarter of the rate the sum is %v of what it was, want about 1/16", small/sum)
	}
}

func TestSettingDemand(t *testing.T) {
	line, err := curve.New(curve.Polyline, []curve.Point{{X: 0, Y: -1}, {X: 0.5, Y: 0.2}, {X: 1, Y: 1}})
	if err != nil {
		t.Fatal(err)
	}
	s := pitch.Setting{Pitch: line, Expo: 0.5, Rates: swash.Rates{Collective: 0.5, Right: 0.8, Forward: -0.4}}
	d, err := s.Demand(pitch.Stick{Collective: 0.5, Right: 1, Forward: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	want := swash.Demand{Collective: 0.1, Right: 0.8, Forward: -0.4 * (0.5*0.5 + 0.5*0.125)}
	if d != want {
		t.Errorf("%+v, want %+v", d, want)
	}
	// Slips are refused: per cents for parts of one, and numbers that are none.
	for _, c := range []struct {
		at    pitch.Stick
		rate  units.Ratio
		field string
	}{
		{pitch.Stick{Collective: 75}, 0.8, "at.Collective"},
		{pitch.Stick{Right: 2}, 0.8, "at.Right"},
		{pitch.Stick{Forward: -1.01}, 0.8, "at.Forward"},
		{pitch.Stick{Right: math.NaN()}, 0.8, "at.Right"},
		{pitch.Stick{}, 60, "Rates.Right"},
		{pitch.Stick{}, units.Ratio(math.NaN()), "Rates.Right"},
	} {
		s.Rates.Right = c.rate
		var field *units.FieldError
		if d, err := s.Demand(c.at); !errors.As(err, &field) || field.Field != c.field || d != (swash.Demand{}) {
			t.Errorf("%+v: %+v, %v", c, d, err)
		}
	}
}

// The stick comes back from its demand, and the slopes are those of Demand.
func TestSettingStick(t *testing.T) {
	line, err := curve.New(curve.Monotone, []curve.Point{{X: 0, Y: -0.9}, {X: 0.4, Y: 0.1}, {X: 1, Y: 1}})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		rate := func(name string) units.Ratio {
			return units.Ratio(rapid.Float64Range(0.1, 1).Draw(t, name) * rapid.SampledFrom([]float64{-1, 1}).Draw(t, name+" sign"))
		}
		s := pitch.Setting{
			Pitch: line,
			Expo:  curve.Expo(rapid.Float64Range(-0.4, 0.9).Draw(t, "expo")),
			Rates: swash.Rates{Collective: rate("collective rate"), Right: rate("right rate"), Forward: rate("forward rate")},
		}
		want := pitch.Stick{
			Collective: rapid.Float64Range(0.01, 0.99).Draw(t, "collective"),
			Right:      rapid.Float64Range(-0.99, 0.99).Draw(t, "d.Right"),
			Forward:    rapid.Float64Range(-0.99, 0.99).Draw(t, "d.Forward"),
		}
		d, err := s.Demand(want)
		if err != nil {
			t.Fatal(err)
		}
		got, err := s.Stick(d)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Collective-want.Collective)+math.Abs(got.Right-want.Right)+math.Abs(got.Forward-want.Forward) > 1e-9 {
			t.Fatalf("%+v came back as %+v", want, got)
		}
		slopes, err := s.Slopes(want)
		if err != nil {
			t.Fatal(err)
		}
		const step = 1e-6
		up, down := want, want
		up.Collective, up.Right, up.Forward = up.Collective+step, up.Right+step, up.Forward+step
		down.Collective, down.Right, down.Forward = down.Collective-step, down.Right-step, down.Forward-step
		a, errA := s.Demand(up)
		b, errB := s.Demand(down)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		for _, c := range [][2]float64{
			{slopes.Collective, (a.Collective - b.Collective) / (2 * step)},
			{slopes.Right, (a.Right - b.Right) / (2 * step)},
			{slopes.Forward, (a.Forward - b.Forward) / (2 * step)},
		} {
			if math.Abs(c[0]-c[1]) > 1e-4 { // a curve's second derivative may jump at a point
				t.Fatalf("slope %v, by differences %v", c[0], c[1])
			}
		}
	})
	var spec *units.FieldError
	none := pitch.Setting{}
	if _, err := none.Demand(pitch.Stick{}); !errors.As(err, &spec) {
		t.Errorf("no curve: %v", err)
	}
	if _, err := none.Stick(swash.Demand{}); !errors.As(err, &spec) {
		t.Errorf("no curve: %v", err)
	}
	s := pitch.Setting{Pitch: line, Rates: swash.Rates{Collective: 0.5, Right: 0.5}}
	if _, err := s.Stick(swash.Demand{Right: 0.6}); !errors.As(err, &spec) || spec.Field != "d.Right" {
		t.Errorf("beyond the rate: %v", err)
	}
	if _, err := s.Stick(swash.Demand{Forward: 0.1}); !errors.As(err, &spec) || spec.Field != "d.Forward" {
		t.Errorf("a rate of 0: %v", err)
	}
}

func TestNoAllocation(t *testing.T) {
	h := demoHead(t)
	s := h.Control.NewState()
	d := swash.Demand{Collective: 0.3, Right: 0.2, Forward: -0.1}
	for name, f := range map[string]func() error{
		"Blade":       func() error { _, _, err := h.Blade(s, 1, d); return err },
		"Sensitivity": func() error { _, err := h.Sensitivity(s, 1, d); return err },
		"Demand":      func() error { _, _, err := h.Demand(s, pitch.Cyclic{Collective: 0.05, Sine: 0.03}); return err },
	} {
		if n := testing.AllocsPerRun(100, func() {
			if err := f(); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
	}
}

func BenchmarkPitch(b *testing.B) {
	g := demoGrip(b)
	pose := swash.Pose{Height: neutral + 0.001, Tilt: swash.Tilt{Right: 0.1, Forward: -0.05}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := g.Pitch(1, pose); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRevolution(b *testing.B) {
	g := demoGrip(b)
	pose := swash.Pose{Height: neutral + 0.001, Tilt: swash.Tilt{Right: 0.1, Forward: -0.05}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := g.Revolution(pose); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStickToBlade is the whole chain: expo, rates, mixing, pulses, arms, exact
// pose, blade.
func BenchmarkStickToBlade(b *testing.B) {
	h := demoHead(b)
	line, err := curve.New(curve.Polyline, []curve.Point{{X: 0, Y: -1}, {X: 1, Y: 1}})
	if err != nil {
		b.Fatal(err)
	}
	mode := pitch.Setting{Pitch: line, Expo: 0.2, Rates: swash.Rates{Collective: 0.48, Right: 0.5, Forward: 0.5}}
	out := h.Control.NewState()
	b.ReportAllocs()
	for b.Loop() {
		d, err := mode.Demand(pitch.Stick{Collective: 0.8, Right: 0.3, Forward: -0.4})
		if err != nil {
			b.Fatal(err)
		}
		if _, _, err := h.Blade(out, 1, d); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStickVolume sweeps all three sticks in 21 positions each.
func BenchmarkStickVolume(b *testing.B) {
	h := demoHead(b)
	out := h.Control.NewState()
	b.ReportAllocs()
	for b.Loop() {
		for c := -10; c <= 10; c++ {
			for r := -10; r <= 10; r++ {
				for f := -10; f <= 10; f++ {
					d := swash.Demand{Collective: 0.045 * float64(c), Right: 0.04 * float64(r), Forward: 0.04 * float64(f)}
					if _, _, err := h.Blade(out, 1, d); err != nil {
						b.Fatal(err)
					}
				}
			}
		}
	}
}
