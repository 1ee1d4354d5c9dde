package sheet

import (
	"math"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// fightWatch looks for servos that fight over a plate of more than three legs, at all
// positions of the sticks.
type fightWatch struct {
	bench *bench
	plate *swash.Plate // nil for machines whose servos cannot fight
	now   []swash.Fight
	worst swash.Fight
	at    Place
}

func newFightWatch(b *bench) *fightWatch {
	w := &fightWatch{bench: b}
	if plate, ok := b.head.Control.Mechanism().(*swash.Plate); ok && plate.Servos() > 3 {
		w.plate, w.now = plate, make([]swash.Fight, plate.Servos())
	}
	return w
}

func (w *fightWatch) take(pose swash.Pose, state *swash.State, place Place) {
	if w.plate == nil || w.plate.Fights(w.now, pose, state.Arms) != nil {
		return
	}
	for i, f := range w.now {
		if math.Abs(float64(f.Strain)) > math.Abs(float64(w.worst.Strain)) {
			w.worst, w.at = f, place
			w.at.Servo = w.bench.servos[i].Name
		}
	}
}

func (w *fightWatch) findings(n Neutral) []Finding {
	b := w.bench
	f := servosFight{Place: w.at, Strain: max(w.worst.Strain, -w.worst.Strain), Limit: b.limits.Strain}
	if f.Strain.Millimetres() <= f.Limit.Millimetres() {
		return nil
	}
	if w.worst.Force != 0 {
		f.Force, f.Torque = known(w.worst.Force), known(w.worst.Torque)
	}
	f.relief, f.Trims = b.relief(n)
	return []Finding{report(f)}
}

// relief returns how sub-trim brings the strain down with collective and cyclic at zero.
// Squaring the arms comes first, because it sets other sub-trims.
func (b *bench) relief(n Neutral) (relief, []trim) {
	control := b.head.Control
	state := control.NewState()
	pose, err := control.Pose(state, swash.Demand{})
	if err != nil || control.Mechanism().Arms(state.Arms, pose) != nil {
		return correctTrims, nil
	}
	var trims []trim
	same := true
	for i, s := range b.parts.Servos {
		t, err := s.SubTrimFor(state.Arms[i])
		if err != nil {
			return correctTrims, nil
		}
		same = same && b.alike(t, s.SubTrim)
		trims = append(trims, trim{b.servos[i].Name, t})
	}
	switch {
	case same:
		return leaveTrims, nil
	case b.unsquared(n):
		return squareFirst, nil
	}
	return setTrims, trims
}

// unsquared reports whether a servo's arm needs another spline tooth or sub-trim to be square.
func (b *bench) unsquared(n Neutral) bool {
	for i, s := range n.Servos {
		if !s.NoTrim && (s.Teeth != 0 || !b.alike(s.SubTrim, b.parts.Servos[i].SubTrim)) {
			return true
		}
	}
	return false
}

// alike reports whether two sub-trims are one to the radio, and as the sheet shows them.
func (b *bench) alike(x, y units.PulseWidth) bool {
	const shown = units.Microsecond / 10
	return math.Abs(float64(x-y)) <= math.Max(float64(b.file.Radio.PulseStep), float64(shown))/2
}
