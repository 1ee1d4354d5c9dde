package setup

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Sticks returns the positions of the collective stick that every sheet shows, besides the
// curve's own points.
func Sticks() [5]float64 { return [...]float64{0, 0.25, 0.5, 0.75, 1} }

// Row is the machine at one position of the collective stick, cyclic centred.
type Row struct {
	Stick       units.Ratio        `json:"stick"`
	Demand      units.Ratio        `json:"demand"` // value of the pitch curve
	Pulses      []units.PulseWidth `json:"pulses" plain:"without=Unreachable"`
	Arms        []units.Angle      `json:"arms" plain:"without=Unreachable"`
	BeyondLimit []units.PulseWidth `json:"beyond_limit" plain:"without=Unreachable"`
	Height      units.Length       `json:"height" plain:"without=Unreachable"`
	Tilt        units.Angle        `json:"tilt" plain:"without=Unreachable"`
	LowSide     units.Angle        `json:"low_side" plain:"without=Unreachable"`
	Fights      []swash.Fight      `json:"fights,omitempty"` // of the servos, where there are more than three
	Gauge       units.Angle        `json:"gauge" plain:"without=Unreachable"`
	OffScale    bool               `json:"off_scale" plain:"without=Unreachable"` // the gauge does not go that far
	Throttle    units.Ratio        `json:"throttle"`                              // with hold on where the mode has it on
	// Unreachable is what keeps the machine from getting there at all; the figures of
	// plate and gauge are then zero.
	Unreachable string `json:"unreachable,omitempty"`
}

// Row works out one position of the collective stick in a mode. The error is a
// *ModeError.
func (s Setup) Row(stick float64) (Row, error) {
	if !s.Works() {
		if s.mode == nil || s.mode.unmet == nil {
			return Row{}, s.Validate()
		}
		return Row{}, s.fail(stick, s.mode.unmet)
	}
	if !(stick >= 0 && stick <= 1) {
		return Row{}, s.fail(stick, &units.FieldError{Field: "stick", Reason: fmt.Sprintf("must be from 0 to 1, not %v", stick)})
	}
	state := s.rig.head.Control.NewState()
	demand, err := s.mode.setting.Demand(pitch.Stick{Collective: stick})
	if err != nil {
		return Row{}, s.fail(stick, err)
	}
	gauge, pose, err := s.rig.head.Blade(state, s.rig.file.Gauge.Bearing, demand)
	if err != nil {
		return Row{}, s.fail(stick, err)
	}
	row := Row{
		Stick:       units.Ratio(stick),
		Demand:      units.Ratio(s.mode.setting.Pitch.At(stick)),
		Pulses:      state.Pulses,
		Arms:        state.Arms,
		BeyondLimit: state.BeyondLimit,
		Height:      pose.Height,
		Tilt:        pose.Tilt.Amount(),
		LowSide:     pose.Tilt.LowSideShown(),
		Gauge:       gauge,
		OffScale:    s.rig.file.Gauge.OffScale(gauge),
		Throttle:    s.ThrottleAt(stick),
	}
	if plate, ok := s.rig.head.Control.Mechanism().(*swash.Plate); ok && plate.Servos() > 3 {
		row.Fights = make([]swash.Fight, plate.Servos())
		if err := plate.Fights(row.Fights, pose, row.Arms); err != nil {
			return Row{}, s.fail(stick, err)
		}
	}
	return row, nil
}

// RowOrStop is Row, with what stops it as part of the answer.
func (s Setup) RowOrStop(stick float64) Row {
	row, err := s.Row(stick)
	switch {
	case err == nil:
		return row
	case !s.Works():
		return Row{Stick: units.Ratio(stick), Unreachable: err.Error()}
	}
	n := len(s.rig.servos)
	return Row{
		Stick:       units.Ratio(stick),
		Demand:      units.Ratio(s.mode.setting.Pitch.At(stick)),
		Pulses:      make([]units.PulseWidth, n),
		Arms:        make([]units.Angle, n),
		BeyondLimit: make([]units.PulseWidth, n),
		Throttle:    s.ThrottleAt(stick),
		Unreachable: s.rig.Cause(err),
	}
}

// WorstBeyond returns the servo that would have to go farthest beyond its pulse limit, and
// by how much.
func WorstBeyond(beyond []units.PulseWidth) (servo int, by units.PulseWidth) {
	for i, p := range beyond {
		if math.Abs(float64(p)) > math.Abs(float64(by)) {
			servo, by = i, p
		}
	}
	return servo, by
}
