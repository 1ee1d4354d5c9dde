package gauge

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// Point is what is looked at: a quantity, with the sticks somewhere in a flight mode.
type Point struct {
	Of      Quantity
	Blade   int          // for BladePitch, from 0
	Bearing *units.Angle // of the blade; nil is that of the file's gauge
	Servo   int          // for ArmAngle, from 0, in the order of the rig
	Mode    string       // by its name
	Stick   pitch.Stick
}

// place is a spot found on a bench's build.
type place struct {
	mode  int
	stick pitch.Stick
	at    position
	sight sight
}

// find returns where a spot is. The error is a *SpecError.
func (b *Session) find(s *Point) (place, error) {
	p := place{mode: -1, stick: s.Stick}
	fail := func(field, format string, args ...any) (place, error) {
		return p, &SpecError{Field: field, Reason: fmt.Sprintf(format, args...)}
	}
	m := b.model
	for i := range m.rig.Modes {
		if m.rig.Modes[i].Mode.Name == s.Mode {
			p.mode = i
		}
	}
	switch {
	case p.mode < 0:
		return fail("mode", "there is none named %q", s.Mode)
	case !m.rig.Modes[p.mode].Works():
		return fail("mode", "%q has targets that are out of reach, and no curve", s.Mode)
	}
	for _, stick := range []struct {
		name          string
		value, lowest float64
	}{{"collective", s.Stick.Collective, 0}, {"right", s.Stick.Right, -1}, {"forward", s.Stick.Forward, -1}} {
		if !(stick.value >= stick.lowest && stick.value <= 1) {
			return fail("stick, "+stick.name, "%v is not within %v and 1", stick.value, stick.lowest)
		}
	}
	p.sight = sight{of: s.Of, bearing: m.rig.Machine.Gauge.Bearing}
	switch s.Of {
	case BladePitch:
		if s.Blade < 0 || s.Blade >= m.blades {
			return fail("blade", "%d of a head with %d", s.Blade+1, m.blades)
		}
		p.sight.blade = s.Blade
		if s.Bearing != nil {
			p.sight.bearing = *s.Bearing
		}
		if turns := math.Abs(float64(p.sight.bearing)); !(turns <= 100) {
			return fail("bearing", "%v is not a bearing", p.sight.bearing)
		}
	case ArmAngle:
		if s.Servo < 0 || s.Servo >= len(m.mounts) {
			return fail("servo", "%d of a machine with %d", s.Servo+1, len(m.mounts))
		}
		p.sight.servo = s.Servo
	case TiltRight, TiltForward:
	default:
		return fail("quantity", "%d is none", int(s.Of))
	}
	var err error
	if p.at, err = m.position(&m.rig.Modes[p.mode], s.Stick); err != nil {
		return p, &SpecError{Field: "stick", Reason: err.Error(), Err: err}
	}
	return p, nil
}

// Describe says a spot in words.
func (b *Session) Describe(s Point) string {
	what := s.Of.String()
	switch s.Of {
	case BladePitch:
		bearing := b.model.rig.Machine.Gauge.Bearing
		if s.Bearing != nil {
			bearing = *s.Bearing
		}
		what = fmt.Sprintf("pitch of blade %d at bearing %.0f°", s.Blade+1, bearing.Degrees())
	case ArmAngle:
		if s.Servo >= 0 && s.Servo < len(b.model.rig.Servos) {
			what = fmt.Sprintf("arm angle of the %s servo", b.model.rig.Servos[s.Servo].Name)
		}
	}
	what += fmt.Sprintf(", mode %s, collective stick %.0f %%", s.Mode, 100*s.Stick.Collective)
	if s.Stick.Right != 0 || s.Stick.Forward != 0 {
		what += ", " + s.Stick.Cyclic()
	}
	return what
}
