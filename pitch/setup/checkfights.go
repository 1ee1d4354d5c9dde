package setup

import (
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// fightWatch looks for servos that fight over a plate of more than three legs, over
// the whole volume of the sticks, and apart from that with cyclic centred.
type fightWatch struct {
	rig   *Rig
	plate *swash.Plate // nil for machines whose servos cannot fight
	now   []swash.Fight
	worst swash.Fight
	servo int
	at    string
}

func newFightWatch(r *Rig) *fightWatch {
	w := &fightWatch{rig: r}
	if plate, ok := r.Head.Control.Mechanism().(*swash.Plate); ok && plate.Servos() > 3 {
		w.plate, w.now = plate, make([]swash.Fight, plate.Servos())
	}
	return w
}

func (w *fightWatch) take(pose swash.Pose, state *swash.State, place func() string) {
	if w.plate == nil || w.plate.Fights(w.now, pose, state.Arms) != nil {
		return
	}
	for i, f := range w.now {
		if math.Abs(float64(f.Strain)) > math.Abs(float64(w.worst.Strain)) {
			w.worst, w.servo, w.at = f, i, place()
		}
	}
}

func (w *fightWatch) findings() []Finding {
	r := w.rig
	strain := math.Abs(w.worst.Strain.Millimetres())
	if strain <= r.Limits.Strain.Millimetres() {
		return nil
	}
	figure := fmt.Sprintf("the %s link is strained by %.2f mm at %s (%s)", r.Servos[w.servo].Name, strain, w.at, LimitText(r.Limits.Strain, ours.Strain))
	if w.worst.Force != 0 {
		figure += fmt.Sprintf(": %.0f N along it, %.3f N·m at its servo, which buzzes and runs hot", math.Abs(w.worst.Force.Newtons()), math.Abs(w.worst.Torque.NewtonMetres()))
	}
	return []Finding{{Severity: Fix, Where: "servos", What: "Servos fight each other over the plate", Figure: figure, Do: r.relief()}}
}

// relief says how sub-trim brings the strain down with collective and cyclic at zero, and
// what it cannot cure.
func (r *Rig) relief() string {
	const rest = "What then remains over the travel comes from the arcs of the arms, and from unlike links, arms or end points: sub-trim does not cure that; less cyclic and longer links do."
	drive := r.Head.Control
	state := drive.NewState()
	pose, err := drive.Pose(state, swash.Demand{})
	if err != nil || drive.Mechanism().Arms(state.Arms, pose) != nil {
		return "Put the sub-trims right at neutral. " + rest
	}
	var trims []string
	same := true
	for i, s := range r.parts.Servos {
		trim, err := s.SubTrimFor(state.Arms[i])
		if err != nil {
			return "Put the sub-trims right at neutral. " + rest
		}
		same = same && math.Abs(float64(trim-s.SubTrim)) <= float64(r.Machine.Radio.PulseStep)/2
		trims = append(trims, fmt.Sprintf("%s %+.4g µs", r.Servos[i].Name, units.Round(trim, 1).Microseconds()))
	}
	if same {
		return "Leave the sub-trims: with collective and cyclic at zero no other ones strain the links less. " + rest
	}
	return "Set these sub-trims: " + strings.Join(trims, ", ") + ". They leave no link strained with collective and cyclic at zero. " + rest
}
