package sheet

import (
	"errors"
	"math"
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// checkThrottle looks for throttle that can turn the rotor where somebody is
// near it: at low stick, and under hold.
func (b *bench) checkThrottle(m setup.Setup, _ *Mode) []Finding {
	var found []Finding
	live := b.limits.LiveAbove
	if hold := m.Mode().ThrottleHold; hold > live {
		found = append(found, report(liveUnderHold{hold, live}))
	}
	if low := units.Ratio(m.Throttle().At(0)); low > live && !m.Mode().Held {
		found = append(found, report(liveAtLowStick{Place{Stick: collectiveAt(0)}, low, live, m.Name() == b.file.Modes[0].Name, b.file}))
	}
	return found
}

// checkReach looks for positions of the collective stick that the machine cannot
// get to, or at which a servo reaches its limit with the cyclic stick centred.
func (b *bench) checkReach(_ setup.Setup, s *Mode) []Finding {
	var found []Finding
	for _, row := range s.Rows {
		at := Place{Stick: collectiveAt(row.Stick)}
		if row.Unreachable != "" {
			found = append(found, report(stickOutOfReach{at, row.Unreachable}))
		}
		if i, by := setup.WorstBeyond(row.BeyondLimit); by != 0 {
			at.Servo = b.servos[i].Name
			found = append(found, report(limitUnderCollective{at, by}))
		}
	}
	return found
}

// checkSense looks for blades that pitch the wrong way for the stick.
func (b *bench) checkSense(m setup.Setup, s *Mode) []Finding {
	var found []Finding
	first, last := s.Rows[0], s.Rows[len(s.Rows)-1]
	ends := ends{first.Gauge, last.Gauge}
	switch rise := last.Gauge - first.Gauge; {
	case first.Unreachable != "" || last.Unreachable != "":
	case rise < -swash.Level:
		found = append(found, report(pitchReversed{ends}))
	case rise < swash.Level:
		found = append(found, report(pitchDead{ends}))
	default:
		found = append(found, fallsBetween(s.Rows)...)
	}
	for i, d := range pitch.CyclicEnds() {
		throw := s.Cyclic[i]
		if throw.Unreachable != "" || throw.Pitch < swash.Level || m.Setting().Rates.Right == 0 && d.Right != 0 || m.Setting().Rates.Forward == 0 && d.Forward != 0 {
			continue
		}
		want := b.mostPitch(d.Right, d.Forward)
		if off := math.Remainder(float64(throw.Phase-want), 2*math.Pi); math.Abs(off) > math.Pi/2 {
			found = append(found, report(cyclicReversed{Place{Stick: stickOf(d)}, throw.Phase, want}))
			break
		}
	}
	return found
}

// fallsBetween looks for pitch that falls on the way up the stick.
func fallsBetween(rows []setup.Row) []Finding {
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], rows[i]
		if a.Unreachable == "" && b.Unreachable == "" && b.Gauge < a.Gauge-swash.Level {
			return []Finding{report(pitchFalls{a.Stick, a.Gauge, b.Stick, b.Gauge})}
		}
	}
	return nil
}

// mostPitch returns about where a blade needs most pitch for the disc to tip towards
// a stick. A blade flaps highest about a quarter turn after its greatest pitch (a
// teetering or soft rotor's lag at resonance: J. G. Leishman, Principles of Helicopter
// Aerodynamics, chapter on blade motion, from memory), and the disc must rise
// opposite the side that it tips to. Stiff heads lag less, so this tells right from
// wrong by no more than half a turn.
func (b *bench) mostPitch(right, forward float64) units.Angle {
	quarter := units.Angle(math.Pi / 2)
	if b.file.Head.Rotation == pitch.CounterClockwise {
		quarter = -quarter
	}
	sin, cos := math.Sincos(float64(swash.Bearing(-right, -forward) - quarter))
	return swash.Bearing(sin, cos)
}

// checkRates looks for rates beyond the radio's.
func (b *bench) checkRates(m setup.Setup, _ *Mode) []Finding {
	var found []Finding
	rates, limit := m.Setting().Rates, b.rig.RateLimit()
	for _, c := range []struct {
		control string
		rate    units.Ratio
	}{{"collective", rates.Collective}, {"right cyclic", rates.Right}, {"forward cyclic", rates.Forward}} {
		if c.rate > limit || c.rate < -limit {
			found = append(found, report(rateTooHigh{Place{Control: c.control}, c.rate, limit, b.rig.RateLimitText()}))
		}
	}
	return found
}

// checkTilt looks for tilt under collective alone, and for the servo behind it.
func (b *bench) checkTilt(m setup.Setup, _ *Mode) []Finding {
	const steps = 40
	var worst setup.Row
	for k := range steps + 1 {
		if row := m.RowOrStop(float64(k) / steps); row.Unreachable == "" && row.Tilt > worst.Tilt {
			worst = row
		}
	}
	if worst.Tilt <= b.limits.Tilt {
		return nil
	}
	f := tiltUnderCollective{Place: Place{Stick: collectiveAt(worst.Stick)}, Tilt: worst.Tilt, LowSide: worst.LowSide, Limit: b.limits.Tilt}
	if leg, off, ok := b.blameLeg(worst); ok {
		f.Servo, f.ArmOff = b.servos[leg].Name, &off
		b.compare(&f, leg)
	}
	return []Finding{report(f)}
}

// compare notes in what a servo that tilts the plate is unlike the others.
func (b *bench) compare(f *tiltUnderCollective, leg int) {
	servos := b.head.Control.Servos()
	s := servos[leg]
	if slices.ContainsFunc(servos, func(o servo.Servo) bool { return o.Low != s.Low || o.High != s.High }) {
		f.LowEnd, f.HighEnd = &s.Low, &s.High
	}
	if s.SubTrim != 0 {
		f.SubTrim = &s.SubTrim
	}
	if s.Mount != 0 {
		f.Mount = &s.Mount
	}
}

// blameLeg returns the leg whose arm is farthest from where a level plate wants
// it, the heights being shared so that the errors are as small as they can be.
func (b *bench) blameLeg(row setup.Row) (leg int, off units.Angle, ok bool) {
	arms := make([]units.Angle, len(row.Arms))
	if err := b.head.Control.Mechanism().Arms(arms, swash.Pose{Height: row.Height}); err != nil {
		return 0, 0, false
	}
	errs := make([]units.Angle, len(row.Arms))
	for i, arm := range row.Arms {
		errs[i] = arm - arms[i]
	}
	// One leg at fault tips the plate about the other two and lifts its
	// centre; seen from the others' height, it alone is off.
	sorted := slices.Sorted(slices.Values(errs))
	median := (sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2]) / 2
	for i, e := range errs {
		if d := e - median; math.Abs(float64(d)) > math.Abs(float64(off)) {
			leg, off = i, d
		}
	}
	return leg, off, true
}

// checkTargets compares what a mode does with its targets.
func (b *bench) checkTargets(m setup.Setup, _ *Mode) []Finding {
	t := m.Mode().Targets
	if t == nil {
		return nil
	}
	if m.Unmet() != nil {
		f := targetOutOfReach{why: m.UnmetText(), works: m.Works()}
		if target := (*setup.TargetError)(nil); errors.As(m.Unmet(), &target) {
			f.Wanted, f.Nearest = known(target.Wanted), known(target.Nearest)
		}
		return []Finding{report(f)}
	}
	var found []Finding
	miss := func(at *Stick, reads, wanted units.Angle) {
		if off := reads - wanted; math.Abs(float64(off)) > float64(b.limits.PitchError) {
			found = append(found, report(targetMissed{Place{Stick: at}, reads, wanted, off, b.limits.PitchError, m.Mode().Pitch == nil}))
		}
	}
	for _, target := range t.Collective {
		if row := m.RowOrStop(float64(target.Stick)); row.Unreachable == "" {
			miss(collectiveAt(target.Stick), row.Gauge, target.Pitch)
		}
	}
	for _, full := range pitch.FullCyclic() {
		if got := m.Added(full); got.Unreachable == nil {
			miss(stickOf(full), got.Pitch, t.Cyclic)
		}
	}
	return found
}

// checkGaugeScale looks for readings beyond the gauge's scale.
func (b *bench) checkGaugeScale(_ setup.Setup, s *Mode) []Finding {
	g := b.file.Gauge
	scale := scale{g.Low, g.High}
	var found []Finding
	for _, row := range s.Rows {
		if row.OffScale {
			found = append(found, report(readingOffScale{Place{Stick: collectiveAt(row.Stick)}, row.Gauge, scale}))
		}
	}
	for _, reading := range s.Readings {
		if p := reading.Target.Pitch; g.OffScale(p) {
			found = append(found, report(targetOffScale{Place{Stick: collectiveAt(reading.Target.Stick)}, p, scale}))
		}
	}
	return found
}

// checkCorners looks for corners of the sticks at which a servo reaches its limit, or that
// the machine cannot reach.
func (b *bench) checkCorners(_ setup.Setup, s *Mode) []Finding {
	var found []Finding
	limited := limitAtCorners{Corners: len(s.Corners)}
	unreachable := cornersOutOfReach{Corners: len(s.Corners)}
	sticks := setup.CornerSticks()
	for k, c := range s.Corners {
		if c.Unreachable != "" {
			unreachable.OutOfReach++
			unreachable.each = append(unreachable.each, c.Stick+" ("+c.Unreachable+")")
			continue
		}
		i, by := setup.WorstBeyond(c.BeyondLimit)
		if by != 0 {
			limited.Limited++
		}
		if math.Abs(float64(by)) > math.Abs(float64(limited.Beyond)) {
			limited.Place, limited.Beyond, limited.worst = Place{Servo: b.servos[i].Name, Stick: stickOf(sticks[k])}, by, c.Stick
		}
	}
	if unreachable.OutOfReach > 0 {
		found = append(found, report(unreachable))
	}
	if limited.Limited > 0 {
		found = append(found, report(limited))
	}
	return found
}
