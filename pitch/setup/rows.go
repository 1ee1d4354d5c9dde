package setup

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// level is the tilt below which a plate counts as level, so that rounding shows
// no low side.
const level = 1e-7 * units.Degree

// lowSide returns where a tilted plate is lowest, from the nose, and 0 for a level plate.
func lowSide(l swash.Tilt) units.Angle {
	if l.Amount() < level {
		return 0
	}
	return l.LowSide()
}

// offScale reports whether the gauge, read to half a step, cannot show an angle.
func (g *Gauge) offScale(p units.Angle) bool {
	return p < g.Low-g.Step/2 || p > g.High+g.Step/2
}

// direction says where a bearing from the nose points: "tail (180°)".
func direction(bearing units.Angle) string {
	names := [...]string{"nose", "right front", "right side", "right rear", "tail", "left rear", "left side", "left front"}
	degrees := math.Mod(math.Round(bearing.Degrees())+720, 360)
	return fmt.Sprintf("%s (%.0f°)", names[int(math.Round(degrees/45))%len(names)], degrees)
}

// sticks are the positions every sheet shows, besides the curve's own points.
var sticks = [...]float64{0, 0.25, 0.5, 0.75, 1}

func (r *Rig) neutral() (Neutral, error) {
	control := r.Head.Control
	state := control.NewState()
	pose, _, err := control.Slopes(state, swash.Demand{})
	if err != nil {
		return Neutral{}, err
	}
	gauge, err := r.Head.Grip.Pitch(r.Machine.Gauge.Bearing, pose)
	if err != nil {
		return Neutral{}, err
	}
	n := Neutral{Height: pose.Height, Tilt: pose.Tilt.Amount(), Low: lowSide(pose.Tilt), Gauge: gauge}
	for i, s := range r.Servos {
		off := state.Effects[i].OffSquare
		teeth, _, err := s.Type.Spline.Square(off)
		if err != nil {
			return Neutral{}, err
		}
		servo := NeutralServo{Name: s.Name, Pulse: state.Pulses[i], OffSquare: off, Teeth: teeth}
		if i < len(r.parts.Plate.Legs) {
			bearing := r.parts.Plate.Legs[i].Ball.Bearing
			servo.Bearing = &bearing
		}
		n.Servos = append(n.Servos, servo)
	}
	r.square(n.Servos)
	for i, length := range r.parts.Links() {
		n.Links = append(n.Links, Link{r.links[i], *length})
	}
	n.Links = append(n.Links, Link{"pitch link", r.parts.Grip.Link})
	return n, nil
}

// square puts into servos the sub-trims that square all arms together, after their
// teeth are moved. Each arm's link tilts with the others, so it goes round a few times.
func (r *Rig) square(servos []NeutralServo) {
	trims := r.Head.Control.Servos()
	for i := range trims {
		trims[i].Mount += units.Angle(servos[i].Teeth) * r.Servos[i].Type.Spline.Step()
		trims[i].Step = 0
	}
	const (
		rounds = 30
		enough = 1e-9 // rad
	)
	squared := false
	for range rounds {
		control, err := swash.NewControl(r.Head.Control.Mechanism(), trims, r.Head.Control.Mix())
		if err != nil {
			break // a trim beyond the pulse limits
		}
		state := control.NewState()
		if _, _, err := control.Slopes(state, swash.Demand{}); err != nil {
			break
		}
		var worst float64
		for i, e := range state.Effects {
			worst = math.Max(worst, math.Abs(float64(e.OffSquare)))
			trims[i].SubTrim -= units.PulseWidth(e.OffSquare/trims[i].Travel) * trims[i].Throw
		}
		if squared = worst < enough; squared {
			break
		}
	}
	for i := range servos {
		trims[i].Step = r.Machine.Radio.PulseStep
		trim, err := trims[i].SubTrimFor(trims[i].Arm(trims[i].Neutral + trims[i].SubTrim))
		servos[i].SubTrim, servos[i].NoTrim = trim, err != nil || !squared
	}
}

// Row works out one position of the collective stick in a mode. The error is a
// *ModeError.
func (r *Rig) Row(m *RigMode, stick float64) (Row, error) {
	if !m.Works() {
		return Row{}, m.fail(stick, m.Unmet)
	}
	state := r.Head.Control.NewState()
	demand, err := m.Setting.Demand(pitch.Stick{Collective: stick})
	if err != nil {
		return Row{}, m.fail(stick, err)
	}
	gauge, pose, err := r.Head.Blade(state, r.Machine.Gauge.Bearing, demand)
	if err != nil {
		return Row{}, m.fail(stick, err)
	}
	row := Row{
		Stick:       units.Ratio(stick),
		Demand:      units.Ratio(m.Setting.Pitch.At(stick)),
		Pulses:      state.Pulses,
		Arms:        state.Arms,
		BeyondLimit: state.BeyondLimit,
		Height:      pose.Height,
		Tilt:        pose.Tilt.Amount(),
		LowSide:     lowSide(pose.Tilt),
		Gauge:       gauge,
		OffScale:    r.Machine.Gauge.offScale(gauge),
		Throttle:    m.throttle(stick),
	}
	if plate, ok := r.Head.Control.Mechanism().(*swash.Plate); ok && plate.Servos() > 3 {
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

// rowOrStop is Row, with what stops it as part of the answer.
func (r *Rig) rowOrStop(m *RigMode, stick float64) Row {
	row, err := r.Row(m, stick)
	if err == nil {
		return row
	}
	n := len(r.Servos)
	return Row{
		Stick:       units.Ratio(stick),
		Demand:      units.Ratio(m.Setting.Pitch.At(stick)),
		Pulses:      make([]units.PulseWidth, n),
		Arms:        make([]units.Angle, n),
		BeyondLimit: make([]units.PulseWidth, n),
		Throttle:    m.throttle(stick),
		Unreachable: r.cause(err),
	}
}
