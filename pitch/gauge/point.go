package gauge

import (
	"fmt"
	"math"
	"strconv"

	"example.org/levelhead/pitch"
	"example.org/levelhead/units"
)

// Point is one thing to measure: a quantity, with the sticks at a position in a flight mode.
type Point struct {
	Of      Quantity     `json:"quantity"`
	Blade   int          `json:"blade_index" plain:"when=Of:blade pitch"` // for BladePitch, from 0
	Bearing *units.Angle `json:"bearing,omitempty"`                       // of the blade, clockwise from the nose; nil is that of the file's gauge
	Servo   int          `json:"servo_index" plain:"when=Of:arm angle"`   // for ArmAngle, from 0, in the order of the rig
	Mode    string       `json:"mode"`                                    // by its name
	Stick   pitch.Stick  `json:"sticks"`
}

// place is a point found on a session's build.
type place struct {
	mode  int
	stick pitch.Stick
	at    position
	sight sight
}

// find returns where a point is. The error is a *units.FieldError.
func (b *Session) find(s *Point) (place, error) {
	p := place{mode: -1, stick: s.Stick}
	fail := func(field, format string, args ...any) (place, error) {
		return p, refuse(field, format, args...)
	}
	m := b.model
	modes := m.rig.Modes()
	for i := range modes {
		if modes[i].Name() == s.Mode {
			p.mode = i
		}
	}
	switch {
	case p.mode < 0:
		return fail("Mode", "%q is not a mode of this machine; write %s", s.Mode, m.modes())
	case !modes[p.mode].Works():
		return fail("Mode", "%q cannot be worked out: its targets are out of reach, and it has no curve", s.Mode)
	}
	for _, stick := range []struct {
		name          string
		value, lowest float64
	}{{"Collective", s.Stick.Collective, 0}, {"Right", s.Stick.Right, -1}, {"Forward", s.Stick.Forward, -1}} {
		if !(stick.value >= stick.lowest && stick.value <= 1) {
			return fail("Stick."+stick.name, "must be from %v to 1, not %v", stick.lowest, stick.value)
		}
	}
	p.sight = sight{of: s.Of, bearing: m.rig.Gauge().Bearing}
	switch s.Of {
	case BladePitch:
		if s.Blade < 0 || s.Blade >= m.blades {
			return fail("Blade", "must be %s, not %d", numbers(m.blades), s.Blade+1)
		}
		p.sight.blade = s.Blade
		if s.Bearing != nil {
			p.sight.bearing = *s.Bearing
		}
		if turns := math.Abs(float64(p.sight.bearing)); !(turns <= 100) {
			return fail("Bearing", "must be an angle clockwise from the nose, such as 180°, not %v", p.sight.bearing)
		}
	case ArmAngle:
		if s.Servo < 0 || s.Servo >= len(m.mounts) {
			return fail("Servo", "must be %s, not %d", numbers(len(m.mounts)), s.Servo+1)
		}
		p.sight.servo = s.Servo
	case TiltRight, TiltForward:
	default:
		return fail("Of", "must be from %d to %d, not %d", int(BladePitch), int(ArmAngle), int(s.Of))
	}
	var err error
	if p.at, err = m.position(modes[p.mode], s.Stick); err != nil {
		return p, &units.FieldError{Field: "Stick", Words: "stick", Reason: "cannot be worked out: " + m.say(err), Err: err}
	}
	return p, nil
}

// Describe says a point in words, such as `pitch of blade 1 over the tail (180°), mode
// "hover", collective stick at 50 %`.
func (b *Session) Describe(s Point) string {
	if b.model == nil {
		return s.Of.String()
	}
	what := s.Of.String()
	switch s.Of {
	case BladePitch:
		bearing := b.model.rig.Gauge().Bearing
		if s.Bearing != nil {
			bearing = *s.Bearing
		}
		what = fmt.Sprintf("pitch of blade %d %s", s.Blade+1, Direction(bearing))
	case ArmAngle:
		if servos := b.model.rig.Servos(); s.Servo >= 0 && s.Servo < len(servos) {
			what = fmt.Sprintf("arm angle of the %s servo", servos[s.Servo].Name)
		}
	}
	what += fmt.Sprintf(", mode %q, collective stick at %.0f %%", s.Mode, 100*s.Stick.Collective)
	if s.Stick.Right != 0 || s.Stick.Forward != 0 {
		what += ", cyclic stick " + s.Stick.Cyclic()
	}
	return what
}

// Direction says where a blade stands, in words and then in degrees clockwise from the
// nose: "over the tail (180°)", "near the tail (191°)".
func Direction(bearing units.Angle) string {
	degrees := math.Mod(math.Round(bearing.Degrees()), 360)
	if degrees < 0 {
		degrees += 360
	}
	exact := map[float64]string{0: "over the nose", 90: "on the right", 180: "over the tail", 270: "on the left"}
	where, ok := exact[degrees]
	if !ok {
		eighth := int(math.Round(degrees/45)) % 8
		where = [...]string{"near the nose", "at the front right", "near the right", "at the rear right", "near the tail", "at the rear left", "near the left", "at the front left"}[eighth]
	}
	return fmt.Sprintf("%s (%.0f°)", where, degrees)
}

// numbers says which numbers some things that are counted from 1 have.
func numbers(count int) string {
	if count == 1 {
		return "1"
	}
	return fmt.Sprintf("from 1 to %d", count)
}

// modes lists the names of the modes, for an error.
func (m *model) modes() string {
	var text string
	modes := m.rig.Modes()
	for i, mode := range modes {
		switch {
		case i == 0:
		case i == len(modes)-1:
			text += " or "
		default:
			text += ", "
		}
		text += strconv.Quote(mode.Name())
	}
	return text
}
