package sheet

import (
	"fmt"
	"math"
	"strings"

	"example.org/levelhead/pitch/machine"

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
	servo int
	at    string
}

func newFightWatch(b *bench) *fightWatch {
	w := &fightWatch{bench: b}
	if plate, ok := b.head.Control.Mechanism().(*swash.Plate); ok && plate.Servos() > 3 {
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

func (w *fightWatch) findings(n Neutral) []Finding {
	b := w.bench
	strain := math.Abs(w.worst.Strain.Millimetres())
	if strain <= b.limits.Strain.Millimetres() {
		return nil
	}
	figure := fmt.Sprintf("the link of servo %s is strained by %.2f mm (%s). That is in %s", b.servos[w.servo].Name, strain, machine.LimitText(b.limits.Strain, ours.Strain), w.at)
	if w.worst.Force != 0 {
		figure += fmt.Sprintf(". The force along the link is %.0f N. Its servo holds %.3f N·m, buzzes and runs hot", math.Abs(w.worst.Force.Newtons()), math.Abs(w.worst.Torque.NewtonMetres()))
	}
	return []Finding{{Severity: Fix, Where: "servos", What: "Servos fight each other over the swashplate", Figure: figure, Do: b.relief(n)}}
}

// relief says how sub-trim brings the strain down with collective and cyclic at zero, and
// what it cannot cure. Squaring the arms comes first, because it sets other sub-trims.
func (b *bench) relief(n Neutral) string {
	const rest = "Some strain stays over the travel. It comes from the arcs of the arms, and from unequal links, arms or end points. Sub-trim does not cure it; less cyclic and longer links do."
	control := b.head.Control
	state := control.NewState()
	pose, err := control.Pose(state, swash.Demand{})
	if err != nil || control.Mechanism().Arms(state.Arms, pose) != nil {
		return "Correct the sub-trims at neutral. " + rest
	}
	var trims []string
	same := true
	for i, s := range b.parts.Servos {
		trim, err := s.SubTrimFor(state.Arms[i])
		if err != nil {
			return "Correct the sub-trims at neutral. " + rest
		}
		same = same && b.alike(trim, s.SubTrim)
		trims = append(trims, b.servos[i].Name+" "+signed(trim))
	}
	if same {
		return "Leave the sub-trims. With collective and cyclic at zero, no other values strain the links less. " + rest
	}
	if b.unsquared(n) {
		return "Square the servo arms first, as the sheet says for neutral. Then type the new values into the file and print again. " + rest
	}
	return "Set these sub-trims: " + strings.Join(trims, ", ") + ". With collective and cyclic at zero, no link is then strained. " + rest
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
