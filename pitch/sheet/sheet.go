package sheet

import (
	"slices"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Sheet is all that a bench sheet says, as data. Package units/plain writes
// it as JSON with quantities as numbers.
type Sheet struct {
	Machine  string    `json:"machine"`
	Note     string    `json:"note,omitempty"`
	Cautions []string  `json:"cautions"`
	Findings []Finding `json:"findings"` // gravest first
	Neutral  Neutral   `json:"neutral"`
	Modes    []Mode    `json:"modes"`
	Steps    []Step    `json:"steps"`
}

// Neutral is the machine with collective and cyclic at zero, where one squares the arms
// and levels the plate.
type Neutral struct {
	Height units.Length   `json:"height"`
	Tilt   units.Angle    `json:"tilt"`
	Low    units.Angle    `json:"low_side"`
	Gauge  units.Angle    `json:"gauge"`
	Servos []NeutralServo `json:"servos"`
	Links  []Link         `json:"links"`
}

// Link is a link and the length that it has or must be cut to.
type Link struct {
	Name   string       `json:"name"`
	Length units.Length `json:"length"` // between ball centres
}

// NeutralServo is one servo at neutral.
type NeutralServo struct {
	Name      string           `json:"name"`
	Bearing   *units.Angle     `json:"bearing,omitempty"` // of the ball on the plate: its direction from the nose; nil on bell cranks
	Pulse     units.PulseWidth `json:"pulse"`
	OffSquare units.Angle      `json:"off_square"`                      // of the arm to its link, above 0 where the ball is too high
	Teeth     int              `json:"teeth"`                           // to move the arm by on the spline; above 0 raises the ball
	SubTrim   units.PulseWidth `json:"sub_trim" plain:"without=NoTrim"` // that then squares the arm
	NoTrim    bool             `json:"no_trim,omitempty"`               // no sub-trim within the pulse limits squares it
}

// SheetMode is one flight mode on a sheet.
type Mode struct {
	Name           string                `json:"name"`
	Rates          swash.Rates           `json:"rates" plain:"with=CurveKind"`
	Expo           units.Ratio           `json:"expo"`
	Curve          [][2]units.Ratio      `json:"pitch_curve"`
	CurveKind      string                `json:"pitch_curve_kind" plain:"with=CurveKind"`
	Hold           units.Ratio           `json:"throttle_hold"`
	Held           bool                  `json:"throttle_hold_on"`
	Rows           []setup.Row           `json:"rows"`
	Symmetry       *setup.Symmetry       `json:"symmetry,omitempty"` // nil where the curve's ends are not equal and opposite
	Cyclic         []setup.CyclicThrow   `json:"cyclic"`
	Corners        []setup.Corner        `json:"corners"`
	CircularLimits []setup.CircularLimit `json:"circular_limits"`
	Entry          *setup.Entry          `json:"enter,omitempty"` // what meets the targets
	Readings       []setup.SolvedReading `json:"readings,omitempty"`
	Added          []setup.CyclicReading `json:"cyclic_readings,omitempty"`
	Loads          *Loads                `json:"loads,omitempty"` // nil without a rotor speed
	Unmet          string                `json:"unmet,omitempty"` // why the mode's targets cannot be met
}

// Of works a rig's sheet out. The error is a *setup.ModeError.
func Of(rig *setup.Rig) (*Sheet, error) {
	if len(rig.Servos()) == 0 {
		return nil, errEmpty
	}
	b := newBench(rig)
	s := &Sheet{Machine: b.file.Name, Note: b.file.Note, Cautions: Cautions(WithoutBlades|WithBlades, b.file)}
	var err error
	if s.Neutral, err = b.neutral(); err != nil {
		return nil, &setup.ModeError{Mode: "any", Where: "collective and cyclic at zero", Err: err}
	}
	for i := range b.modes {
		s.Modes = append(s.Modes, b.sheetMode(b.modes[i]))
	}
	if s.Steps, err = Steps(b.rig); err != nil {
		return nil, err
	}
	s.Findings = b.check(s)
	units.Tidy(s)
	return s, nil
}

// sheetMode works out one mode. A mode that does not work has its name, its
// throttle hold and its unmet targets only.
func (b *bench) sheetMode(m setup.Setup) Mode {
	s := Mode{
		Name:  m.Name(),
		Rates: m.Setting().Rates,
		Expo:  m.Mode().Expo,
		Hold:  m.Mode().ThrottleHold,
		Held:  m.Mode().Held,
		Unmet: m.UnmetText(),
	}
	if !m.Works() {
		return s
	}
	s.CurveKind = m.Setting().Pitch.Kind().String()
	sticks := setup.Sticks()
	at := sticks[:]
	for _, p := range m.Setting().Pitch.Points() {
		s.Curve = append(s.Curve, [2]units.Ratio{units.Ratio(p.X), units.Ratio(p.Y)})
		at = append(at, p.X)
	}
	slices.Sort(at)
	for _, stick := range slices.Compact(at) {
		s.Rows = append(s.Rows, m.RowOrStop(stick))
	}
	s.Loads = b.sheetLoads(m, s.Rows)
	s.Symmetry = m.Symmetry()
	s.Cyclic = m.Cyclic()
	s.Corners = m.Corners()
	s.CircularLimits = m.CircularLimits()
	if m.Solved() != nil {
		entry := m.Solved().Enter
		entry.Points = slices.Clone(entry.Points)
		s.Entry, s.Readings, s.Added = &entry, slices.Clone(m.Solved().Readings), slices.Clone(m.Solved().Cyclic)
	}
	return s
}
