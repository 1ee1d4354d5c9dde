package setup

import (
	"fmt"
	"reflect"
	"slices"

	"example.org/levelhead/curve"
	"example.org/levelhead/units"
)

// The changes of lead that a transfer finds fault with. Chosen here, no source.
const (
	leadNoted = 1 * units.Degree  // a pilot hardly feels less
	leadGrave = 45 * units.Degree // the machine goes more to another side than to the stick's
)

// check looks for what a transfer cannot transfer, and for what it transfers that
// a hand near the rotor must know of.
func (c *carrier) check(t *Transfer) []Finding {
	mode := &RigMode{Mode: &t.Mode, Setting: t.Entered, Throttle: c.from.Mode.Throttle}
	found := c.to.checkThrottle(mode)
	for _, l := range t.Phases {
		if size(l.Change) < leadNoted {
			continue
		}
		severity := Fix
		if size(l.Change) >= leadGrave {
			severity = Stop
		}
		found = append(found, Finding{Severity: severity, What: "Cyclic acts in another direction",
			Figure: fmt.Sprintf("at %s the blade leads by %.1f° here and by %.1f° on %s: %+.1f°", l.Stick, l.To.Degrees(), l.From.Degrees(), t.From, l.Change.Degrees()),
			Do:     "Rates do not cure it: look at the ring's phase, the horn's side and the cyclic senses of the mixing."})
	}
	if a, b := c.from.Rig.Machine.Head.Rotation, c.to.Machine.Head.Rotation; a != b {
		found = append(found, Finding{Severity: Note, What: "The rotors turn opposite ways",
			Figure: fmt.Sprintf("%s there, %s here", a, b),
			Do:     "Cyclic is compared by the way each rotor turns. See to the tail rotor by itself."})
	}
	found = append(found, c.to.checkRates(mode)...)
	found = append(found, c.to.checkCorners(SheetMode{Corners: c.to.corners(mode)})...)
	if size(t.Worst.Pitch) > c.within() {
		do := fmt.Sprintf("A curve of %d points comes within it.", t.Enough)
		if t.Enough == 0 {
			do = fmt.Sprintf("No curve of up to %d points comes within it.", curve.MaxPoints)
		}
		found = append(found, Finding{Severity: Note, What: "Blade pitch differs between the points of the curve",
			Figure: fmt.Sprintf("by %+.2f° at stick %v, half a gauge step is %.2f°", t.Worst.Pitch.Degrees(), t.Worst.Stick, c.within().Degrees()), Do: do})
	}
	if !sameDrive(c.from.Rig, c.to) {
		found = append(found, Finding{Severity: Fix, What: "The throttle curve is another drive's",
			Figure: "transferred as it is from " + t.From,
			Do:     "Keep it only with an equal drive and an equal rotor. Else make a new one before " + c.to.Machine.alive() + "."})
	}
	slices.SortStableFunc(found, bySeverity)
	return inMode(mode, found)
}

// sameDrive reports whether two rigs are known to turn like rotors by like drives: one
// rig, or two whose files say so.
func sameDrive(a, b *Rig) bool {
	p, q := a.Machine, b.Machine
	return a == b || p.Power != nil && p.Rotor != nil && reflect.DeepEqual(p.Power, q.Power) && reflect.DeepEqual(p.Rotor, q.Rotor)
}
