package rotor

import (
	"testing"

	"example.org/levelhead/units"
)

// loadedRotor has its feathering axis off the quarter chord, so that Feathering
// asks for the aerodynamic moment at each bearing.
func loadedRotor(t testing.TB) *Rotor {
	spec := testRotor(t).Spec()
	spec.Axis = 0.3
	return build(t, spec)
}

// TestNoAllocation gates the paths that a load map over the sticks runs through.
func TestNoAllocation(t *testing.T) {
	r, at, b := loadedRotor(t), seaLevel(1800), testBlade()
	e, engine := testElectric(t), testEngine(t)
	p := Pitch{Collective: 6 * units.Degree, Cosine: 2 * units.Degree}
	slopes := headSlopes(20, 0.03, 0)
	pitches := []units.Angle{0, 5 * units.Degree}
	dst := make([]ThrottlePoint, 0, len(pitches))
	var err error
	for name, f := range map[string]func(){
		"StandardAir":   func() { _, err = StandardAir(500) },
		"Loads":         func() { _, err = r.Loads(8*units.Degree, at) },
		"PitchFor":      func() { _, _, err = r.PitchFor(30, at) },
		"Feathering":    func() { _, err = r.Feathering(b, p, at) },
		"PlateLoad":     func() { _, err = r.PlateLoad(Moment{Collective: 1}, 0, slopes) },
		"MeanPlateLoad": func() { _, err = r.MeanPlateLoad(Moment{Collective: 1}, slopes) },
		"Electric.Hold": func() { _, err = e.Hold(at.Speed, 1) },
		"Engine.Hold":   func() { _, err = engine.Hold(at.Speed, 1) },
		"ThrottleCurve": func() { dst = r.ThrottleCurve(dst[:0], engine, at, pitches) },
	} {
		if n := testing.AllocsPerRun(10, f); n != 0 {
			t.Errorf("%s allocates %v times", name, n)
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func BenchmarkLoads(b *testing.B) {
	r, at := testRotor(b), seaLevel(1800)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := r.Loads(8*units.Degree, at); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPitchFor(b *testing.B) {
	r, at := testRotor(b), seaLevel(1800)
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := r.PitchFor(30, at); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFeathering(b *testing.B) {
	r, at, blade := loadedRotor(b), seaLevel(1800), testBlade()
	p := Pitch{Collective: 6 * units.Degree, Cosine: 2 * units.Degree}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := r.Feathering(blade, p, at); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHold(b *testing.B) {
	e := testElectric(b)
	speed := 1800 * units.RevolutionPerMinute
	b.ReportAllocs()
	for b.Loop() {
		if _, err := e.Hold(speed, 1.5); err != nil {
			b.Fatal(err)
		}
	}
}
