package setup

import (
	"example.org/levelhead/curve"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

// StickFor returns the highest position of the collective stick at which the gauge
// shows a pitch, and false where there is none.
func (s Setup) StickFor(pitch units.Angle) (units.Ratio, bool) {
	if !s.Works() {
		return 0, false
	}
	solver, err := s.rig.newSolver()
	if err != nil {
		return 0, false
	}
	demand, err := solver.Demand(machine.Target{Pitch: pitch})
	if err != nil {
		return 0, false
	}
	at := func(stick float64) (float64, error) {
		return s.mode.setting.Pitch.At(stick) * float64(s.mode.setting.Rates.Collective), nil
	}
	for i := samples; i > 0; i-- { // for curves that do not rise all the way
		stick, err := curve.Invert(at, demand, float64(i-1)/samples, float64(i)/samples)
		if err == nil {
			return units.Ratio(stick), true
		}
	}
	return 0, false
}
