package setup

import (
	"errors"
	"fmt"
	"reflect"
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Sheet is all that a bench sheet says, as data. It marshals to JSON with
// quantities as text, in the units of package units.
type Sheet struct {
	Machine  string      `json:"machine"`
	Note     string      `json:"note,omitempty"`
	Cautions []string    `json:"cautions"`
	Findings []Finding   `json:"findings"` // gravest first
	Neutral  Neutral     `json:"neutral"`
	Modes    []SheetMode `json:"modes"`
	Steps    []Step      `json:"steps"`
}

// cautions are shown first on every sheet.
var cautions = [...]string{
	"Take the main blades off or pull the motor leads apart before you set anything up. The pitch gauge goes on blades of a machine that cannot start.",
	"Throttle hold on and throttle stick low before the battery goes in; transmitter on first, off last.",
	"Nobody in or near the plane of the rotor disc, ever, with a live motor: blades injure and kill.",
	"Do a range check and a failsafe check before flying.",
	"Local law, your club's rules and the makers' manuals come before this sheet. Have an experienced pilot look the machine over before its first flight.",
}

// Neutral is the machine with all functions at zero: where the arms are squared
// and the plate is levelled.
type Neutral struct {
	Height units.Length   `json:"height"`
	Lean   units.Angle    `json:"lean"`
	Low    units.Angle    `json:"low_side"`
	Gauge  units.Angle    `json:"gauge"`
	Servos []NeutralServo `json:"servos"`
	Links  []Link         `json:"links"`
}

// Link is a link and the length it is, or is to be, cut to.
type Link struct {
	Name   string       `json:"name"`
	Length units.Length `json:"length"` // between ball centres
}

// NeutralServo is one servo at neutral.
type NeutralServo struct {
	Name      string           `json:"name"`
	Bearing   *units.Angle     `json:"bearing,omitempty"` // of the ball on the plate; nil on bell cranks
	Pulse     units.PulseWidth `json:"pulse"`
	OffSquare units.Angle      `json:"off_square"`        // of the arm to its link, above 0 where the ball is too high
	Teeth     int              `json:"teeth"`             // to move the arm by on the spline; above 0 raises the ball
	SubTrim   units.PulseWidth `json:"sub_trim"`          // that squares the arm after that
	NoTrim    bool             `json:"no_trim,omitempty"` // no sub-trim within the pulse limits does
}

// SheetMode is one flight mode on a sheet.
type SheetMode struct {
	Name      string           `json:"name"`
	Rates     swash.Rates      `json:"rates"`
	Expo      units.Ratio      `json:"expo"`
	Curve     [][2]units.Ratio `json:"pitch_curve"`
	CurveKind string           `json:"pitch_curve_kind"`
	Hold      units.Ratio      `json:"throttle_hold"`
	Held      bool             `json:"held"`
	Rows      []Row            `json:"rows"`
	Symmetry  *Symmetry        `json:"symmetry,omitempty"` // nil where the curve's ends are not equal and opposite
	Cyclic    []CyclicThrow    `json:"cyclic"`
	Corners   []Corner         `json:"corners"`
	Rounds    []Round          `json:"round_limits"`
	Entry     *Entry           `json:"enter,omitempty"` // what meets the targets
	Readings  []SolvedReading  `json:"readings,omitempty"`
	Added     []CyclicReading  `json:"cyclic_readings,omitempty"`
	Unmet     string           `json:"unmet,omitempty"` // why the mode's targets cannot be met
}

// Row is the machine at one position of the collective stick, cyclic centred.
type Row struct {
	Stick    units.Ratio        `json:"stick"`
	Demand   units.Ratio        `json:"demand"` // of the pitch curve
	Pulses   []units.PulseWidth `json:"pulses"`
	Arms     []units.Angle      `json:"arms"`
	Clipped  []units.PulseWidth `json:"clipped"`
	Height   units.Length       `json:"height"`
	Lean     units.Angle        `json:"lean"`
	LowSide  units.Angle        `json:"low_side"`
	Fights   []swash.Fight      `json:"fights,omitempty"` // of the servos, where there are more than three
	Gauge    units.Angle        `json:"gauge"`
	OffScale bool               `json:"off_scale"` // the gauge does not go that far
	Throttle units.Ratio        `json:"throttle"`  // with hold on where the mode has it on
	// Stopped is what keeps the machine from getting there at all; the figures of
	// plate and gauge are then nothing.
	Stopped string `json:"stopped,omitempty"`
}

// Symmetry compares the gauge at the two ends of a stick whose curve ends in
// equal and opposite values.
type Symmetry struct {
	Low  units.Angle `json:"low"`
	High units.Angle `json:"high"`
	// Sum is Low plus High: nothing for equal and opposite pitch.
	Sum units.Angle `json:"sum"`
	// Geometry is what the sum would be with every arm in its drawn neutral
	// direction, untrimmed and alike: what arms, links and horns make alone.
	Geometry units.Angle `json:"geometry"`
	// Settings is the rest: sub-trims, end points, radio steps and arms off
	// their drawn direction.
	Settings units.Angle `json:"settings"`
}

// CyclicThrow is what full cyclic does with the collective stick at the middle.
type CyclicThrow struct {
	Stick   string      `json:"stick"`             // right, left, forward or back
	Pitch   units.Angle `json:"pitch"`             // amplitude of the once-per-revolution part
	Phase   units.Angle `json:"phase"`             // the bearing of the blade with most pitch
	Residue units.Angle `json:"residue"`           // the most that the pitch departs from a pure once-per-revolution wave
	Stopped string      `json:"stopped,omitempty"` // what keeps the machine from getting there at all
}

// Corner is a corner of the sticks: collective at an end, and cyclic full over.
type Corner struct {
	Stick   string             `json:"stick"`
	Clipped []units.PulseWidth `json:"clipped"`           // by servo; 0 is not clipped
	Stopped string             `json:"stopped,omitempty"` // what keeps the plate from getting there at all
}

// Round is the round cyclic limit at one position of the collective stick.
type Round struct {
	Stick units.Ratio `json:"stick"`
	Lean  units.Angle `json:"lean"`  // of the plate, the same in all directions
	Pitch units.Angle `json:"pitch"` // amplitude of cyclic pitch at that lean
	At    units.Angle `json:"at"`    // the bearing where it is tightest
	Cause string      `json:"cause"` // what stops it there
}

// level is the lean below which a plate counts as level, so that rounding shows
// no low side.
const level = 1e-7 * units.Degree

// lowSide returns the bearing of a lean's low side, and 0 for a level plate.
func lowSide(l swash.Lean) units.Angle {
	if l.Amount() < level {
		return 0
	}
	return l.LowSide()
}

// offScale reports whether the gauge, read to half a step, cannot show an angle.
func (g *Gauge) offScale(p units.Angle) bool {
	return p < g.Low-g.Step/2 || p > g.High+g.Step/2
}

// sticks are the positions every sheet shows, besides the curve's own points.
var sticks = [...]float64{0, 0.25, 0.5, 0.75, 1}

// Sheet works the whole sheet out. The error is a *ModeError.
func (r *Rig) Sheet() (*Sheet, error) {
	s := &Sheet{Machine: r.Machine.Name, Note: r.Machine.Note, Cautions: cautions[:]}
	var err error
	if s.Neutral, err = r.neutral(); err != nil {
		return nil, &ModeError{"any", "all functions at zero", err}
	}
	for i := range r.Modes {
		s.Modes = append(s.Modes, r.sheetMode(&r.Modes[i]))
	}
	if s.Steps, err = r.Steps(); err != nil {
		return nil, err
	}
	s.Findings = r.check(s)
	tidy(reflect.ValueOf(s))
	return s, nil
}

// tidy rounds every quantity of a sheet to a millionth of the unit it is written
// in: far finer than anyone can set, and free of rounding's tails.
func tidy(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			tidy(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			tidy(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			tidy(v.Field(i))
		}
	case reflect.Float64:
		const decimals = 6
		switch q := v.Interface().(type) {
		case units.Angle:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Length:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.PulseWidth:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Force:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Torque:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Ratio:
			v.SetFloat(float64(units.Round(q, decimals)))
		}
	}
}

func (r *Rig) neutral() (Neutral, error) {
	drive := r.Head.Drive
	state := drive.NewState()
	pose, _, err := drive.Slopes(state, swash.Demand{})
	if err != nil {
		return Neutral{}, err
	}
	gauge, err := r.Head.Grip.Pitch(r.Machine.Gauge.Bearing, pose)
	if err != nil {
		return Neutral{}, err
	}
	n := Neutral{Height: pose.Height, Lean: pose.Lean.Amount(), Low: lowSide(pose.Lean), Gauge: gauge}
	for i, s := range r.Servos {
		off := state.Effects[i].OffSquare
		teeth, left, err := s.Type.Spline.Square(off)
		if err != nil {
			return Neutral{}, err
		}
		turned := units.Angle(teeth) * s.Type.Spline.Step()
		moved := s.whole
		moved.Mount += turned
		// The trim that stands the arm where it is now, less what is off.
		trim, err := moved.SubTrimFor(state.Arms[i] + turned - left)
		neutral := NeutralServo{Name: s.Name, Pulse: state.Pulses[i], OffSquare: off, Teeth: teeth, SubTrim: trim, NoTrim: err != nil}
		if i < len(r.plate.Legs) {
			neutral.Bearing = &r.plate.Legs[i].Ball.Bearing
		}
		n.Servos = append(n.Servos, neutral)
	}
	for _, link := range r.links {
		n.Links = append(n.Links, Link{link.name, link.length})
	}
	n.Links = append(n.Links, Link{"horn link", r.grip.Link})
	return n, nil
}

// Row works out one position of the collective stick in a mode. The error is a
// *ModeError.
func (r *Rig) Row(m *RigMode, stick float64) (Row, error) {
	if !m.Works() {
		return Row{}, m.fail(stick, m.Unmet)
	}
	state := r.Head.Drive.NewState()
	demand, err := m.Setting.Demand(pitch.Stick{Collective: stick})
	if err != nil {
		return Row{}, m.fail(stick, err)
	}
	gauge, pose, err := r.Head.Blade(state, r.Machine.Gauge.Bearing, demand)
	if err != nil {
		return Row{}, m.fail(stick, err)
	}
	row := Row{
		Stick:    units.Ratio(stick),
		Demand:   units.Ratio(m.Setting.Pitch.At(stick)),
		Pulses:   state.Pulses,
		Arms:     state.Arms,
		Clipped:  state.Clipped,
		Height:   pose.Height,
		Lean:     pose.Lean.Amount(),
		LowSide:  lowSide(pose.Lean),
		Gauge:    gauge,
		OffScale: r.Machine.Gauge.offScale(gauge),
		Throttle: m.throttle(stick),
	}
	if plate, ok := r.Head.Drive.Mechanism().(*swash.Plate); ok && plate.Servos() > 3 {
		row.Fights = make([]swash.Fight, plate.Servos())
		if err := plate.Fights(row.Fights, pose, row.Arms); err != nil {
			return Row{}, m.fail(stick, err)
		}
	}
	return row, nil
}

func (m *RigMode) fail(stick float64, err error) error {
	return &ModeError{m.Mode.Name, fmt.Sprintf("stick %v", units.Ratio(stick)), err}
}

// throttle returns the throttle at a stick position, with hold on where the
// mode has it on.
func (m *RigMode) throttle(stick float64) units.Ratio {
	if m.Mode.Held {
		return m.Mode.ThrottleHold
	}
	return units.Ratio(m.Throttle.At(stick))
}

// sheetMode works out one mode. A mode that does not work has its name, its
// throttle hold and its unmet targets only.
func (r *Rig) sheetMode(m *RigMode) SheetMode {
	s := SheetMode{
		Name:  m.Mode.Name,
		Rates: m.Setting.Rates,
		Expo:  m.Mode.Expo,
		Hold:  m.Mode.ThrottleHold,
		Held:  m.Mode.Held,
		Unmet: m.unmet(),
	}
	if !m.Works() {
		return s
	}
	s.CurveKind = m.Setting.Pitch.Kind().String()
	at := append([]float64(nil), sticks[:]...)
	for _, p := range m.Setting.Pitch.Points() {
		s.Curve = append(s.Curve, [2]units.Ratio{units.Ratio(p.X), units.Ratio(p.Y)})
		at = append(at, p.X)
	}
	slices.Sort(at)
	for _, stick := range slices.Compact(at) {
		s.Rows = append(s.Rows, r.rowOrStop(m, stick))
	}
	s.Symmetry = r.symmetry(m)
	s.Cyclic = r.cyclic(m)
	s.Corners = r.corners(m)
	s.Rounds = r.rounds(m)
	if m.Solved != nil {
		entry := m.Solved.Enter
		entry.Points = slices.Clone(entry.Points)
		s.Entry, s.Readings, s.Added = &entry, slices.Clone(m.Solved.Readings), slices.Clone(m.Solved.Cyclic)
	}
	return s
}

// rowOrStop is Row, with what stops it as part of the answer.
func (r *Rig) rowOrStop(m *RigMode, stick float64) Row {
	row, err := r.Row(m, stick)
	if err == nil {
		return row
	}
	n := len(r.Servos)
	return Row{
		Stick:    units.Ratio(stick),
		Demand:   units.Ratio(m.Setting.Pitch.At(stick)),
		Pulses:   make([]units.PulseWidth, n),
		Arms:     make([]units.Angle, n),
		Clipped:  make([]units.PulseWidth, n),
		Throttle: m.throttle(stick),
		Stopped:  r.cause(err),
	}
}

// symmetry compares the ends of the collective stick, where the pitch curve
// asks for equal and opposite demands there and the machine reaches both.
func (r *Rig) symmetry(m *RigMode) *Symmetry {
	low, high := m.Setting.Pitch.At(0), m.Setting.Pitch.At(1)
	if low+high != 0 || high == 0 {
		return nil
	}
	rate := float64(m.Setting.Rates.Collective)
	ends := func(head *pitch.Head) (lo, hi units.Angle, err error) {
		out := head.Drive.NewState()
		if lo, _, err = head.Blade(out, r.Machine.Gauge.Bearing, swash.Demand{Collective: rate * low}); err != nil {
			return 0, 0, err
		}
		hi, _, err = head.Blade(out, r.Machine.Gauge.Bearing, swash.Demand{Collective: rate * high})
		return lo, hi, err
	}
	lo, hi, err := ends(r.Head)
	if err != nil {
		return nil
	}
	plain := r.Head.Drive
	for i, s := range plain.Servos() {
		s.Mount, s.SubTrim, s.Step, s.Low, s.High = 0, 0, 0, 1, 1
		if plain, err = plain.WithServo(i, s); err != nil {
			return nil
		}
	}
	plainLow, plainHigh, err := ends(&pitch.Head{Drive: plain, Grip: r.Head.Grip})
	if err != nil {
		return nil
	}
	s := &Symmetry{Low: lo, High: hi, Sum: lo + hi, Geometry: plainLow + plainHigh}
	s.Settings = s.Sum - s.Geometry
	return s
}

// directions are the ways of the cyclic stick, the four ends first.
var directions = [...]struct {
	name           string
	right, forward float64
}{
	{"right", 1, 0}, {"left", -1, 0}, {"forward", 0, 1}, {"back", 0, -1},
	{"forward right", 1, 1}, {"forward left", -1, 1}, {"back right", 1, -1}, {"back left", -1, -1},
}

func (r *Rig) cyclic(m *RigMode) []CyclicThrow {
	var throws []CyclicThrow
	for _, d := range directions[:4] {
		throw := CyclicThrow{Stick: d.name}
		rev, err := r.revolution(m, pitch.Stick{Collective: 0.5, Right: d.right, Forward: d.forward}, r.Head.Drive.NewState())
		if err != nil {
			throw.Stopped = r.cause(err)
		} else {
			throw.Pitch, throw.Phase, throw.Residue = rev.Amplitude(), rev.Phase(), rev.Residue
		}
		throws = append(throws, throw)
	}
	return throws
}

// revolution returns the blade's pitch over a revolution at a stick position.
func (r *Rig) revolution(m *RigMode, at pitch.Stick, state *swash.State) (pitch.Revolution, error) {
	demand, err := m.Setting.Demand(at)
	if err != nil {
		return pitch.Revolution{}, err
	}
	pose, err := r.Head.Drive.Drive(state, demand)
	if err != nil {
		return pitch.Revolution{}, err
	}
	return r.Head.Grip.Revolution(pose)
}

// corners tries all corners of the sticks. What cannot be reached is part of
// the answer, not an error.
func (r *Rig) corners(m *RigMode) []Corner {
	var corners []Corner
	for _, end := range []struct {
		name  string
		stick float64
	}{{"low", 0}, {"high", 1}} {
		for _, d := range directions {
			state := r.Head.Drive.NewState()
			c := Corner{Stick: end.name + " and " + d.name}
			if _, err := r.revolution(m, pitch.Stick{Collective: end.stick, Right: d.right, Forward: d.forward}, state); err != nil {
				c.Stopped = r.cause(err)
			}
			c.Clipped = state.Clipped
			corners = append(corners, c)
		}
	}
	return corners
}

// rounds finds the round cyclic limit at low, middle and high stick.
func (r *Rig) rounds(m *RigMode) []Round {
	var rounds []Round
	for _, stick := range []float64{0, 0.5, 1} {
		round, err := r.round(m, stick)
		if err != nil {
			round.Cause = r.cause(err)
		}
		rounds = append(rounds, round)
	}
	return rounds
}

func (r *Rig) round(m *RigMode, stick float64) (Round, error) {
	const bearings = 36
	round := Round{Stick: units.Ratio(stick)}
	row, err := r.Row(m, stick)
	if err != nil {
		return round, err
	}
	e, err := r.Head.Drive.Envelope(row.Height, bearings)
	if err != nil {
		return round, err
	}
	round.Lean, round.At, round.Cause = e.Round.Lean, e.Round.Bearing, r.cause(e.Round.Cause)
	pose := swash.Pose{Height: row.Height, Lean: swash.LeanTo(e.Round.Lean, e.Round.Bearing)}
	rev, err := r.Head.Grip.Revolution(pose)
	round.Pitch = rev.Amplitude()
	return round, err
}

// cause says in a few words what stops the plate.
func (r *Rig) cause(err error) string {
	var leg *swash.LegError
	var grip *pitch.GripError
	var singular *swash.SingularError
	var none *swash.NoPoseError
	switch {
	case err == nil:
		return "nothing up to here"
	case errors.As(err, &grip):
		return fmt.Sprintf("the horn link does not fit with the blade at bearing %.0f°", grip.Azimuth.Degrees())
	case errors.As(err, &singular):
		return "the legs lose hold of the plate"
	case errors.As(err, &none):
		return r.Servos[none.Leg].Name + " link does not reach"
	case !errors.As(err, &leg):
		return plain(err)
	}
	name := r.Servos[leg.Leg].Name
	var clip *servo.RangeError
	var reach *linkage.ReachError
	var travel *linkage.TravelError
	switch {
	case errors.As(err, &clip):
		return name + " servo at its pulse limit"
	case errors.As(err, &reach):
		return name + " link runs out of reach"
	case errors.As(err, &travel):
		return name + " linkage at its dead centre"
	}
	return name + " arm in line with its link"
}
