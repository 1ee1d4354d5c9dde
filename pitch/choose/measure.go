package choose

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// The numbers of stick positions that are looked at, from end to end.
const (
	rows = 41 // of collective, cyclic centred
	grid = 5  // of each stick
)

// measurer measures a rig, one flight mode after another.
type measurer struct {
	rig      *setup.Rig
	state    *swash.State
	servos   []servo.Servo
	steps    []units.Angle  // of each arm: one radio pulse step towards more collective
	dead     []units.Angle  // of each arm: half the deadband, likewise; nil without ratings
	rating   []servo.Rating // of each servo; nil where one has none
	Measures                // of the mode that is measured
	rate     string         // the name of its largest rate
	unfit    []error        // of all modes
}

func newMeasurer(rig *setup.Rig) (*measurer, error) {
	control := rig.Head().Control
	m := &measurer{rig: rig, state: control.NewState(), servos: control.Servos()}
	m.rating, _ = load.Ratings(rig)
	mix := control.Mix()
	for i, s := range m.servos {
		up := units.Angle(0)
		if rise := float64(s.ArmPerCommand(0)) * mix[i].Collective; rise != 0 {
			up = units.Angle(math.Copysign(1, rise))
		}
		m.steps = append(m.steps, up*s.ArmPerStep())
		if m.rating == nil {
			continue
		}
		// Without load a servo is off by half its deadband.
		half, err := m.rating[i].ArmYield(m.rating[i].Points[0], &s, 0)
		if err != nil {
			return nil, err
		}
		m.dead = append(m.dead, up*half)
	}
	return m, nil
}

// reject adds a reason against a mode.
func (m *measurer) reject(mode setup.Setup, where string, err error) {
	m.unfit = append(m.unfit, &setup.ModeError{Mode: mode.Name(), Where: where, Err: err})
}

// take measures one mode, whose pitch is off by the angle given. A mode that cannot be set,
// or that cannot reach all stick positions, is rejected and measured no further.
func (m *measurer) take(mode setup.Setup, off units.Angle) {
	m.Measures = none
	m.Error = off
	if mode.Unmet() != nil {
		m.reject(mode, "targets", mode.Unmet())
		return
	}
	for name, rate := range mode.Setting().Rates.All() {
		if rate = max(rate, -rate); rate > m.Rate {
			m.Rate, m.rate = rate, name
		}
	}
	for _, measure := range []func(setup.Setup) bool{m.collective, m.sweep, m.targets, m.load} {
		if !measure(mode) {
			break
		}
	}
	m.round()
}

// collective finds tilt and resolution over the collective stick.
func (m *measurer) collective(mode setup.Setup) bool {
	for k := range rows {
		stick := float64(k) / (rows - 1)
		demand, err := mode.Setting().Demand(pitch.Stick{Collective: stick})
		if err == nil {
			err = m.row(demand)
		}
		if err != nil {
			m.reject(mode, fmt.Sprintf("stick %v", units.Ratio(stick)), err)
			return false
		}
	}
	return true
}

func (m *measurer) row(demand swash.Demand) error {
	s, err := m.rig.Head().Sensitivity(m.state, m.rig.Gauge().Bearing, demand)
	if err != nil {
		return err
	}
	m.Tilt = max(m.Tilt, s.Pose.Tilt.Amount())
	m.Step = max(m.Step, m.together(m.steps, &s))
	m.Deadband = max(m.Deadband, m.together(m.dead, &s))
	return nil
}

// together returns by how much the blade's pitch changes, as an amount, if the arms turn by
// the angles given.
func (m *measurer) together(turns []units.Angle, s *pitch.Sensitivity) units.Angle {
	var change float64
	for i, turn := range turns {
		change += float64(turn) * m.state.Effects[i].PerArm.Dot(s.PerPose)
	}
	return units.Angle(math.Abs(change))
}

// sweep finds what limits travel, over a grid of all sticks.
func (m *measurer) sweep(mode setup.Setup) bool {
	for at := range pitch.Grid(grid) {
		if err := m.reach(mode, at); err != nil {
			m.reject(mode, at.String(), err)
			return false
		}
	}
	return true
}

func (m *measurer) reach(mode setup.Setup, at pitch.Stick) error {
	demand, err := mode.Setting().Demand(at)
	if err != nil {
		return err
	}
	pose, _, err := m.rig.Head().Control.Slopes(m.state, demand)
	if err != nil {
		return err
	}
	margin := 1.
	for i, e := range m.state.Effects {
		margin = math.Min(margin, e.Margin)
		m.BallLinkAngle = max(m.BallLinkAngle, e.BallLinkAngle)
		m.BeyondLimit = max(m.BeyondLimit, m.state.BeyondLimit[i], -m.state.BeyondLimit[i])
	}
	for i := range m.servos {
		m.Use = max(m.Use, m.servos[i].Use(m.state.Pulses[i]))
	}
	const bearings = 8
	for k := range bearings {
		e, err := m.rig.Head().Grip.Effect(units.Angle(k)*2*math.Pi/bearings, pose)
		if err != nil {
			return err
		}
		margin = math.Min(margin, e.Margin)
	}
	m.DeadCentre = min(m.DeadCentre, units.Angle(math.Asin(margin)))
	return nil
}

// targets finds how far the pitch is from the mode's targets.
func (m *measurer) targets(mode setup.Setup) bool {
	t := mode.Mode().Targets
	if t == nil {
		return true
	}
	miss := func(got, want units.Angle) { m.Error = max(m.Error, got-want, want-got) }
	for _, target := range t.Collective {
		row, err := mode.Row(float64(target.Stick))
		if err != nil {
			m.unfit = append(m.unfit, err)
			return false
		}
		miss(row.Gauge, target.Pitch)
	}
	for _, full := range pitch.FullCyclic() {
		added := mode.Added(full)
		if added.Unreachable != nil {
			m.reject(mode, "mid stick, full cyclic", added.Unreachable.Err)
			return false
		}
		miss(added.Pitch, t.Cyclic)
	}
	return true
}
