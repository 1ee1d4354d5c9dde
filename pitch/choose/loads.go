package choose

import (
	"errors"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
)

// ratings returns those of a rig's servos, and nil where one has none.
func ratings(rig *setup.Rig) []servo.Rating {
	var all []servo.Rating
	for _, s := range rig.Servos {
		if s.Type.Rating == nil {
			return nil
		}
		all = append(all, s.Type.Rating.Servo())
	}
	return all
}

// loaded reports whether a rig tells loads and strokes in one mode at least.
func loaded(rig *setup.Rig) bool {
	if rig.Machine.ServoVoltage == nil || ratings(rig) == nil {
		return false
	}
	for i := range rig.Modes {
		if _, ok := rig.Spin(&rig.Modes[i]); ok {
			return true
		}
	}
	return false
}

// load finds the servos' loads and strokes, where they are known.
func (m *measurer) load(mode *setup.RigMode) bool {
	spin, ok := m.rig.Spin(mode)
	if !ok || m.rating == nil || m.rig.Machine.ServoVoltage == nil {
		return true
	}
	const turning = "with the rotor turning"
	duty, err := m.rig.Duty(mode, &spin)
	if err != nil {
		m.reject(mode, turning, err)
		return false
	}
	service, err := duty.Service(m.rating, *m.rig.Machine.ServoVoltage)
	if err != nil {
		m.reject(mode, turning, err)
		return false
	}
	m.Loaded = true
	var stalled error
	for i, s := range service.Servos {
		m.Load, m.Stroke = max(m.Load, s.Load), max(m.Stroke, s.Stroke)
		if s.Stalled != nil {
			stalled = errors.Join(stalled, &ServoError{m.rig.Servos[i].Name, s.Stalled})
		}
	}
	if stalled != nil {
		m.reject(mode, turning, stalled)
	}
	return true
}
