package sheet

import (
	"math"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

func (b *bench) neutral() (Neutral, error) {
	control := b.head.Control
	state := control.NewState()
	pose, _, err := control.Slopes(state, swash.Demand{})
	if err != nil {
		return Neutral{}, err
	}
	gauge, err := b.head.Grip.Pitch(b.file.Gauge.Bearing, pose)
	if err != nil {
		return Neutral{}, err
	}
	n := Neutral{Height: pose.Height, Tilt: pose.Tilt.Amount(), Low: pose.Tilt.LowSideShown(), Gauge: gauge}
	for i, s := range b.servos {
		off := state.Effects[i].OffSquare
		teeth, _, err := s.Type.Spline.Square(off)
		if err != nil {
			return Neutral{}, err
		}
		servo := NeutralServo{Name: s.Name, Pulse: state.Pulses[i], OffSquare: off, Teeth: teeth}
		if i < len(b.parts.Plate.Legs) {
			bearing := b.parts.Plate.Legs[i].Ball.Bearing
			servo.Bearing = &bearing
		}
		n.Servos = append(n.Servos, servo)
	}
	b.square(n.Servos)
	for _, link := range b.parts.Links() {
		n.Links = append(n.Links, Link{link.Name, link.Length})
	}
	n.Links = append(n.Links, Link{"pitch link", b.parts.Grip.Link})
	return n, nil
}

// square puts into servos the sub-trims that square all arms together, after their
// teeth are moved. Each arm's link tilts with the others, so it goes round a few times.
func (b *bench) square(servos []NeutralServo) {
	trims := b.head.Control.Servos()
	for i := range trims {
		trims[i].Mount += units.Angle(servos[i].Teeth) * b.servos[i].Type.Spline.Step()
		trims[i].Step = 0
	}
	const (
		rounds = 30
		enough = 1e-9 // rad
	)
	squared := false
	for range rounds {
		control, err := swash.NewControl(b.head.Control.Mechanism(), trims, b.head.Control.Mix())
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
		trims[i].Step = b.file.Radio.PulseStep
		trim, err := trims[i].SubTrimFor(trims[i].Arm(trims[i].Neutral + trims[i].SubTrim))
		servos[i].SubTrim, servos[i].NoTrim = trim, err != nil || !squared
	}
}
