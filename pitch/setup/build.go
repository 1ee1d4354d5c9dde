package setup

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"unicode"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Rig is a machine built and ready to be asked.
type Rig struct {
	Machine *Machine
	Head    *pitch.Head
	Limits  Limits
	Modes   []RigMode
	Servos  []RigServo // in the order of the legs; on bell cranks collective, right cyclic, forward cyclic

	Rotor *rotor.Rotor // nil where the file gives none
	Blade rotor.Blade  // one of the rotor's
	Air   rotor.Air    // of the field

	parts Parts
	links []string // the names of the links under the plate, in the order of Parts.Links
}

// Build builds the machine. The error is a *FieldError that names the field at
// fault; its cause says what is wrong and by how much. Targets out of reach are
// no error here, so that the rest of the machine can be looked at: RigMode.Unmet
// holds them, and the sheet has a finding.
func (m *Machine) Build() (*Rig, error) {
	r := &Rig{Machine: m, Limits: DefaultLimits()}
	if m.Limits != nil {
		r.Limits = *m.Limits
	}
	for _, check := range []func() error{m.checkCounts, m.checkRanges, m.checkNames, m.checkRadio, m.checkGauge, m.checkRatings, m.checkClass, r.buildAir, r.buildRotor, r.checkPower} {
		if err := check(); err != nil {
			return nil, err
		}
	}
	control, err := r.buildControl()
	if err != nil {
		return nil, err
	}
	r.parts.Mix, r.parts.Neutral = control.Mix(), control.Mechanism().Neutral().Height
	grip, err := r.buildGrip()
	if err != nil {
		return nil, err
	}
	r.Head = &pitch.Head{Control: control, Grip: grip}
	if err := r.checkZero(); err != nil {
		return nil, err
	}
	return r, r.buildModes()
}

// checkZero refuses a machine that cannot stand with all functions at zero, and names
// the servo whose mount or sub-trim keeps it from there.
func (r *Rig) checkZero() error {
	control := r.Head.Control
	_, _, err := control.Slopes(control.NewState(), swash.Demand{})
	if err == nil {
		return nil
	}
	path := "plate"
	if leg := (*swash.LegError)(nil); errors.As(err, &leg) {
		path = r.servoPath(leg.Leg)
		switch s := r.Servos[leg.Leg].Spec; {
		case s.Mount != 0:
			path += ".mount"
		case s.SubTrim != 0:
			path += ".sub_trim"
		}
	}
	return &FieldError{Path: path, Line: r.Machine.line(path), Reason: "with collective and cyclic at zero: " + r.cause(err), Err: err}
}

// servoPath returns the path of servo i as it is mounted.
func (r *Rig) servoPath(i int) string {
	if r.Machine.Plate.BellCranks != nil {
		return "plate.bell_cranks." + r.Machine.functions()[i].name + ".servo"
	}
	return legPath(i) + ".servo"
}

// checkNames refuses names that are empty, and control characters in what a
// sheet prints.
func (m *Machine) checkNames() error {
	names := map[string]string{"name": m.Name}
	taken := map[string]bool{}
	for i, leg := range m.Plate.Legs {
		names[legPath(i)+".name"] = leg.Name
		if taken[leg.Name] {
			return m.fail(legPath(i)+".name", "%q is the name of another leg; give each leg its own", leg.Name)
		}
		taken[leg.Name] = true
	}
	for i, mode := range m.Modes {
		names[modePath(i)+".name"] = mode.Name
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

func (r *Rig) buildControl() (*swash.Control, error) {
	m := r.Machine
	if _, err := m.Plate.LinkThread.Pitch(); err != nil {
		return nil, m.blameField("plate.link_thread", err)
	}
	var mechanism swash.Mechanism
	var err error
	switch {
	case m.Plate.BellCranks != nil && m.Plate.Legs != nil:
		return nil, m.fail("plate", "has both legs and bell_cranks; give one of them")
	case m.Plate.BellCranks != nil:
		mechanism, err = r.buildBellCranks()
	default:
		mechanism, err = r.buildPlate()
	}
	if err != nil {
		return nil, err
	}
	mix, err := r.mix(mechanism)
	if err != nil {
		return nil, err
	}
	control, err := swash.NewControl(mechanism, r.parts.Servos, mix)
	if err != nil {
		path := "radio.mixing"
		if m.Radio.Mixing == MixByRows {
			path = "radio.mix_rows"
		}
		return nil, m.blame(path, err)
	}
	return control, nil
}
