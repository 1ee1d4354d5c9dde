package choose_test

import (
	"math"
	"testing"

	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/machine/machinetest"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Whatever machine, some of its numbers changed, and whatever parts are tried, the result has finite measures or reasons against
// it.
func FuzzTry(f *testing.F) {
	for _, name := range []string{"direct", "bellcranks"} {
		f.Add(rigtest.Read(f, rigtest.Demos+name+".json"), []byte{}, 0.012, 0.02, 20e-6)
	}
	f.Fuzz(func(t *testing.T, data, changes []byte, arm, horn, beyond float64) {
		m, err := machine.Parse(machinetest.Mutated(data, changes))
		if err != nil || len(m.Modes) > 3 || len(m.Plate.Legs) > 6 {
			return // refused, or only slow
		}
		rig, err := setup.Build(m)
		if err != nil {
			return // refused
		}
		arms := make([]units.Length, len(rig.Servos()))
		for i := range arms {
			arms[i] = units.Length(arm)
		}
		r := choose.Try(rig, choose.Candidate{Arms: arms, Horn: units.Length(horn)}, units.PulseWidth(beyond))
		if x := float64(r.Tilt); r.Unfit == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
			t.Errorf("%+v", r.Measures)
		}
	})
}
