package rotor

import (
	"testing"

	"example.org/levelhead/units"
)

// An engine's throttle is its share of the power, down to a microwatt, and nothing
// without load.
func TestEngineWithHardlyAnyLoad(t *testing.T) {
	const speed = 12000 * units.RevolutionPerMinute / 8.5 // 1500 W of the engine
	e := testEngine(t)
	for _, rotor := range []float64{100, 0.5, 1e-6, 0} {
		op, err := e.Hold(speed, units.Torque(rotor)/units.Torque(speed))
		if err != nil {
			t.Fatal(err)
		}
		const rounding = 1e-12
		near(t, "throttle", float64(op.Throttle), rotor/0.87/1500, rounding)
	}
	weak, err := NewEngine([]EnginePoint{{100, 0}, {1000, 0}}, Gear{1, 1})
	if err != nil {
		t.Fatal(err)
	}
	if op, err := weak.Hold(500, 0); err != nil || op.Throttle != 0 {
		t.Errorf("no load on an engine without power: throttle %v, %v", op.Throttle, err)
	}
}
