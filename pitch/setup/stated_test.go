package setup_test

import (
	"math"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// The circular cyclic limit is on the safe side: the sticks reach as much in every
// direction, and more on legs, where cyclic changes the plate's height.
func TestCircularLimitIsSafe(t *testing.T) {
	for name, r := range demoRigs(t, stepless) {
		s := sheetOf(t, r)
		var more float64
		for i := range r.Modes {
			m := &r.Modes[i]
			for _, limit := range s.Modes[i].CircularLimits {
				reached := reachOfSticks(r, m, limit.Stick)
				if reached < limit.Pitch-1e-3*units.Degree {
					t.Errorf("%s, %s, stick %v: %v is said to be reached, the sticks reach %v", name, m.Mode.Name, limit.Stick, limit.Pitch, reached)
				}
				more = math.Max(more, float64(reached/limit.Pitch)-1)
			}
		}
		if legs := r.Machine.Plate.Legs != nil; legs && !(more > 0.03 && more < 0.13) || !legs && more > 1e-4 {
			t.Errorf("%s: the sticks reach %.1f %% more", name, 100*more)
		}
	}
}

// reachOfSticks is the cyclic pitch that every direction of the cyclic stick reaches, at a
// position of the collective stick, before a servo is at its pulse limit.
func reachOfSticks(r *setup.Rig, m *setup.RigMode, stick units.Ratio) units.Angle {
	const directions = 36
	state := r.Head.Control.NewState()
	collective := m.Setting.Pitch.At(float64(stick)) * float64(m.Setting.Rates.Collective)
	least := units.Angle(math.Inf(1))
	for k := range directions {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / directions)
		var most units.Angle
		for works, fails := 0., 3.; fails-works > 1e-7; {
			mid := (works + fails) / 2
			pose, err := r.Head.Control.Pose(state, swash.Demand{Collective: collective, Right: mid * sin, Forward: mid * cos})
			for _, beyond := range state.BeyondLimit {
				if beyond != 0 {
					err = &units.FieldError{}
				}
			}
			if rev, e := r.Head.Grip.Revolution(pose); err == nil && e == nil {
				works, most = mid, rev.Amplitude()
			} else {
				fails = mid
			}
		}
		least = min(least, most)
	}
	return least
}

// Apart counts as each rotor turns. Of a machine and its mirror image, whose rotors turn
// opposite ways, it is zero, and yet blades at one bearing differ by a lot.
func TestApartIsAsEachRotorTurns(t *testing.T) {
	r := rigOf(t, read(t, demos+"direct.json"), stepless)
	opposite := rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) { stepless(m); mirrored(m) })
	a, b := setup.Setup{Rig: r, Mode: &r.Modes[0]}, setup.Setup{Rig: opposite, Mode: &opposite.Modes[0]}
	c := compare(t, a, b)
	forward := c.Cyclic[2]
	if got := forward.Difference.Apart.Degrees(); got > tidyDegrees {
		t.Errorf("apart %v° of a mirror image", got)
	}
	at := func(added setup.AddedCyclic, bearing units.Angle) float64 {
		return added.Pitch.Degrees() * math.Cos(float64(bearing-added.Phase))
	}
	var most float64
	for k := range 36 {
		bearing := units.Angle(10*k) * units.Degree
		most = math.Max(most, math.Abs(at(forward.A, bearing)-at(forward.B, bearing)))
	}
	if most < 10 {
		t.Errorf("at one bearing they differ by no more than %v°", most)
	}
}

// The slope of a radio with pulse steps is near that of one without, and not the same.
func TestSlopeNextToPulseSteps(t *testing.T) {
	data := read(t, demos+"direct.json")
	stepped, smooth := rigOf(t, data, func(m *setup.Machine) { hover(m); m.Radio.PulseStep = 8 * units.PulseMicrosecond }), rigOf(t, data, func(m *setup.Machine) { hover(m); stepless(m) })
	c := compare(t, setup.Setup{Rig: stepped, Mode: &stepped.Modes[0]}, setup.Setup{Rig: smooth, Mode: &smooth.Modes[0]})
	var most float64
	for _, row := range c.Rows {
		most = math.Max(most, math.Abs(float64(*row.A.Slope / *row.B.Slope)-1))
	}
	if most < 1e-5 || most > 0.01 {
		t.Errorf("the slopes differ by up to %.4f %%", 100*most)
	}
}

// The largest difference is that of the rows; between them it is up to a pulse step more.
func TestLargestIsOfTheRows(t *testing.T) {
	const coarsest = 0.13 // degree: what a pulse step of 2 µs changes on flybar.json
	var most float64
	for name, r := range demoRigs(t, func(*setup.Machine) {}) {
		a, b := setup.Setup{Rig: r, Mode: &r.Modes[0]}, setup.Setup{Rig: r, Mode: &r.Modes[1]}
		largest := compare(t, a, b).Largest
		read := func(s setup.Setup, stick float64) float64 {
			d, err := s.Mode.Setting.Demand(pitch.Stick{Collective: stick})
			if err != nil {
				t.Fatal(err)
			}
			p, _, err := r.Head.Blade(r.Head.Control.NewState(), r.Machine.Gauge.Bearing, d)
			if err != nil {
				t.Fatal(err)
			}
			return p.Degrees()
		}
		const positions = 2000
		for k := range positions + 1 {
			stick := float64(k) / positions
			more := math.Abs(read(b, stick)-read(a, stick)) - math.Abs(largest.Pitch.Degrees())
			if most = math.Max(most, more); more > coarsest {
				t.Errorf("%s, stick %v: %.3f° more than the largest", name, stick, more)
			}
		}
	}
	if most < 0.001 {
		t.Errorf("nowhere more than in the rows: %v°", most)
	}
}
