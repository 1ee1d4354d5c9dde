package setup

import (
	"fmt"
	"reflect"
	"slices"

	"example.org/levelhead/curve"
	"example.org/levelhead/units"
)

// The changes of phase angle that a transfer finds fault with. Chosen here, no source.
const (
	phaseNoted = 1 * units.Degree  // a pilot hardly feels less
	phaseGrave = 45 * units.Degree // the machine goes more to another side than to the stick's
)

// check looks for what a transfer cannot bring about, and for what it copies that somebody
// near the rotor must know of.
func (c *transferrer) check(t *Transfer) []Finding {
	mode := &RigMode{Mode: &t.Mode, Setting: t.Entered, Throttle: c.from.Mode.Throttle}
	found := c.to.checkThrottle(mode)
	for _, l := range t.Phases {
		if size(l.Change) < phaseNoted {
			continue
		}
		severity := Fix
		if size(l.Change) >= phaseGrave {
			severity = Stop
		}
		found = append(found, Finding{Severity: severity, What: "Cyclic acts in another direction",
			Figure: fmt.Sprintf("at %s the phase angle is %.1f° here, and %.1f° on %s: a change of %+.1f°", l.Stick, l.To.Degrees(), l.From.Degrees(), t.From, l.Change.Degrees()),
			Do:     "Check the phase angle of the rotating ring, the side of the pitch horn and the cyclic signs of the mixing. Rates do not cure it."})
	}
	if a, b := c.from.Rig.Machine.Head.Rotation, c.to.Machine.Head.Rotation; a != b {
		found = append(found, Finding{Severity: Note, What: "The rotors turn opposite ways",
			Figure: fmt.Sprintf("%s on %s, %s here", a, t.From, b),
			Do:     "Set up the tail rotor by itself. Cyclic is compared as each rotor turns, not with the blades at the same side of the machine."})
	}
	found = append(found, c.to.checkRates(mode)...)
	found = append(found, c.to.checkCorners(SheetMode{Corners: c.to.corners(mode)})...)
	if size(t.Worst.Pitch) > c.within() {
		do := fmt.Sprintf("Use a curve of %d points to come within that.", t.Enough)
		if t.Enough == 0 {
			do = fmt.Sprintf("Accept it, or set more points by hand. No curve of up to %d points comes within that.", curve.MaxPoints)
		}
		found = append(found, Finding{Severity: Note, What: "Blade pitch differs between the points of the curve",
			Figure: fmt.Sprintf("by %+.2f° at stick %v; half a gauge step is %.2f°", t.Worst.Pitch.Degrees(), t.Worst.Stick, c.within().Degrees()), Do: do})
	}
	if !samePower(c.from.Rig, c.to) {
		found = append(found, Finding{Severity: Fix, What: "The throttle curve comes from another machine",
			Figure: "copied as it is from " + t.From,
			Do:     "Keep it only if power train and rotor are equal. Otherwise make a new one before " + c.to.Machine.alive() + "."})
	}
	slices.SortStableFunc(found, bySeverity)
	return inMode(mode, found)
}

// samePower reports whether two rigs are known to have equal rotors and power trains: one
// rig, or two whose files say so.
func samePower(a, b *Rig) bool {
	p, q := a.Machine, b.Machine
	return a == b || p.Power != nil && p.Rotor != nil && reflect.DeepEqual(p.Power, q.Power) && reflect.DeepEqual(p.Rotor, q.Rotor)
}
