package setup

import (
	"reflect"
	"slices"

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
	OffSquare units.Angle      `json:"off_square"`        // of the arm to its link, above 0 where the ball is too high
	Teeth     int              `json:"teeth"`             // to move the arm by on the spline; above 0 raises the ball
	SubTrim   units.PulseWidth `json:"sub_trim"`          // that then squares the arm
	NoTrim    bool             `json:"no_trim,omitempty"` // no sub-trim within the pulse limits squares it
}

// SheetMode is one flight mode on a sheet.
type SheetMode struct {
	Name           string           `json:"name"`
	Rates          swash.Rates      `json:"rates"`
	Expo           units.Ratio      `json:"expo"`
	Curve          [][2]units.Ratio `json:"pitch_curve"`
	CurveKind      string           `json:"pitch_curve_kind"`
	Hold           units.Ratio      `json:"throttle_hold"`
	Held           bool             `json:"throttle_hold_on"`
	Rows           []Row            `json:"rows"`
	Symmetry       *Symmetry        `json:"symmetry,omitempty"` // nil where the curve's ends are not equal and opposite
	Cyclic         []CyclicThrow    `json:"cyclic"`
	Corners        []Corner         `json:"corners"`
	CircularLimits []CircularLimit  `json:"circular_limits"`
	Entry          *Entry           `json:"enter,omitempty"` // what meets the targets
	Readings       []SolvedReading  `json:"readings,omitempty"`
	Added          []CyclicReading  `json:"cyclic_readings,omitempty"`
	Loads          *SheetLoads      `json:"loads,omitempty"` // nil without a rotor speed
	Unmet          string           `json:"unmet,omitempty"` // why the mode's targets cannot be met
}

// Row is the machine at one position of the collective stick, cyclic centred.
type Row struct {
	Stick       units.Ratio        `json:"stick"`
	Demand      units.Ratio        `json:"demand"` // value of the pitch curve
	Pulses      []units.PulseWidth `json:"pulses"`
	Arms        []units.Angle      `json:"arms"`
	BeyondLimit []units.PulseWidth `json:"beyond_limit"`
	Height      units.Length       `json:"height"`
	Tilt        units.Angle        `json:"tilt"`
	LowSide     units.Angle        `json:"low_side"`
	Fights      []swash.Fight      `json:"fights,omitempty"` // of the servos, where there are more than three
	Gauge       units.Angle        `json:"gauge"`
	OffScale    bool               `json:"off_scale"` // the gauge does not go that far
	Throttle    units.Ratio        `json:"throttle"`  // with hold on where the mode has it on
	// Unreachable is what keeps the machine from getting there at all; the figures of
	// plate and gauge are then zero.
	Unreachable string `json:"unreachable,omitempty"`
}

// Sheet works the whole sheet out. The error is a *ModeError.
func (r *Rig) Sheet() (*Sheet, error) {
	s := &Sheet{Machine: r.Machine.Name, Note: r.Machine.Note, Cautions: Cautions(WithoutBlades|WithBlades, r.Machine)}
	var err error
	if s.Neutral, err = r.neutral(); err != nil {
		return nil, &ModeError{"any", "collective and cyclic at zero", err}
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
		case units.AngularSpeed:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Length:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Velocity:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Time:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.PulseWidth:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Force:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Torque:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Voltage:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Current:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Power:
			v.SetFloat(float64(units.Round(q, decimals)))
		case units.Ratio:
			v.SetFloat(float64(units.Round(q, decimals)))
		}
	}
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
	s.Loads = r.sheetLoads(m, s.Rows)
	s.Symmetry = r.symmetry(m)
	s.Cyclic = r.cyclic(m)
	s.Corners = r.corners(m)
	s.CircularLimits = r.circularLimits(m)
	if m.Solved != nil {
		entry := m.Solved.Enter
		entry.Points = slices.Clone(entry.Points)
		s.Entry, s.Readings, s.Added = &entry, slices.Clone(m.Solved.Readings), slices.Clone(m.Solved.Cyclic)
	}
	return s
}
