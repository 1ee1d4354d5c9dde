package sheet

import (
	"math"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

// What stands on a limit is within it; what stands by the next number beyond is a
// finding.
func TestOnTheLimit(t *testing.T) {
	b := newBench(rigtest.Build(t, rigtest.Full(t)))
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
			func(x float64) { b.limits.DeadCentre = units.Angle(x) }, angle, math.Nextafter(angle, 2),
			[]extremes{{margin: margin}, ok, ok}, b.checkLegs},
		"ball link": {
			func(x float64) { b.limits.BallLinkAngle = units.Angle(x) }, cone, math.Nextafter(cone, 0),
			[]extremes{{margin: 1, ballLink: cone}, ok, ok}, b.checkLegs},
		"least use, of the servo most used": {
			func(x float64) { b.limits.LeastUse = units.Ratio(x) }, use, math.Nextafter(use, 1),
			[]extremes{{use: use}, {use: 0.1}, {use: 0.2}}, b.checkUse},
	} {
		b.limits = machine.DefaultLimits()
		c.set(c.on)
		if got := c.check(c.legs); len(got) != 0 {
			t.Errorf("%s, on the limit: %+v", name, got)
		}
		c.set(c.beyond)
		if got := c.check(c.legs); len(got) != 1 || got[0].Where != b.servos[0].Name {
			t.Errorf("%s, next to the limit: %+v", name, got)
		}
	}
}

// The same for the horn, over the whole sweep, and for the strain of a fight.
func TestOnTheLimitOfHornAndStrain(t *testing.T) {
	b := newBench(rigtest.Build(t, rigtest.Full(t)))
	b.modes = b.modes[:1]
	horn := extremes{margin: 1}
	state := b.head.Control.NewState()
	for at := range pitch.Grid(9) {
		demand, err := b.modes[0].Setting().Demand(at)
		if err != nil {
			t.Fatal(err)
		}
		pose, _, err := b.head.Control.Slopes(state, demand)
		if err != nil {
			t.Fatal(err)
		}
		b.takeHorn(&horn, pose, Place{})
	}
	horns := func(limit float64) (n int) {
		b.limits.DeadCentre = units.Angle(limit)
		for _, f := range b.checkTravel(&Sheet{}) {
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

	four := newBench(rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"fourservos.json")))
	w := newFightWatch(four)
	for _, sign := range []units.Length{-1, 1} {
		w.worst.Strain = sign * four.limits.Strain
		if got := w.findings(Neutral{}); len(got) != 0 {
			t.Errorf("strain of %v, on the limit: %+v", w.worst.Strain, got)
		}
		w.worst.Strain *= 1 + 0x1p-50
		if got := w.findings(Neutral{}); len(got) != 1 || got[0].Where != "servos" {
			t.Errorf("strain of %v, next to the limit: %+v", w.worst.Strain, got)
		}
	}
}
