package load_test

import (
	"errors"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
)

// What is not whole is refused, and never panics.
func TestZeroTurning(t *testing.T) {
	hover := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json")).Modes()[0]
	for name, turning := range map[string]load.Turning{
		"nothing":  {},
		"no rotor": {Setup: hover},
		"no setup": {Spin: load.Spin{Rotor: hover.Rig().Rotor()}},
	} {
		_, _, peaks := turning.Peaks(3)
		_, demand := turning.Demand()
		_, lost := turning.LostAt(0.5, nil, 6)
		_, stiffness := turning.Stiffness(0.5, nil, 6)
		_, hovers := turning.Hover(3, nil)
		_, yield := turning.YieldUnder(nil, nil, swash.Demand{})
		_, arms := turning.OnArms(0.01)
		loads := turning.ServoLoads(nil, &swash.State{}, swash.Demand{})
		for what, err := range map[string]error{
			"Peaks": peaks, "Demand": demand, "LostAt": lost, "Stiffness": stiffness,
			"Hover": hovers, "YieldUnder": yield, "OnArms": arms, "ServoLoads": loads,
		} {
			if name == "no rotor" && what == "YieldUnder" {
				continue // it needs none
			}
			if !errors.As(err, new(*setup.ModeError)) {
				t.Errorf("%s, %s: %v", name, what, err)
			}
		}
	}
	if _, ok := load.Of(setup.Setup{}); ok {
		t.Error("an empty setup has a rotor")
	}
}
