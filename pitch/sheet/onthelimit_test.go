package sheet

import (
	"math"
	"os"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// rigFrom builds the rig of a machine file.
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

// What stands on a limit is within it; what stands by the next number beyond is a
// finding.
func TestOnTheLimit(t *testing.T) {
	r := rigFrom(t, "../internal/rigtest/testdata/full.json")
	ok := extremes{margin: 1, use: 1}
	const margin, cone, use = 0.5, 0.3, 0.7
	angle := math.Asin(margin)
	for name, c := range map[string]struct {
		set        func(limit float64)
		on, beyond float64
		legs       []extremes
		check      func([]extremes) []Finding
	}{
		"dead centre": {
			func(x float64) { r.Limits().DeadCentre = units.Angle(x) }, angle, math.Nextafter(angle, 2),
			[]extremes{{margin: margin}, ok, ok}, r.checkLegs},
		"ball link": {
			func(x float64) { r.Limits().BallLinkAngle = units.Angle(x) }, cone, math.Nextafter(cone, 0),
			[]extremes{{margin: 1, ballLink: cone}, ok, ok}, r.checkLegs},
		"least use, of the servo most used": {
			func(x float64) { r.Limits().LeastUse = units.Ratio(x) }, use, math.Nextafter(use, 1),
			[]extremes{{use: use}, {use: 0.1}, {use: 0.2}}, r.checkUse},
	} {
		r.Limits() = DefaultLimits()
		c.set(c.on)
		if got := c.check(c.legs); len(got) != 0 {
			t.Errorf("%s, on the limit: %+v", name, got)
		}
		c.set(c.beyond)
		if got := c.check(c.legs); len(got) != 1 || got[0].Where != r.Servos()[0].Name {
			t.Errorf("%s, next to the limit: %+v", name, got)
		}
	}
}

// The same for the horn, over the whole sweep, and for the strain of a fight.
func TestOnTheLimitOfHornAndStrain(t *testing.T) {
	r := rigFrom(t, "../internal/rigtest/testdata/full.json")
	r.Modes() = r.Modes()[:1]
	horn := extremes{margin: 1}
	state := r.Head().Control.NewState()
	const grid = 4
	for c := 0; c <= 2*grid; c++ {
		for a := -grid; a <= grid; a++ {
			for e := -grid; e <= grid; e++ {
				demand, err := r.Modes()[0].Setting().Demand(pitch.Stick{Collective: float64(c) / (2 * grid), Right: float64(a) / grid, Forward: float64(e) / grid})
				if err != nil {
					t.Fatal(err)
				}
				pose, _, err := r.Head().Control.Slopes(state, demand)
				if err != nil {
					t.Fatal(err)
				}
				r.takeHorn(&horn, pose, func() string { return "" })
			}
		}
	}
	horns := func(limit float64) (n int) {
		r.Limits().DeadCentre = units.Angle(limit)
		for _, f := range r.checkTravel(Neutral{}) {
			if f.Where == "pitch horn" {
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
		w.worst.Strain = sign * four.Limits().Strain
		if got := w.findings(Neutral{}); len(got) != 0 {
			t.Errorf("strain of %v, on the limit: %+v", w.worst.Strain, got)
		}
		w.worst.Strain *= 1 + 0x1p-50
		if got := w.findings(Neutral{}); len(got) != 1 || got[0].Where != "servos" {
			t.Errorf("strain of %v, next to the limit: %+v", w.worst.Strain, got)
		}
	}
}
