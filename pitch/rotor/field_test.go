package rotor

import (
	"testing"

	"example.org/levelhead/units/fieldtest"
)

func TestFields(t *testing.T) {
	r, at := testRotor(t), seaLevel(1800)
	fieldtest.Check(t, "", r.Spec, func(s Spec) error { _, err := New(s); return err })
	fieldtest.Check(t, "at", func() Condition { return at }, func(c Condition) error { _, err := r.Loads(0, c); return err })
	fieldtest.Check(t, "blade", testBlade, func(b Blade) error { _, err := r.Feathering(b, Pitch{}, at); return err })
	fieldtest.Check(t, "pitch", func() Pitch { return Pitch{} }, func(p Pitch) error { _, err := r.Feathering(testBlade(), p, at); return err })
	fieldtest.Check(t, "", func() Electric { return testElectric(t) }, func(e Electric) error { _, err := e.Hold(100, 0); return err })
	fieldtest.Check(t, "", func() Battery { return Battery{Cells: 6, Cell: LithiumPolymer()} }, func(b Battery) error { _, err := b.At(0.5); return err })
	fieldtest.Check(t, "curve", func() []EnginePoint { return []EnginePoint{{100, 1}, {1000, 2}} }, func(c []EnginePoint) error { _, err := NewEngine(c, Gear{8, 1}); return err })
	fieldtest.Check(t, "gear", func() Gear { return Gear{8, 1} }, func(g Gear) error { _, err := NewEngine([]EnginePoint{{100, 1}, {1000, 2}}, g); return err })
}
