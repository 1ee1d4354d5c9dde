package setup

import (
	"cmp"
	"math"
	"slices"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Comparison tells two setups apart where it counts: at the blade, and not by the
// percentages that move it. Every difference is B minus A. Package units/plain
// writes it as JSON. It is rounded as a Sheet is.
type Comparison struct {
	A ComparedSetup `json:"a"`
	B ComparedSetup `json:"b"`
	// Rows are at every 1 % of the collective stick and at both pitch curves'
	// own points, from low to high.
	Rows []ComparedRow `json:"rows"`
	// Largest is the largest difference of gauge readings in Rows. Between two rows it can
	// be up to a pulse step more: some hundredths of a degree. It is nil where no
	// position is reached by both.
	Largest *Difference `json:"largest,omitempty"`
	// Resolution is the coarser of the two gauges' steps. GaugeAlike reports that
	// both reach every position in Rows and that nowhere the difference of blade
	// pitch is as much as Resolution: a gauge does not tell the two apart. It says
	// nothing of cyclic and throttle.
	Resolution units.Angle      `json:"resolution"`
	GaugeAlike bool             `json:"gauge_alike"`
	Cyclic     []ComparedCyclic `json:"cyclic"` // full right, left, forward and back
}

// ComparedSetup is one of the two setups of a Comparison.
type ComparedSetup struct {
	Machine  string         `json:"machine"`
	Mode     string         `json:"mode"`
	Rotation pitch.Rotation `json:"rotation"` // of the rotor
	// ZeroPitch is where on the collective stick the gauge passes through 0°, and
	// the middle of every stretch where it stands there.
	ZeroPitch []units.Ratio `json:"zero_pitch"`
}

// ComparedRow is one position of the collective stick, cyclic centred.
type ComparedRow struct {
	Stick    units.Ratio  `json:"stick"`
	A        ComparedSide `json:"a"`
	B        ComparedSide `json:"b"`
	Pitch    *units.Angle `json:"pitch,omitempty"` // difference on the gauge; nil where one is unreachable
	Throttle units.Ratio  `json:"throttle"`        // difference
}

// ComparedSide is what one setup does at a position of the collective stick.
type ComparedSide struct {
	Gauge units.Angle `json:"gauge" plain:"without=Unreachable"` // on the machine's own gauge, with the blade where that gauge is read
	// Slope is the pitch per 1 % of stick: the gauge's, by the slopes of curve and
	// linkage. It is that of servos without pulse steps, but at the arm angles to which
	// the steps round, so it differs a little from the slope of a stepless radio. A
	// servo at its pulse limit stands still. Slope is nil where an arm stands in line
	// with its link.
	Slope       *units.Angle `json:"slope,omitempty"`
	Tilt        units.Angle  `json:"tilt" plain:"without=Unreachable"`
	LowSide     units.Angle  `json:"low_side" plain:"without=Unreachable"`
	OffScale    bool         `json:"off_scale" plain:"without=Unreachable"` // the gauge does not go that far
	Throttle    units.Ratio  `json:"throttle"`                              // with hold on where the mode has it on
	AtLimit     string       `json:"at_limit,omitempty"`                    // the servo that is most beyond its pulse limit
	Unreachable *Unreachable `json:"out_of_reach,omitempty"`                // the figures of plate and blade are then zero
}

// Unreachable is what keeps a machine from getting to a stick position at all.
type Unreachable struct {
	Cause string `json:"cause"` // in a few words
	Err   error  `json:"-"`
}

// Difference is a difference of gauge readings and where on the collective stick it is.
type Difference struct {
	Stick units.Ratio `json:"stick"`
	Pitch units.Angle `json:"pitch"`
}

// ComparedCyclic is what a full cyclic stick adds at mid collective stick.
type ComparedCyclic struct {
	Stick      string            `json:"stick"` // right, left, forward or back
	A          AddedCyclic       `json:"a"`
	B          AddedCyclic       `json:"b"`
	Difference *CyclicDifference `json:"difference,omitempty"` // nil where one is unreachable
}

// AddedCyclic is the once-per-revolution pitch that a full cyclic stick adds to that
// with the stick centred.
type AddedCyclic struct {
	Pitch units.Angle `json:"pitch" plain:"without=Unreachable"`   // amplitude
	Phase units.Angle `json:"most_at" plain:"without=Unreachable"` // where the blade has most of it: its direction from the nose
	// PhaseAngle is how far a blade that has least of it must still turn to the direction
	// that the stick points to: counted the way the rotor turns, within ±180°. So it
	// means the same on a rotor that turns the other way. On an ordinary head it is the
	// phase angle of the rotating ring.
	PhaseAngle  units.Angle  `json:"phase_angle" plain:"without=Unreachable"`
	AtLimit     string       `json:"at_limit,omitempty"`     // the servo that is most beyond its pulse limit, there or with the stick centred
	Unreachable *Unreachable `json:"out_of_reach,omitempty"` // the other figures are then zero
}

// CyclicDifference is what two setups' AddedCyclic differ by.
type CyclicDifference struct {
	Pitch      units.Angle `json:"pitch"`       // amplitude
	PhaseAngle units.Angle `json:"phase_angle"` // within ±180°; 0 where one of them adds nothing
	// Apart is the most that the two added pitches differ by as each rotor turns:
	// amplitude and phase angle in one figure, that of B minus A. Blades are compared
	// that have turned equally far past the side that the stick points to. Where both
	// rotors turn the same way, they then stand at the same bearing. Where they turn
	// opposite ways, they do not: two blades at one bearing can differ by more. It is
	// never below 0.
	Apart units.Angle `json:"apart"`
}

// Compare tells what two setups do differently at the blade: two modes of one
// machine, or two machines. The error is a *ModeError for a setup that cannot be
// worked out at all; a position that a machine does not reach is part of the
// answer.
func Compare(a, b Setup) (*Comparison, error) {
	for _, s := range []Setup{a, b} {
		if err := s.Validate(); err != nil {
			return nil, err
		}
	}
	c := &Comparison{
		A:          a.compared(),
		B:          b.compared(),
		Resolution: max(a.rig.file.Gauge.Step, b.rig.file.Gauge.Step),
		GaugeAlike: true,
	}
	for _, stick := range positions(a.mode.setting.Pitch, b.mode.setting.Pitch) {
		row := ComparedRow{Stick: units.Ratio(stick), A: a.at(stick), B: b.at(stick)}
		row.Throttle = row.B.Throttle - row.A.Throttle
		if row.A.Unreachable == nil && row.B.Unreachable == nil {
			by := row.B.Gauge - row.A.Gauge
			row.Pitch = &by
			if c.Largest == nil || size(by) > size(c.Largest.Pitch) {
				c.Largest = &Difference{row.Stick, by}
			}
		}
		if row.Pitch == nil || size(*row.Pitch) >= max(c.Resolution, swash.Level) {
			c.GaugeAlike = false
		}
		c.Rows = append(c.Rows, row)
	}
	var err error
	if c.A.ZeroPitch, err = a.zeros(c.Rows, func(row *ComparedRow) *ComparedSide { return &row.A }); err != nil {
		return nil, err
	}
	if c.B.ZeroPitch, err = b.zeros(c.Rows, func(row *ComparedRow) *ComparedSide { return &row.B }); err != nil {
		return nil, err
	}
	for i, at := range pitch.CyclicEnds() {
		full := ComparedCyclic{Stick: directions[i].name, A: a.Added(at), B: b.Added(at)}
		if full.A.Unreachable == nil && full.B.Unreachable == nil {
			full.Difference = full.A.to(full.B)
		}
		c.Cyclic = append(c.Cyclic, full)
	}
	units.Tidy(c)
	return c, nil
}

func (s Setup) compared() ComparedSetup {
	return ComparedSetup{Machine: s.rig.file.Name, Mode: s.mode.file.Name, Rotation: s.rig.file.Head.Rotation}
}

// positions returns every 1 % of the collective stick and the curves' own points on
// it, rising.
func positions(curves ...*curve.Curve) []float64 {
	const steps = 100
	var at []float64
	for i := range steps + 1 {
		at = append(at, float64(i)/steps)
	}
	for _, c := range curves {
		for _, p := range c.Points() {
			if p.X >= 0 && p.X <= 1 {
				at = append(at, p.X)
			}
		}
	}
	slices.Sort(at)
	return slices.CompactFunc(at, near)
}

// near reports whether two stick positions are too close to be two points of a curve.
func near(a, b float64) bool { return math.Abs(b-a) < curve.MinSpacing }

func size(a units.Angle) units.Angle { return units.Angle(math.Abs(float64(a))) }

// at works out one position of the collective stick.
func (s Setup) at(stick float64) ComparedSide {
	row, err := s.Row(stick)
	if err != nil {
		return ComparedSide{Throttle: s.ThrottleAt(stick), Unreachable: s.unreachable(err)}
	}
	side := ComparedSide{
		Gauge:    row.Gauge,
		Tilt:     row.Tilt,
		LowSide:  row.LowSide,
		OffScale: row.OffScale,
		Throttle: row.Throttle,
		AtLimit:  s.atLimit(row.BeyondLimit),
	}
	if slope, err := s.slope(stick); err == nil {
		side.Slope = &slope
	}
	return side
}

func (s Setup) unreachable(err error) *Unreachable { return &Unreachable{s.rig.Cause(err), err} }

// atLimit names the servo that is most beyond its pulse limit, and "" for none.
func (s Setup) atLimit(by []units.PulseWidth) string {
	servo, most := WorstBeyond(by)
	if most == 0 {
		return ""
	}
	return s.rig.servos[servo].Name
}

// slope returns the pitch per 1 % of collective stick, on the gauge.
func (s Setup) slope(stick float64) (units.Angle, error) {
	at := pitch.Stick{Collective: stick}
	demand, err := s.mode.setting.Demand(at)
	if err != nil {
		return 0, err
	}
	perStick, err := s.mode.setting.Slopes(at)
	if err != nil {
		return 0, err
	}
	control := s.rig.head.Control
	state := control.NewState()
	e, err := s.rig.head.Sensitivity(state, s.rig.file.Gauge.Bearing, demand)
	if err != nil {
		return 0, err
	}
	servos, mix := control.Servos(), control.Mix()
	var perDemand float64
	for i, effect := range state.Effects {
		if state.BeyondLimit[i] == 0 {
			perCommand := float64(servos[i].ArmPerCommand(mix.Command(i, demand)))
			perDemand += effect.PerArm.Dot(e.PerPose) * perCommand * mix[i].Collective
		}
	}
	return units.Angle(perDemand * perStick.Collective * float64(units.Percent)), nil
}

// zeros returns where on the stick the gauge passes through zero or stands there,
// by the worked rows.
func (s Setup) zeros(rows []ComparedRow, side func(*ComparedRow) *ComparedSide) ([]units.Ratio, error) {
	var zeros []units.Ratio
	var last *ComparedRow // the row before, where it is reached
	from := 0             // first row of the stretch at zero
	for i := range rows {
		row := &rows[i]
		here := side(row)
		if here.Unreachable != nil {
			last = nil
			continue
		}
		switch {
		case size(here.Gauge) < swash.Level:
			if last == nil || size(side(last).Gauge) >= swash.Level {
				from = i
			}
			if i == len(rows)-1 || side(&rows[i+1]).Unreachable != nil || size(side(&rows[i+1]).Gauge) >= swash.Level {
				zeros = append(zeros, (rows[from].Stick+row.Stick)/2)
			}
		case last != nil && size(side(last).Gauge) >= swash.Level && (here.Gauge > 0) != (side(last).Gauge > 0):
			zero, err := curve.Invert(func(stick float64) (float64, error) {
				there, err := s.Row(stick)
				return float64(there.Gauge), err
			}, 0, float64(last.Stick), float64(row.Stick))
			if err != nil {
				return nil, err
			}
			zeros = append(zeros, units.Ratio(zero))
		}
		last = row
	}
	return zeros, nil
}

// Added works out what a full cyclic stick adds to the centred one.
func (s Setup) Added(at pitch.Stick) AddedCyclic {
	if err := s.Validate(); err != nil {
		return AddedCyclic{Unreachable: &Unreachable{err.Error(), err}}
	}
	state := s.rig.head.Control.NewState()
	centre, err := s.Revolution(pitch.Stick{Collective: at.Collective}, state)
	if err != nil {
		return AddedCyclic{Unreachable: s.unreachable(err)}
	}
	limited := s.atLimit(state.BeyondLimit)
	full, err := s.Revolution(at, state)
	if err != nil {
		return AddedCyclic{Unreachable: s.unreachable(err)}
	}
	added := s.rig.addedCyclic(full.Cyclic.Sub(centre.Cyclic), at)
	added.AtLimit = cmp.Or(s.atLimit(state.BeyondLimit), limited)
	return added
}

// addedCyclic describes the cyclic pitch that a stick position adds.
func (r *Rig) addedCyclic(added pitch.Cyclic, at pitch.Stick) AddedCyclic {
	amplitude := added.Amplitude()
	if amplitude < swash.Level {
		return AddedCyclic{}
	}
	phase := added.Phase()
	least := phase + 180*units.Degree
	return AddedCyclic{Pitch: amplitude, Phase: phase, PhaseAngle: r.turnwise(swash.Bearing(at.Right, at.Forward) - least)}
}

// turnwise returns an angle of bearing as one of the rotor's turning, within ±180°.
func (r *Rig) turnwise(bearing units.Angle) units.Angle {
	if r.file.Head.Rotation == pitch.CounterClockwise {
		bearing = -bearing
	}
	return halfTurn(bearing)
}

// halfTurn returns an angle without its whole turns, within ±180°.
func halfTurn(a units.Angle) units.Angle {
	return units.Angle(math.Remainder(float64(a), 2*math.Pi))
}

// to returns what b differs from a by.
func (a AddedCyclic) to(b AddedCyclic) *CyclicDifference {
	d := &CyclicDifference{Pitch: b.Pitch - a.Pitch}
	if a.Pitch != 0 && b.Pitch != 0 {
		d.PhaseAngle = halfTurn(b.PhaseAngle - a.PhaseAngle)
	}
	// The third side of the triangle of both, by the half angle: of no
	// cancellation where they are alike.
	half := math.Sin(float64(d.PhaseAngle) / 2)
	d.Apart = units.Angle(math.Hypot(float64(d.Pitch), 2*half*math.Sqrt(float64(a.Pitch)*float64(b.Pitch))))
	return d
}
