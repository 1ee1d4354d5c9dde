package sheet

import (
	"math"
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// extremes is what one servo and its leg meet over the whole volume of the sticks.
type extremes struct {
	margin   float64 // least
	marginAt Place
	ballLink units.Angle // greatest
	ballAt   Place
	use      float64 // greatest part of the way to a pulse limit
}

// checkTravel goes through a grid of all sticks in all modes, for servo arms and pitch
// horns near a dead centre, ball links beyond their angle, and servos of whose travel
// little is used. Places that the machine cannot reach are left out;
// checkReach and checkCorners speak of them.
func (b *bench) checkTravel(s *Sheet) []Finding {
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
			place := Place{Mode: m.Name(), Stick: stickOf(at)}
			b.takeServos(legs, state, place)
			fights.take(pose, state, place)
			b.takeHorn(&horn, pose, place)
		}
	}
	if !swept {
		return nil
	}
	found := append(b.checkLegs(legs), fights.findings(s.Neutral)...)
	if b.nearDeadCentre(horn.margin) {
		found = append(found, report(hornNearDeadCentre{b.lever(horn)}))
	}
	return append(found, b.checkUse(legs)...)
}

func (b *bench) takeServos(legs []extremes, state *swash.State, place Place) {
	for i, e := range state.Effects {
		l := &legs[i]
		if e.Margin < l.margin {
			l.margin, l.marginAt = e.Margin, place
		}
		if e.BallLinkAngle > l.ballLink {
			l.ballLink, l.ballAt = e.BallLinkAngle, place
		}
		l.use = math.Max(l.use, float64(b.parts.Servos[i].Use(state.Pulses[i])))
	}
}

func (b *bench) takeHorn(horn *extremes, pose swash.Pose, place Place) {
	const bearings = 8
	for k := range bearings {
		e, err := b.head.Grip.Effect(units.Angle(k)*2*math.Pi/bearings, pose)
		if err == nil && e.Margin < horn.margin {
			horn.margin, horn.marginAt = e.Margin, place
		}
	}
}

// nearDeadCentre reports whether a lever over its arm's radius is less than that of a link in
// the arm's plane which stands at the limit's angle to the arm.
func (b *bench) nearDeadCentre(margin float64) bool {
	return math.Asin(math.Min(1, margin)) < float64(b.limits.DeadCentre)
}

// lever returns the least lever of a link with what is asked of it.
func (b *bench) lever(e extremes) lever {
	return lever{e.marginAt, units.Ratio(e.margin), units.Ratio(math.Sin(float64(b.limits.DeadCentre))), b.limits.DeadCentre}
}

func (b *bench) checkLegs(legs []extremes) []Finding {
	var found []Finding
	for i, l := range legs {
		l.marginAt.Servo, l.ballAt.Servo = b.servos[i].Name, b.servos[i].Name
		if b.nearDeadCentre(l.margin) {
			found = append(found, report(armNearDeadCentre{b.lever(l)}))
		}
		if l.ballLink > b.limits.BallLinkAngle {
			found = append(found, report(ballLinkAngleTooWide{l.ballAt, l.ballLink, b.limits.BallLinkAngle}))
		}
	}
	return found
}

// checkUse looks for servos of whose travel little is used. Where servos share the
// controls, the one that works most counts; on bell cranks each counts for itself.
func (b *bench) checkUse(legs []extremes) []Finding {
	most := 0
	for i, l := range legs {
		if l.use > legs[most].use {
			most = i
		}
	}
	var found []Finding
	for i, s := range b.servos {
		if s.Control == "" && i != most {
			continue
		}
		if use := units.Ratio(legs[i].use); use < b.limits.LeastUse {
			f := travelUnused{Place: Place{Servo: s.Name, Control: s.Control}, Use: use, Limit: b.limits.LeastUse}
			if s.Arm != 0 {
				f.Arm = known(s.Arm)
				f.WantedArm, f.Hole = betterHole(s.Type.ArmHoles, s.Arm, use)
			}
			found = append(found, report(f))
		}
	}
	return found
}

// fullUse is the part of a servo's travel that a better arm hole may use.
const fullUse = 0.9

// betterHole returns the radius at which an arm would leave what fullUse does, and the hole
// nearest the shaft that still reaches all corners, or nil. Travel goes with the arm's radius.
func betterHole(holes []units.Length, arm units.Length, used units.Ratio) (wanted, hole *units.Length) {
	least := units.Length(used/fullUse) * arm
	best := arm
	for _, hole := range holes {
		if hole >= least && hole < best {
			best = hole
		}
	}
	if best == arm {
		return &least, nil
	}
	return &least, &best
}
