package sheet

import (
	"fmt"
	"math"
	"slices"

	"example.org/levelhead/pitch/machine"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// extremes is what one servo and its leg meet over the whole volume of the sticks.
type extremes struct {
	margin   float64 // least
	marginAt string
	ballLink units.Angle // greatest
	ballAt   string
	use      float64 // greatest part of the way to a pulse limit
}

// checkTravel goes through a grid of all sticks in all modes, for servo arms and pitch
// horns near a dead centre, ball links beyond their angle, and servos of whose travel
// little is used. Places that the machine cannot reach are left out;
// checkReach and checkCorners speak of them.
func (b *bench) checkTravel(n Neutral) []Finding {
	const places = 9 // from end to end of each stick
	legs := slices.Repeat([]extremes{{margin: 1}}, len(b.servos))
	fights := newFightWatch(b)
	horn := extremes{margin: 1}
	state := b.head.Control.NewState()
	swept := false
	for _, m := range b.modes {
		if !m.Works() {
			continue
		}
		for at := range pitch.Grid(places) {
			demand, err := m.Setting().Demand(at)
			if err != nil {
				continue
			}
			pose, _, err := b.head.Control.Slopes(state, demand)
			if err != nil {
				continue
			}
			swept = true
			place := func() string {
				return fmt.Sprintf("mode %q, %v", m.Name(), at)
			}
			b.takeServos(legs, state, place)
			fights.take(pose, state, place)
			b.takeHorn(&horn, pose, place)
		}
	}
	if !swept {
		return nil
	}
	found := append(b.checkLegs(legs), fights.findings(n)...)
	if b.nearDeadCentre(horn.margin) {
		found = append(found, Finding{Severity: Fix, Where: "pitch horn", What: "Pitch horn near a dead centre",
			Figure: b.leverText("pitch link", "pitch horn", horn),
			Do:     "Use less pitch, a longer pitch horn, or a link that is squarer to it."})
	}
	return append(found, b.checkUse(legs)...)
}

func (b *bench) takeServos(legs []extremes, state *swash.State, place func() string) {
	for i, e := range state.Effects {
		l := &legs[i]
		if e.Margin < l.margin {
			l.margin, l.marginAt = e.Margin, place()
		}
		if e.BallLinkAngle > l.ballLink {
			l.ballLink, l.ballAt = e.BallLinkAngle, place()
		}
		l.use = math.Max(l.use, float64(b.parts.Servos[i].Use(state.Pulses[i])))
	}
}

func (b *bench) takeHorn(horn *extremes, pose swash.Pose, place func() string) {
	const bearings = 8
	for k := range bearings {
		e, err := b.head.Grip.Effect(units.Angle(k)*2*math.Pi/bearings, pose)
		if err == nil && e.Margin < horn.margin {
			horn.margin, horn.marginAt = e.Margin, place()
		}
	}
}

// nearDeadCentre reports whether a lever over its arm's radius is less than that of a link in
// the arm's plane which stands at the limit's angle to the arm.
func (b *bench) nearDeadCentre(margin float64) bool {
	return math.Asin(math.Min(1, margin)) < float64(b.limits.DeadCentre)
}

// leverText says the least lever of a link in words, as a part of its arm: a link out of the
// arm's plane shortens it too, so that it tells no angle between the two.
func (b *bench) leverText(link, arm string, at extremes) string {
	return fmt.Sprintf("the %s's lever is %.1f %% of the %s's length. That is less than the %.1f %% that the limit asks for (%s), in %s",
		link, 100*at.margin, arm, 100*math.Sin(float64(b.limits.DeadCentre)), machine.LimitText(b.limits.DeadCentre, ours.DeadCentre), at.marginAt)
}

func (b *bench) checkLegs(legs []extremes) []Finding {
	var found []Finding
	for i, l := range legs {
		name := b.servos[i].Name
		if b.nearDeadCentre(l.margin) {
			found = append(found, Finding{Severity: Fix, Where: name, What: "Servo arm near a dead centre",
				Figure: b.leverText("link", "arm", l),
				Do:     "Use less travel, a longer arm, or a link that runs in the plane in which the arm turns. Near a dead centre the servo loses its hold and the swashplate jumps."})
		}
		if l.ballLink > b.limits.BallLinkAngle {
			found = append(found, Finding{Severity: Fix, Where: name, What: "Ball link beyond its angle",
				Figure: fmt.Sprintf("the link stands %.1f° out of the arm's plane (%s), in %s", l.ballLink.Degrees(), machine.LimitText(b.limits.BallLinkAngle, ours.BallLinkAngle), l.ballAt),
				Do:     "Move the servo or the ball, so that the link runs straighter. A ball link that binds pops off."})
		}
	}
	return found
}

// checkUse looks for servos of whose travel little is used. Where servos share the
// controls, the one that works most counts; on bell cranks each counts for itself.
func (b *bench) checkUse(legs []extremes) []Finding {
	whose, rates, rest := "all servos", "the rates", ""
	most := 0
	for i, l := range legs {
		if l.use > legs[most].use {
			most = i
		}
	}
	var found []Finding
	for i, s := range b.servos {
		if s.Control != "" {
			whose, rates, rest = "servo "+s.Name, "the "+s.Control+" rate", " Leave the other rates."
		} else if i != most {
			continue
		}
		if use := legs[i].use; use < float64(b.limits.LeastUse) {
			found = append(found, Finding{Severity: Fix, Where: s.Name, What: "Little of the servo's travel is used",
				Figure: fmt.Sprintf("at most %.0f %% of the way to a pulse limit, over all sticks and modes (%s). Resolution and torque are wasted", 100*use, machine.LimitText(b.limits.LeastUse, ours.LeastUse)),
				Do:     betterHole(s.Type.ArmHoles, s.Arm, use, whose, rates, rest)})
		}
	}
	return found
}

// fullUse is the part of a servo's travel that a better arm hole may use.
const fullUse = 0.9

// betterHole names the arm hole nearest the shaft that still reaches all corners, for
// the servos and the rates of which rest says what to leave. Travel goes with the arm's
// radius.
func betterHole(holes []units.Length, arm units.Length, used float64, whose, rates, rest string) string {
	if arm == 0 {
		return fmt.Sprintf("Make the ratio of the lever on %s smaller, and raise %s to match.%s", whose, rates, rest)
	}
	wanted := units.Length(used/fullUse) * arm
	best := arm
	for _, hole := range holes {
		if hole >= wanted && hole < best {
			best = hole
		}
	}
	if best == arm {
		return fmt.Sprintf("Look for an arm hole at about %.1f mm in place of %.1f mm on %s. Raise %s to match.%s The machine file lists no such hole.",
			wanted.Millimetres(), arm.Millimetres(), whose, rates, rest)
	}
	return fmt.Sprintf("Use the %.1f mm arm hole in place of %.1f mm on %s. Multiply %s by %.2f.%s Resolution and torque at the plate rise by as much, with %.0f %% of the travel in use.",
		best.Millimetres(), arm.Millimetres(), whose, rates, float64(arm/best), rest, 100*used*float64(arm/best))
}
