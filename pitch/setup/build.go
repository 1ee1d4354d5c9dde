package setup

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Rig is a machine built and ready to be asked.
type Rig struct {
	Machine *Machine
	Head    *pitch.Head
	Limits  Limits
	Modes   []RigMode
	Servos  []RigServo // in the order of the drive

	plate  swash.PlateSpec     // of a direct plate
	cranks swash.BellCrankSpec // of bell cranks
	grip   pitch.GripSpec
	links  []rigLink
}

// RigServo is one servo of a rig.
type RigServo struct {
	Name  string       // of its leg or function
	Type  ServoType    // what it has in common with others
	Arm   units.Length // radius of its arm; 0 where it has none
	Spec  ServoOfALeg
	whole servo.Servo
}

// rigLink is a link under the plate that can be turned longer or shorter.
type rigLink struct {
	name   string
	length units.Length
	with   func(units.Length) (swash.Mechanism, error)
}

// Plate returns a direct plate and its legs by their true positions. A plate on
// bell cranks has no legs.
func (r *Rig) Plate() swash.PlateSpec {
	spec := r.plate
	spec.Legs = append([]swash.LegSpec(nil), spec.Legs...)
	return spec
}

// RigMode is a flight mode built and ready.
type RigMode struct {
	Mode *Mode
	// Setting is the mode's own pitch curve and rates, or else what is to be
	// entered to meet its targets.
	Setting  pitch.Setting
	Throttle *curve.Curve
	// Solved is what meets the mode's targets; nil where it has none.
	Solved *Solution
	// Unmet is why the mode's targets cannot be met: a *FieldError around a
	// *TargetError. The mode's own pitch curve and rates then stand in; where
	// it has none, it cannot be worked out.
	Unmet error
}

// unmet says in words why the targets cannot be met.
func (m *RigMode) unmet() string {
	var target *TargetError
	if errors.As(m.Unmet, &target) {
		return target.Error()
	}
	return ""
}

// Works reports whether the mode has a pitch curve and rates to work with, given
// or solved.
func (m *RigMode) Works() bool { return m.Setting.Pitch != nil }

// Build builds the machine. The error is a *FieldError that names the field at
// fault; its cause says what is wrong and by how much. Targets out of reach are
// no error here, so that the rest of the machine can be looked at: RigMode.Unmet
// holds them, and the sheet has a finding.
func (m *Machine) Build() (*Rig, error) {
	r := &Rig{Machine: m, Limits: DefaultLimits()}
	if m.Limits != nil {
		r.Limits = *m.Limits
	}
	for _, check := range []func() error{m.checkNames, m.checkRadio, m.checkGauge, r.checkLimits, r.checkLash} {
		if err := check(); err != nil {
			return nil, err
		}
	}
	drive, err := r.buildDrive()
	if err != nil {
		return nil, err
	}
	grip, err := r.buildGrip(drive.Mechanism().Neutral().Height)
	if err != nil {
		return nil, err
	}
	r.Head = &pitch.Head{Drive: drive, Grip: grip}
	return r, r.buildModes()
}

// fail reports a fault in the field at path.
func (m *Machine) fail(path, format string, args ...any) error {
	return &FieldError{Path: path, Line: m.line(path), Reason: fmt.Sprintf(format, args...)}
}

// blame reports err as a fault in the field at path.
func (m *Machine) blame(path string, err error) error {
	return &FieldError{Path: path, Line: m.line(path), Reason: plain(err), Err: err}
}

// line returns the line of a field, or of the nearest that holds it.
func (m *Machine) line(path string) int {
	for {
		if line, ok := m.lines[path]; ok || path == "" {
			return line
		}
		path = path[:max(strings.LastIndexAny(path, ".["), 0)]
	}
}

// plain returns an error's words without the names of our packages.
func plain(err error) string {
	var words []string
	for _, word := range strings.Split(err.Error(), ": ") {
		switch word {
		case "swash", "pitch", "servo", "linkage", "curve", "units":
		default:
			words = append(words, word)
		}
	}
	return strings.Join(words, ": ")
}

// checkNames refuses names that are empty, and control characters in what a
// sheet prints.
func (m *Machine) checkNames() error {
	names := map[string]string{"name": m.Name}
	taken := map[string]bool{}
	for i, leg := range m.Plate.Legs {
		names[legPath(i)+".name"] = leg.Name
		if taken[leg.Name] {
			return m.fail(legPath(i)+".name", "%q is taken", leg.Name)
		}
		taken[leg.Name] = true
	}
	for i, mode := range m.Modes {
		names[modePath(i)+".name"] = mode.Name
	}
	for _, path := range slices.Sorted(maps.Keys(names)) {
		if strings.TrimSpace(names[path]) == "" {
			return m.fail(path, "is empty")
		}
	}
	names["note"] = m.Note
	for _, path := range slices.Sorted(maps.Keys(names)) {
		if i := strings.IndexFunc(names[path], unicode.IsControl); i >= 0 {
			return m.fail(path, "%q holds a control character", names[path])
		}
	}
	return nil
}

func modePath(i int) string { return fmt.Sprintf("modes[%d]", i) }

func (m *Machine) checkRadio() error {
	if s := m.Radio.PulseStep; !(s >= 0) || !units.Finite(s) {
		return m.fail("radio.pulse_step", "%v is below zero or not finite", s)
	}
	if s := m.Radio.PercentStep; !(s >= 0.0001 && s <= 0.25) {
		return m.fail("radio.percent_step", "%v is not within 0.01 %% and 25 %%", s)
	}
	if l := m.Radio.RateLimit; l != nil && !(*l > 0 && units.Finite(*l)) {
		return m.fail("radio.rate_limit", "%v is not above zero", *l)
	}
	return nil
}

func (m *Machine) checkGauge() error {
	switch g := m.Gauge; {
	case !units.Finite(g.Bearing):
		return m.fail("gauge.blade_bearing", "not finite")
	case !(g.Low < g.High) || !units.Finite(g.Low) || !units.Finite(g.High):
		return m.fail("gauge.high", "%v is not above low, %v", g.High, g.Low)
	case !(g.Step >= 0) || !(g.Step < g.High-g.Low):
		return m.fail("gauge.step", "%v is not a step on a scale from %v to %v", g.Step, g.Low, g.High)
	}
	return nil
}

func (r *Rig) checkLimits() error {
	l := r.Limits
	for _, f := range []struct {
		name  string
		value float64
	}{
		{"lean", float64(l.Lean)}, {"off_square", float64(l.OffSquare)}, {"cone", float64(l.Cone)},
		{"dead_centre", float64(l.DeadCentre)}, {"least_use", float64(l.LeastUse)},
		{"live_above", float64(l.LiveAbove)}, {"pitch_error", float64(l.PitchError)},
		{"strain", float64(l.Strain)},
	} {
		if !(f.value >= 0) || f.value > 10 {
			return r.Machine.fail("limits."+f.name, "%v (in SI units) is not a limit", f.value)
		}
	}
	return nil
}

func (r *Rig) buildDrive() (*swash.Drive, error) {
	m := r.Machine
	if _, err := m.Plate.LinkThread.Pitch(); err != nil {
		return nil, m.blame("plate.link_thread", err)
	}
	var mechanism swash.Mechanism
	var err error
	switch {
	case m.Plate.BellCranks != nil && m.Plate.Legs != nil:
		return nil, m.fail("plate", "has both legs and bell_cranks; one of them moves it")
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
	servos := make([]servo.Servo, len(r.Servos))
	for i, s := range r.Servos {
		servos[i] = s.whole
	}
	drive, err := swash.NewDrive(mechanism, servos, mix)
	if err != nil {
		return nil, m.blame("radio.mixing", err)
	}
	return drive, nil
}

// addServo builds the servo described at path.
func (r *Rig) addServo(path, name string, spec ServoOfALeg, arm units.Length) error {
	whole, err := r.Machine.servo(path, spec)
	if err != nil {
		return err
	}
	r.Servos = append(r.Servos, RigServo{name, r.Machine.Servos[spec.Type], arm, spec, whole})
	return nil
}

func (m *Machine) servo(path string, mounted ServoOfALeg) (servo.Servo, error) {
	kind, ok := m.Servos[mounted.Type]
	if !ok {
		return servo.Servo{}, m.fail(path+".type", "%q is not among servos", mounted.Type)
	}
	s := servo.Servo{
		Neutral: kind.Neutral,
		Throw:   kind.Throw,
		Travel:  kind.Travel,
		Mount:   mounted.Mount,
		Reverse: mounted.Reverse,
		SubTrim: mounted.SubTrim,
		Low:     orFull(mounted.Low),
		High:    orFull(mounted.High),
		Step:    m.Radio.PulseStep,
		Min:     kind.Min,
		Max:     kind.Max,
	}
	switch mounted.Raises {
	case LongerPulses:
	case ShorterPulses:
		s.Travel = -s.Travel
	default:
		return s, m.fail(path+".raises_on", "%q is neither %q nor %q", mounted.Raises, LongerPulses, ShorterPulses)
	}
	typePath := join("servos", mounted.Type)
	if !(kind.Travel > 0) {
		return s, m.fail(typePath+".travel", "%v is not above zero", kind.Travel)
	}
	if kind.Spline < 1 {
		return s, m.fail(typePath+".spline_teeth", "%d is not a number of teeth", int(kind.Spline))
	}
	for k, hole := range kind.ArmHoles {
		if !(hole > 0) || !units.Finite(hole) {
			return s, m.fail(fmt.Sprintf("%s.arm_holes[%d]", typePath, k), "%v is not above zero", hole)
		}
	}
	if err := s.Validate(); err != nil {
		field := (*servo.FieldError)(nil)
		if errors.As(err, &field) {
			path = map[string]string{
				"neutral":        typePath + ".neutral",
				"throw":          typePath + ".throw",
				"travel":         typePath + ".travel",
				"shortest pulse": typePath + ".shortest_pulse",
				"longest pulse":  typePath + ".longest_pulse",
				"mount":          path + ".mount",
				"sub-trim":       path + ".sub_trim",
				"low end point":  path + ".low_end_point",
				"high end point": path + ".high_end_point",
				"step":           "radio.pulse_step",
			}[field.Field]
		}
		return s, m.blame(path, err)
	}
	return s, nil
}

// orFull returns a ratio that may be left out, which then is 100 %.
func orFull(r *units.Ratio) units.Ratio {
	if r == nil {
		return 1
	}
	return *r
}

// mix returns the mixing that the radio is said to do.
func (r *Rig) mix(mechanism swash.Mechanism) (swash.Mix, error) {
	m := r.Machine
	plate, direct := mechanism.(*swash.Plate)
	if m.Radio.Mixing != MixByRows && m.Radio.MixRows != nil && m.Radio.Mixing.known() {
		return nil, m.fail("radio.mix_rows", "given, but mixing is %q", m.Radio.Mixing)
	}
	switch {
	case m.Radio.Mixing == MixByRows:
		if n := mechanism.Servos(); len(m.Radio.MixRows) != n {
			return nil, m.fail("radio.mix_rows", "%d rows for %d servos", len(m.Radio.MixRows), n)
		}
		var mix swash.Mix
		for _, row := range m.Radio.MixRows {
			mix = append(mix, swash.Demand{Collective: float64(row.Collective), Right: float64(row.Right), Forward: float64(row.Forward)})
		}
		return mix, nil
	case m.Radio.Mixing == MixOneEach && !direct:
		return swash.MixOneEach(), nil
	case m.Radio.Mixing == MixByLayout && direct:
		var layout swash.Layout
		for _, leg := range r.plate.Legs {
			layout = append(layout, leg.Ball)
		}
		return layout.Mix(), nil
	case m.Radio.Mixing == MixByGeometry && direct:
		mix, err := plate.Mix()
		if err != nil {
			return nil, m.blame("radio.mixing", err)
		}
		return mix, nil
	case direct:
		return nil, m.fail("radio.mixing", "%q is none of %q, %q and %q, which suit legs", m.Radio.Mixing, MixByLayout, MixByGeometry, MixByRows)
	}
	return nil, m.fail("radio.mixing", "%q is neither %q nor %q, which suit bell cranks", m.Radio.Mixing, MixOneEach, MixByRows)
}

func (m Mixing) known() bool {
	return m == MixByLayout || m == MixByGeometry || m == MixOneEach
}

func (r *Rig) buildGrip(neutral units.Length) (*pitch.Grip, error) {
	m, h := r.Machine, r.Machine.Head
	if _, err := h.LinkThread.Pitch(); err != nil {
		return nil, m.blame("head.link_thread", err)
	}
	r.grip = pitch.GripSpec{
		RingRadius: h.RingRadius,
		Phase:      h.Phase,
		Driver:     h.Driver,
		HubHeight:  h.HubHeight,
		Horn:       h.HornRadius,
		HornX:      h.HornX,
		Rest:       h.RestAngle,
		Turn:       h.Turn,
		Side:       h.Horn,
	}
	if h.MixingArm != nil {
		r.grip.Mixer = pitch.MixingArm(*h.MixingArm)
	}
	if h.Link != nil {
		r.grip.Link = *h.Link
	} else {
		link, err := r.grip.LinkFor(0, neutral)
		if err != nil {
			return nil, m.blameGrip(err)
		}
		r.grip.Link = link
	}
	grip, err := pitch.NewGrip(r.grip, neutral)
	if err != nil {
		return nil, m.blameGrip(err)
	}
	return grip, nil
}

// blameGrip finds the field of the head that a grip's error speaks of.
func (m *Machine) blameGrip(err error) error {
	path := "head.link"
	if spec := (*pitch.SpecError)(nil); errors.As(err, &spec) {
		field, _, _ := strings.Cut(spec.Field, ",")
		path = map[string]string{
			"ring radius": "head.ring_radius",
			"phase":       "head.phase",
			"driver":      "head.driver",
			"hub height":  "head.hub_height",
			"horn":        "head.horn_radius",
			"horn x":      "head.horn_from_mast",
			"rest angle":  "head.rest_angle",
			"turn":        "head.turn",
			"side":        "head.horn_side",
			"mixing arm":  "head.mixing_arm",
		}[field]
		if path == "" {
			path = "head.link"
		}
	}
	return m.blame(path, err)
}

func (m *Machine) curve(path string, c Curve, low units.Ratio) (*curve.Curve, error) {
	points := make([]curve.Point, len(c.Points))
	for i, p := range c.Points {
		if !(p[0] >= 0 && p[0] <= 1) {
			return nil, m.fail(fmt.Sprintf("%s.points[%d][0]", path, i), "stick %v is not within 0 %% and 100 %%", p[0])
		}
		if !(p[1] >= low && p[1] <= 1) {
			return nil, m.fail(fmt.Sprintf("%s.points[%d][1]", path, i), "%v is not within %v and 100 %%", p[1], low)
		}
		points[i] = curve.Point{X: float64(p[0]), Y: float64(p[1])}
	}
	built, err := curve.New(c.Kind, points)
	if err != nil {
		return nil, m.blame(path, err)
	}
	return built, m.checkRange(path+".kind", built, float64(low))
}

// checkRange refuses a curve that runs out of its range between its points, which
// a radio would cut off.
func (m *Machine) checkRange(path string, c *curve.Curve, low float64) error {
	const (
		samples  = 400
		rounding = 1e-9
	)
	for i := range samples + 1 {
		stick := float64(i) / samples
		if y := c.At(stick); y < low-rounding || y > 1+rounding {
			return m.fail(path, "a %v curve through these points runs to %.1f %% at stick %.0f %%, outside %.0f %% to 100 %%; a %v one does not",
				c.Kind(), 100*y, 100*stick, 100*low, curve.Monotone)
		}
	}
	return nil
}

func (r *Rig) buildModes() error {
	m := r.Machine
	if len(m.Modes) == 0 {
		return m.fail("modes", "there are none")
	}
	seen := map[string]bool{}
	for i := range m.Modes {
		path := modePath(i)
		if name := m.Modes[i].Name; seen[name] {
			return m.fail(path+".name", "%q is taken", name)
		}
		seen[m.Modes[i].Name] = true
		mode, err := r.buildMode(path, &m.Modes[i])
		if err != nil {
			return err
		}
		r.Modes = append(r.Modes, mode)
	}
	return nil
}

func (r *Rig) buildMode(path string, mode *Mode) (RigMode, error) {
	m := r.Machine
	built := RigMode{Mode: mode}
	var err error
	if built.Throttle, err = m.curve(path+".throttle", mode.Throttle, 0); err != nil {
		return built, err
	}
	if h := mode.ThrottleHold; !(h >= 0 && h <= 1) {
		return built, m.fail(path+".throttle_hold", "%v is not within 0 %% and 100 %%", h)
	}
	built.Setting.Expo = curve.Expo(mode.Expo)
	if err := built.Setting.Expo.Validate(); err != nil {
		return built, m.blame(path+".expo", err)
	}
	if mode.Pitch != nil {
		if built.Setting.Pitch, err = m.curve(path+".pitch", *mode.Pitch, -1); err != nil {
			return built, err
		}
	}
	if mode.Rates != nil {
		if err := mode.Rates.Validate(); err != nil {
			return built, m.blame(path+".rates", err)
		}
		built.Setting.Rates = *mode.Rates
	}
	if (mode.Pitch == nil) != (mode.Rates == nil) {
		return built, m.fail(path, "pitch and rates go together: give both, or neither and targets")
	}
	if mode.Targets == nil {
		if mode.Pitch == nil {
			return built, m.fail(path, "missing pitch and rates, or targets to solve them from")
		}
		return built, nil
	}
	built.Solved, err = r.solve(path+".targets", mode)
	if out := (*TargetError)(nil); errors.As(err, &out) {
		built.Unmet = err
		return built, nil
	}
	if err != nil {
		return built, err
	}
	if mode.Pitch == nil {
		built.Setting = built.Solved.Entered
	}
	return built, nil
}
