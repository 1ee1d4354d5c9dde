package choose

import (
	"errors"

	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"
)

// loaded reports whether loads and strokes of a rig are known in at least one mode.
func loaded(rig *setup.Rig) bool {
	if _, ok := load.Ratings(rig); !ok {
		return false
	}
	for _, mode := range rig.Modes() {
		if _, ok := load.Of(mode); ok {
			return true
		}
	}
	return false
}

// load finds the servos' loads and strokes in a mode, if they are known.
func (m *measurer) load(mode setup.Setup) bool {
	t, ok := load.Of(mode)
	if !ok || m.rating == nil {
		return true
	}
	const turning = "with the rotor turning"
	demand, err := t.Demand()
	if err != nil {
		m.reject(mode, turning, err)
		return false
	}
	performance, err := demand.Performance(m.rating, *m.rig.Machine().ServoVoltage)
	if err != nil {
		m.reject(mode, turning, err)
		return false
	}
	m.Loaded = true
	var stalled error
	for i, s := range performance.Servos {
		m.Load, m.Stroke = max(m.Load, s.Load), max(m.Stroke, s.Stroke)
		if s.Stalled != nil {
			stalled = errors.Join(stalled, &ServoError{m.rig.Servos()[i].Name, s.Stalled})
		}
	}
	if stalled != nil {
		m.reject(mode, turning, stalled)
	}
	return true
}
