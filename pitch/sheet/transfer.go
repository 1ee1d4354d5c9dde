package sheet

import (
	"reflect"
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
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
	to := newBench(t.Target.Rig())
	mode := Mode{Corners: t.Target.Corners()}
	var found []Finding
	for _, c := range transferChecks {
		if c.transfer != nil {
			found = append(found, c.transfer(to, t)...)
		} else {
			found = append(found, c.mode(to, t.Target, &mode)...)
		}
	}
	slices.SortStableFunc(found, bySeverity)
	return &Transfer{Cautions(WithoutBlades|WithBlades, to.file), t, inMode(t.Target, found)}
}

// checkPhases looks for cyclic that acts in another direction on the second machine.
func (b *bench) checkPhases(t *setup.Transfer) []Finding {
	var found []Finding
	full := pitch.FullCyclic()
	for i, l := range t.Phases[:min(len(t.Phases), len(full))] {
		if amount(l.Change) >= phaseNoted {
			found = append(found, report(phaseDiffers{Place{Stick: stickOf(full[i])}, l.From, l.To, l.Change, t.From}))
		}
	}
	return found
}

// checkRotations looks for rotors that turn opposite ways.
func (b *bench) checkRotations(t *setup.Transfer) []Finding {
	its, here := t.Source.Rig().Machine().Head.Rotation, b.file.Head.Rotation
	if its == here {
		return nil
	}
	return []Finding{report(rotationDiffers{t.From, its, here})}
}

// checkBetweenPoints looks for blade pitch that differs by more than half a step of the
// gauge where it is not entered.
func (b *bench) checkBetweenPoints(t *setup.Transfer) []Finding {
	within := max(b.file.Gauge.Step/2, swash.Level)
	if amount(t.Worst.Pitch) <= within {
		return nil
	}
	f := curveDiffers{Place: Place{Stick: collectiveAt(t.Worst.Stick)}, Off: t.Worst.Pitch, HalfGaugeStep: within}
	if t.Enough != 0 {
		f.Enough = known(t.Enough)
	}
	return []Finding{report(f)}
}

// checkPower looks for a throttle curve that was made for another rotor or power train.
func (b *bench) checkPower(t *setup.Transfer) []Finding {
	if samePower(t.Source.Rig(), t.Target.Rig()) {
		return nil
	}
	return []Finding{report(throttleCopied{t.From, b.file})}
}

// OfArms says what is wrong with a setup on other servo arms: rates beyond the radio's, servos
// that reach their limit at a corner of the sticks, and corners out of reach.
func OfArms(a *load.ArmTrade) []Finding {
	if a == nil || a.Setup.Validate() != nil {
		return nil
	}
	b := newBench(a.Setup.Rig())
	mode := Mode{Corners: a.Setup.Corners()}
	return append(b.checkRates(a.Setup, &mode), b.checkCorners(a.Setup, &mode)...)
}

// samePower reports whether two rigs are known to have equal rotors and power trains: one
// rig, or two whose files say so.
func samePower(a, b *setup.Rig) bool {
	p, q := a.Machine(), b.Machine()
	return a == b || p.Power != nil && p.Rotor != nil && reflect.DeepEqual(p.Power, q.Power) && reflect.DeepEqual(p.Rotor, q.Rotor)
}

func amount(a units.Angle) units.Angle { return max(a, -a) }
