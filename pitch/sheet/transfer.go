package sheet

import (
	"fmt"
	"reflect"
	"slices"

	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"

	"example.org/levelhead/swash"

	"example.org/levelhead/curve"
	"example.org/levelhead/units"
)

// The changes of phase angle that a transfer finds fault with. Chosen here, no source.
const (
	phaseNoted = 1 * units.Degree  // a pilot hardly feels less
	phaseGrave = 45 * units.Degree // the machine goes more to another side than to the stick's
)

// Transfer is a transfer with what is said before it and of it.
type Transfer struct {
	Cautions []string `json:"cautions"`
	*setup.Transfer
	Findings []Finding `json:"findings"` // gravest first
}

// OfTransfer says what a transfer cannot bring about, and what it copies that somebody near
// the rotor must know of.
func OfTransfer(t *setup.Transfer) *Transfer {
	if t == nil || t.Source.Validate() != nil || t.Target.Validate() != nil {
		return &Transfer{Transfer: &setup.Transfer{}}
	}
	from, to := t.Source.Rig(), newBench(t.Target.Rig())
	within := max(to.file.Gauge.Step/2, swash.Level)
	found := to.checkThrottle(t.Target)
	for _, l := range t.Phases {
		if amount(l.Change) < phaseNoted {
			continue
		}
		severity := Fix
		if amount(l.Change) >= phaseGrave {
			severity = Stop
		}
		found = append(found, Finding{Severity: severity, What: "Cyclic acts in another direction",
			Figure: fmt.Sprintf("at %s the phase angle is %.1f° here, and %.1f° on %s: a change of %+.1f°", l.Stick, l.To.Degrees(), l.From.Degrees(), t.From, l.Change.Degrees()),
			Do:     "Check the phase angle of the rotating ring, the side of the pitch horn and the cyclic signs of the mixing. Rates do not cure it."})
	}
	if a, b := from.Machine().Head.Rotation, to.file.Head.Rotation; a != b {
		found = append(found, Finding{Severity: Note, What: "The rotors turn opposite ways",
			Figure: fmt.Sprintf("%s on %s, %s here", a, t.From, b),
			Do:     "Set up the tail rotor by itself. Cyclic is compared as each rotor turns, not with the blades at the same side of the machine."})
	}
	found = append(found, to.checkRates(t.Target)...)
	found = append(found, to.checkCorners(t.Target.Corners())...)
	if amount(t.Worst.Pitch) > within {
		do := fmt.Sprintf("Use a curve of %d points to come within that.", t.Enough)
		if t.Enough == 0 {
			do = fmt.Sprintf("Accept it, or set more points by hand. No curve of up to %d points comes within that.", curve.MaxPoints)
		}
		found = append(found, Finding{Severity: Note, What: "Blade pitch differs between the points of the curve",
			Figure: fmt.Sprintf("by %+.2f° at stick %v; half a gauge step is %.2f°", t.Worst.Pitch.Degrees(), t.Worst.Stick, within.Degrees()), Do: do})
	}
	if !samePower(from, t.Target.Rig()) {
		found = append(found, Finding{Severity: Fix, What: "The throttle curve comes from another machine",
			Figure: "copied as it is from " + t.From,
			Do:     "Keep it only if power train and rotor are equal. Otherwise make a new one before " + alive(to.file) + "."})
	}
	slices.SortStableFunc(found, bySeverity)
	return &Transfer{Cautions(WithoutBlades|WithBlades, to.file), t, inMode(t.Target, found)}
}

// OfArms says what is wrong with a setup on other servo arms: rates beyond the radio's, servos
// that reach their limit at a corner of the sticks, and corners out of reach.
func OfArms(a *load.ArmTrade) []Finding {
	if a == nil || a.Setup.Validate() != nil {
		return nil
	}
	b := newBench(a.Setup.Rig())
	return append(b.checkRates(a.Setup), b.checkCorners(a.Setup.Corners())...)
}

// samePower reports whether two rigs are known to have equal rotors and power trains: one
// rig, or two whose files say so.
func samePower(a, b *setup.Rig) bool {
	p, q := a.Machine(), b.Machine()
	return a == b || p.Power != nil && p.Rotor != nil && reflect.DeepEqual(p.Power, q.Power) && reflect.DeepEqual(p.Rotor, q.Rotor)
}

func amount(a units.Angle) units.Angle { return max(a, -a) }
