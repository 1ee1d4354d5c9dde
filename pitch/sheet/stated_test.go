package sheet_test

import (
	"math"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// The circular cyclic limit is on the safe side: the sticks reach as much in every
// direction, and more on legs, where cyclic changes the plate's height.
func TestCircularLimitIsSafe(t *testing.T) {
	for name, r := range rigtest.Rigs(t, rigtest.Stepless) {
		s := sheetOf(t, r)
		var more float64
		for i := range r.Modes() {
			m := r.Modes()[i]
			for _, limit := range s.Modes[i].CircularLimits {
				reached := reachOfSticks(r, m, limit.Stick)
				if reached < limit.Pitch-1e-3*units.Degree {
					t.Errorf("%s, %s, stick %v: %v is said to be reached, the sticks reach %v", name, m.Name(), limit.Stick, limit.Pitch, reached)
				}
				more = math.Max(more, float64(reached/limit.Pitch)-1)
			}
		}
		if legs := r.Machine().Plate.Legs != nil; legs && !(more > 0.03 && more < 0.13) || !legs && more > 1e-4 {
			t.Errorf("%s: the sticks reach %.1f %% more", name, 100*more)
		}
	}
}

// reachOfSticks is the cyclic pitch that every direction of the cyclic stick reaches, at a
// position of the collective stick, before a servo is at its pulse limit.
func reachOfSticks(r *setup.Rig, m setup.Setup, stick units.Ratio) units.Angle {
	const directions = 36
	state := r.Head().Control.NewState()
	collective := m.Setting().Pitch.At(float64(stick)) * float64(m.Setting().Rates.Collective)
	least := units.Angle(math.Inf(1))
	for k := range directions {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / directions)
		var most units.Angle
		for works, fails := 0., 3.; fails-works > 1e-7; {
			mid := (works + fails) / 2
			pose, err := r.Head().Control.Pose(state, swash.Demand{Collective: collective, Right: mid * sin, Forward: mid * cos})
			for _, beyond := range state.BeyondLimit {
				if beyond != 0 {
					err = &units.FieldError{}
				}
			}
			if rev, e := r.Head().Grip.Revolution(pose); err == nil && e == nil {
				works, most = mid, rev.Amplitude()
			} else {
				fails = mid
			}
		}
		least = min(least, most)
	}
	return least
}
