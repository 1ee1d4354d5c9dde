package machine

import (
	"maps"
	"slices"
	"strings"
	"unicode"

	"example.org/levelhead/pitch/internal/fieldpath"
	"example.org/levelhead/units"
)

// Validate refuses a machine with more of anything than a file may hold, with a value out of
// range or a name that cannot be printed, or with a radio, a gauge or a rating of a servo that
// makes no sense. Whether its parts fit together, only building it shows. The error is a
// *FieldError.
func (m *Machine) Validate() error {
	for _, check := range []func() error{m.checkFormat, m.checkCounts, m.checkRanges, m.checkNames, m.checkRadio, m.checkGauge, m.checkRatings, m.checkClass} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// checkNames refuses names that are empty, and control characters in what a
// sheet prints.
func (m *Machine) checkNames() error {
	names := map[string]string{"name": m.Name}
	taken := map[string]bool{}
	for i, leg := range m.Plate.Legs {
		names[fieldpath.Leg(i)+".name"] = leg.Name
		if taken[leg.Name] {
			return m.fail(fieldpath.Leg(i)+".name", "%q is the name of another leg; give each leg its own", leg.Name)
		}
		taken[leg.Name] = true
	}
	for i, mode := range m.Modes {
		names[fieldpath.Mode(i)+".name"] = mode.Name
	}
	for _, path := range slices.Sorted(maps.Keys(names)) {
		if strings.TrimSpace(names[path]) == "" {
			return m.fail(path, "must not be empty")
		}
	}
	names["note"] = m.Note
	for name := range m.Servos {
		names["servos."+name] = name
	}
	for _, path := range slices.Sorted(maps.Keys(names)) {
		if i := strings.IndexFunc(names[path], unprintable); i >= 0 {
			return m.fail(path, "%q has a control character or a mark of direction; remove it", names[path])
		}
	}
	return nil
}

// unprintable reports a character that would do something to a page or a terminal rather
// than be seen on it: a control character, a line or paragraph separator, or a mark that
// turns the direction of what follows.
func unprintable(r rune) bool {
	return unicode.In(r, unicode.Cc, unicode.Zl, unicode.Zp, unicode.Bidi_Control)
}

func (m *Machine) checkRadio() error {
	if s := m.Radio.PulseStep; !(s >= 0) || !units.Finite(s) {
		return m.fail("radio.pulse_step", "must not be below zero: write 0 s or more, not %v", s)
	}
	if s := m.Radio.PercentStep; !(s >= 0.0001 && s <= 0.25) {
		return m.fail("radio.percent_step", "must be within 0.01 %% and 25 %%, not %v", s)
	}
	if l := m.Radio.RateLimit; l != nil && !(*l > 0 && units.Finite(*l)) {
		return m.fail("radio.rate_limit", "must be above zero, not %v", *l)
	}
	return nil
}

func (m *Machine) checkGauge() error {
	switch g := m.Gauge; {
	case !units.Finite(g.Bearing):
		return m.fail("gauge.blade_bearing", "must be a finite angle, not %v", g.Bearing)
	case !(g.Low < g.High) || !units.Finite(g.Low) || !units.Finite(g.High):
		return m.fail("gauge.high", "must be above low (%v), not %v", g.Low, g.High)
	case !(g.Step >= 0) || !(g.Step < g.High-g.Low):
		return m.fail("gauge.step", "must be 0° or more, and smaller than the scale from %v to %v; it is %v", g.Low, g.High, g.Step)
	}
	return nil
}
