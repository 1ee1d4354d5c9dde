package setup

import (
	"errors"
	"math"
	"os"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

func rigFrom(t *testing.T, path string) *Rig {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	m, err := Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	r, err := m.Build()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What the plate reports is what the solver reports: it does not go on with a pose
// that there is not.
func TestRevolutionReportsThePlate(t *testing.T) {
	r := rigFrom(t, "testdata/full.json")
	s, err := r.newSolver()
	if err != nil {
		t.Fatal(err)
	}
	var input *swash.InputError
	if _, err := s.revolution(swash.Demand{Right: math.NaN()}); !errors.As(err, &input) {
		t.Errorf("NaN: %v", err)
	}
	// Servos that turn as far as one asks lead where no link reaches.
	for i, v := range s.head.Control.Servos() {
		v.Min, v.Max = 1e-9, 1
		if s.head.Control, err = s.head.Control.WithServo(i, v); err != nil {
			t.Fatal(err)
		}
	}
	far := swash.Demand{Collective: 3}
	_, want := s.head.Control.Pose(s.state, far)
	if want == nil || clipped(s.state) != nil {
		t.Fatalf("the plate reports %v, the pulse limits %v", want, clipped(s.state))
	}
	if _, err := s.revolution(far); err == nil || err.Error() != want.Error() {
		t.Errorf("%v, want %v", err, want)
	}
	if _, err := s.cyclic("right", 1*units.Degree, 3, swash.Demand{Right: 1}); err == nil || err.Error() != want.Error() {
		t.Errorf("cyclic: %v, want %v", err, want)
	}
}

// The links of four servos can fight, those of three cannot: only then has a row fights,
// and they are the plate's.
func TestRowsFights(t *testing.T) {
	const demos = "../../examples/demo/testdata/"
	for file, n := range map[string]int{demos + "direct.json": 0, demos + "bellcranks.json": 0, demos + "fourservos.json": 4} {
		r := rigFrom(t, file)
		row, err := r.Row(&r.Modes[0], 0.9)
		if err != nil {
			t.Fatal(err)
		}
		if len(row.Fights) != n {
			t.Errorf("%s: fights %v, want %d", file, row.Fights, n)
		}
		if n == 0 {
			continue
		}
		demand, err := r.Modes[0].Setting.Demand(pitch.Stick{Collective: 0.9})
		if err != nil {
			t.Fatal(err)
		}
		pose, err := r.Head.Control.Pose(r.Head.Control.NewState(), demand)
		if err != nil {
			t.Fatal(err)
		}
		want := make([]swash.Fight, n)
		if err := r.Head.Control.Mechanism().(*swash.Plate).Fights(want, pose, row.Arms); err != nil {
			t.Fatal(err)
		}
		for i, f := range row.Fights {
			if f != want[i] || f.Strain == 0 {
				t.Errorf("%s, servo %d: %+v, want %+v", file, i, f, want[i])
			}
		}
	}
}

// What stands on a limit is within it; what stands by the next number beyond is a
// finding.
func TestOnTheLimit(t *testing.T) {
	r := rigFrom(t, "testdata/full.json")
	r.Limits = DefaultLimits()
	ok := extremes{margin: 1, use: 1}
	angleOf := func(margin float64) float64 { return math.Asin(margin) }
	const margin = 0.5
	for name, c := range map[string]struct {
		set   func(on bool)
		check func([]extremes) []Finding
		leg   extremes
	}{
		"dead centre": {func(on bool) {
			r.Limits.DeadCentre = units.Angle(angleOf(margin))
			if !on {
				r.Limits.DeadCentre = units.Angle(math.Nextafter(angleOf(margin), 2))
			}
		}, r.checkLegs, extremes{margin: margin, use: 1}},
		"ball link": {func(on bool) {
			r.Limits.BallLinkAngle = 0.3
			if !on {
				r.Limits.BallLinkAngle = units.Angle(math.Nextafter(0.3, 0))
			}
		}, r.checkLegs, extremes{margin: 1, cone: 0.3, use: 1}},
		"least use": {func(on bool) {
			r.Limits.LeastUse = 0.7
			if !on {
				r.Limits.LeastUse = units.Ratio(math.Nextafter(0.7, 1))
			}
		}, r.checkUse, extremes{margin: 1, use: 0.7}},
	} {
		legs := []extremes{c.leg, ok, ok}
		if name == "least use" {
			legs = []extremes{c.leg, {use: 0.1}, {use: 0.2}} // the most used servo decides
		}
		c.set(true)
		if got := c.check(legs); len(got) != 0 {
			t.Errorf("%s, on the limit: %+v", name, got)
		}
		c.set(false)
		if got := c.check(legs); len(got) != 1 || got[0].Where != r.Servos[0].Name {
			t.Errorf("%s, next to the limit: %+v", name, got)
		}
		r.Limits = DefaultLimits()
	}
}

// The same for the horn, over the whole sweep, and for the strain of a fight.
func TestOnTheLimitOfHornAndStrain(t *testing.T) {
	r := rigFrom(t, "testdata/full.json")
	r.Modes = r.Modes[:1]
	horn := extremes{margin: 1}
	state := r.Head.Control.NewState()
	const grid = 4
	for c := 0; c <= 2*grid; c++ {
		for a := -grid; a <= grid; a++ {
			for e := -grid; e <= grid; e++ {
				demand, err := r.Modes[0].Setting.Demand(pitch.Stick{Collective: float64(c) / (2 * grid), Right: float64(a) / grid, Forward: float64(e) / grid})
				if err != nil {
					t.Fatal(err)
				}
				pose, _, err := r.Head.Control.Slopes(state, demand)
				if err != nil {
					t.Fatal(err)
				}
				r.takeHorn(&horn, pose, func() string { return "" })
			}
		}
	}
	horns := func(limit float64) (n int) {
		r.Limits.DeadCentre = units.Angle(limit)
		for _, f := range r.checkTravel() {
			if f.Where == "horn" {
				n++
			}
		}
		return n
	}
	angle := math.Asin(horn.margin)
	if on, beyond := horns(angle), horns(math.Nextafter(angle, 2)); on != 0 || beyond != 1 {
		t.Errorf("%d findings on the horn's limit, %d next to it; want 0 and 1", on, beyond)
	}

	four := rigFrom(t, "../../examples/demo/testdata/fourservos.json")
	w := newFightWatch(four)
	for _, sign := range []units.Length{-1, 1} {
		w.worst.Strain = sign * four.Limits.Strain
		if got := w.findings(); len(got) != 0 {
			t.Errorf("strain of %v, on the limit: %+v", w.worst.Strain, got)
		}
		w.worst.Strain *= 1 + 0x1p-50
		if got := w.findings(); len(got) != 1 || got[0].Where != "servos" {
			t.Errorf("strain of %v, next to the limit: %+v", w.worst.Strain, got)
		}
	}
}
