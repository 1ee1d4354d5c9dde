package choose

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch"
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
	control := rig.Head.Control
	m := &measurer{rig: rig, state: control.NewState(), servos: control.Servos()}
	m.rating, _ = rig.Ratings()
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
func (m *measurer) reject(mode *setup.RigMode, where string, err error) {
	m.unfit = append(m.unfit, &setup.ModeError{Mode: mode.Mode.Name, Where: where, Err: err})
}

// take measures one mode, whose pitch is off by the angle given. A mode that cannot be set,
// or that cannot reach all stick positions, is rejected and measured no further.
func (m *measurer) take(mode *setup.RigMode, off units.Angle) {
	m.Measures = none
	m.Error = off
	if mode.Unmet != nil {
		m.reject(mode, "targets", mode.Unmet)
		return
	}
	for name, rate := range mode.Setting.Rates.All() {
		if rate = max(rate, -rate); rate > m.Rate {
			m.Rate, m.rate = rate, name
		}
	}
	for _, measure := range []func(*setup.RigMode) bool{m.collective, m.sweep, m.targets, m.load} {
		if !measure(mode) {
			break
		}
	}
	m.round()
}

// collective finds tilt and resolution over the collective stick.
func (m *measurer) collective(mode *setup.RigMode) bool {
	for k := range rows {
		stick := float64(k) / (rows - 1)
		demand, err := mode.Setting.Demand(pitch.Stick{Collective: stick})
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
	s, err := m.rig.Head.Sensitivity(m.state, m.rig.Machine.Gauge.Bearing, demand)
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
func (m *measurer) sweep(mode *setup.RigMode) bool {
	share := func(k int) float64 { return float64(k) / (grid - 1) }
	for c := range grid {
		for a := range grid {
			for e := range grid {
				at := pitch.Stick{Collective: share(c), Right: 2*share(a) - 1, Forward: 2*share(e) - 1}
				if err := m.reach(mode, at); err != nil {
					m.reject(mode, at.String(), err)
					return false
				}
			}
		}
	}
	return true
}

func (m *measurer) reach(mode *setup.RigMode, at pitch.Stick) error {
	demand, err := mode.Setting.Demand(at)
	if err != nil {
		return err
	}
	pose, _, err := m.rig.Head.Control.Slopes(m.state, demand)
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
		e, err := m.rig.Head.Grip.Effect(units.Angle(k)*2*math.Pi/bearings, pose)
		if err != nil {
			return err
		}
		margin = math.Min(margin, e.Margin)
	}
	m.DeadCentre = min(m.DeadCentre, units.Angle(math.Asin(margin)))
	return nil
}

// fullCyclic are the stick positions of a cyclic target.
var fullCyclic = [...]pitch.Stick{{Collective: 0.5, Right: 1}, {Collective: 0.5, Forward: 1}}

// targets finds how far the pitch is from the mode's targets.
func (m *measurer) targets(mode *setup.RigMode) bool {
	t := mode.Mode.Targets
	if t == nil {
		return true
	}
	miss := func(got, want units.Angle) { m.Error = max(m.Error, got-want, want-got) }
	for _, target := range t.Collective {
		row, err := m.rig.Row(mode, float64(target.Stick))
		if err != nil {
			m.unfit = append(m.unfit, err)
			return false
		}
		miss(row.Gauge, target.Pitch)
	}
	centre, err := m.cyclic(mode, pitch.Stick{Collective: 0.5})
	for _, full := range fullCyclic {
		var c pitch.Cyclic
		if err == nil {
			c, err = m.cyclic(mode, full)
		}
		if err != nil {
			m.reject(mode, "mid stick, full cyclic", err)
			return false
		}
		miss(units.Angle(math.Hypot(float64(c.Cosine-centre.Cosine), float64(c.Sine-centre.Sine))), t.Cyclic)
	}
	return true
}

// cyclic returns the blade's pitch over a revolution, as a mean and two cyclic parts.
func (m *measurer) cyclic(mode *setup.RigMode, at pitch.Stick) (pitch.Cyclic, error) {
	demand, err := mode.Setting.Demand(at)
	if err != nil {
		return pitch.Cyclic{}, err
	}
	pose, err := m.rig.Head.Control.Pose(m.state, demand)
	if err != nil {
		return pitch.Cyclic{}, err
	}
	rev, err := m.rig.Head.Grip.Revolution(pose)
	return rev.Cyclic, err
}
