package setup_test

import (
	"encoding/json"
	"math"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// A rig's file, written and read again, is the rig as the radio is set: sub-trims, rates
// and curves. The file it came from stays as it was.
func TestFile(t *testing.T) {
	for _, name := range []string{"direct", "bellcranks", "fourservos", "flybar", "spatial"} {
		r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+name+".json"), func(*machine.Machine) {})
		before, err := json.Marshal(r.Machine())
		if err != nil {
			t.Fatal(err)
		}
		parts := r.Parts()
		for i := range parts.Servos {
			parts.Servos[i].SubTrim += units.PulseWidth(5*i-4) * units.PulseMicrosecond
		}
		set, err := r.With(parts)
		if err != nil {
			t.Fatal(err)
		}
		for i, was := range r.Modes() {
			setting := was.Setting() // what is entered stays
			if i == 0 {
				setting.Rates.Collective = 0.37
			}
			set = set.Modes()[i].Enter(setting).Rig()
		}
		data, err := json.Marshal(set.File())
		if err != nil {
			t.Fatal(err)
		}
		again := rigtest.Build(t, data)
		for i := range set.Modes() {
			for _, at := range []pitch.Stick{{}, {Collective: 0.4, Right: 0.3}, {Collective: 1, Forward: -0.5}} {
				blade := func(r *setup.Rig) units.Angle {
					d, err := r.Modes()[i].Setting().Demand(at)
					if err != nil {
						t.Fatal(err)
					}
					p, _, err := r.Head().Blade(r.Head().Control.NewState(), 1, d)
					if err != nil {
						t.Fatal(err)
					}
					return p
				}
				const rounding = 1e-6 * units.Degree // of the rates' and points' millionths of a per cent
				if got, want := blade(again), blade(set); math.Abs(float64(got-want)) > float64(rounding) {
					t.Errorf("%s, mode %d, %+v: read again %v, want %v", name, i, at, got, want)
				}
			}
		}
		for i, s := range again.Parts().Servos {
			if want := parts.Servos[i].SubTrim; math.Abs(float64(s.SubTrim-want)) > 1e-12 {
				t.Errorf("%s: sub-trim %d is %v, want %v", name, i, s.SubTrim, want)
			}
		}
		if after, err := json.Marshal(r.Machine()); err != nil || string(after) != string(before) {
			t.Errorf("%s: the file it came from has changed (%v)", name, err)
		}
	}
}
