package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"

	"example.org/levelhead/pitch/internal/words"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// checkMode looks for all that can be wrong with one mode but its throttle.
func (b *bench) checkMode(m setup.Setup, s Mode) []Finding {
	found := append(b.checkTargets(m, s), b.checkSpeedLimits(m)...)
	if !m.Works() {
		return found
	}
	found = append(found, b.checkReach(s)...)
	found = append(found, b.checkSense(m, s)...)
	found = append(found, b.checkRates(m)...)
	found = append(found, b.checkTilt(m)...)
	found = append(found, b.checkGaugeScale(s)...)
	found = append(found, b.checkLoads(s.Loads)...)
	return append(found, b.checkCorners(s.Corners)...)
}

// checkThrottle looks for throttle that can turn the rotor where somebody is
// near it: at low stick, and under hold.
func (b *bench) checkThrottle(m setup.Setup) []Finding {
	var found []Finding
	live := b.limits.LiveAbove
	if hold := m.Mode().ThrottleHold; hold > live {
		found = append(found, Finding{Severity: Stop, What: "Live throttle under hold",
			Figure: fmt.Sprintf("throttle hold gives %v; any throttle above %v can turn the rotor", hold, live),
			Do:     fmt.Sprintf("Set the hold throttle to %v. Take the blades off. Then check that hold keeps the rotor still.", live)})
	}
	if low := units.Ratio(m.Throttle().At(0)); low > live && !m.Mode().Held {
		do := fmt.Sprintf("Bring the low end of the throttle curve to %v", live)
		if m.Name() == b.file.Modes[0].Name {
			do += " before " + alive(b.file) + "."
		} else {
			do += ". If this mode needs throttle there, select it only in flight. On the ground, keep throttle hold on and keep " + dead(b.file) + "."
		}
		found = append(found, Finding{Severity: Stop, What: "Live throttle at low stick",
			Figure: fmt.Sprintf("at low stick the throttle is %v; any throttle above %v can turn the rotor", low, live), Do: do})
	}
	return found
}

// checkReach looks for positions of the collective stick that the machine cannot
// get to, or at which a servo reaches its limit with the cyclic stick centred.
func (b *bench) checkReach(s Mode) []Finding {
	var found []Finding
	for _, row := range s.Rows {
		if row.Unreachable != "" {
			found = append(found, Finding{Severity: Stop, What: "Stick position that the machine cannot reach",
				Figure: fmt.Sprintf("at stick %v: %s", row.Stick, row.Unreachable),
				Do:     "Lower the collective rate, or the pitch curve there, until the machine reaches it."})
		}
		if i, by := setup.WorstBeyond(row.BeyondLimit); by != 0 {
			found = append(found, Finding{Severity: Fix, What: "Servo reaches its limit under collective alone",
				Figure: fmt.Sprintf("servo %s would need %.0f µs beyond its pulse limit, at stick %v", b.servos[i].Name, math.Abs(by.Microseconds()), row.Stick),
				Do:     "Lower the collective rate, or the pitch curve there. Beyond its limit a servo stands still, and the swashplate tilts in a wrong direction."})
		}
	}
	return found
}

// checkSense looks for blades that pitch the wrong way for the stick.
func (b *bench) checkSense(m setup.Setup, s Mode) []Finding {
	var found []Finding
	first, last := s.Rows[0], s.Rows[len(s.Rows)-1]
	ends := fmt.Sprintf("the gauge reads %+.2f° at low stick and %+.2f° at high stick", first.Gauge.Degrees(), last.Gauge.Degrees())
	switch rise := last.Gauge - first.Gauge; {
	case first.Unreachable != "" || last.Unreachable != "":
	case rise < -swash.Level:
		found = append(found, Finding{Severity: Stop, What: "Blade pitch does not rise with the stick", Figure: ends,
			Do: "Check the side of the pitch horn, the rotor's direction and the sign of the collective rate. Never fly a machine whose collective is reversed."})
	case rise < swash.Level:
		found = append(found, Finding{Severity: Stop, What: "The stick does not change blade pitch", Figure: ends,
			Do: "Give the mode a collective rate and a curve that rises."})
	default:
		found = append(found, fallsBetween(s.Rows)...)
	}
	for i, d := range pitch.CyclicEnds() {
		throw := s.Cyclic[i]
		if throw.Unreachable != "" || throw.Pitch < swash.Level || m.Setting().Rates.Right == 0 && d.Right != 0 || m.Setting().Rates.Forward == 0 && d.Forward != 0 {
			continue
		}
		want := b.mostPitch(d.Right, d.Forward)
		off := math.Abs(math.Remainder(float64(throw.Phase-want), 2*math.Pi)) * degree
		if off > 90 {
			found = append(found, Finding{Severity: Stop, What: "Cyclic steers the wrong way",
				Figure: fmt.Sprintf("full %s gives most pitch with the blade over the %s; it should be about over the %s", throw.Stick, words.Direction(throw.Phase), words.Direction(want)),
				Do:     "Check the rotor's direction, the side of the pitch horn, the phase angle of the rotating ring and the signs of the cyclic rates."})
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
			return []Finding{{Severity: Fix, What: "Blade pitch falls on the way up the stick",
				Figure: fmt.Sprintf("from %.2f° at stick %v to %.2f° at stick %v", a.Gauge.Degrees(), a.Stick, b.Gauge.Degrees(), b.Stick),
				Do:     "Let the pitch curve rise all the way. Where it falls, more stick gives less lift."}}
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
func (b *bench) checkRates(m setup.Setup) []Finding {
	var found []Finding
	for name, rate := range m.Setting().Rates.All() {
		if rate > b.rig.RateLimit() || rate < -b.rig.RateLimit() {
			found = append(found, Finding{Severity: Fix, What: "Rate beyond the radio's limit",
				Figure: fmt.Sprintf("%s %v (%s)", name, units.Round(rate, 1), b.rig.RateLimitText()),
				Do:     "Use a longer servo arm or a shorter pitch horn: less rate then gives the same pitch. Or ask for less pitch."})
		}
	}
	return found
}

// checkTilt looks for tilt under collective alone, and for the servo behind it.
func (b *bench) checkTilt(m setup.Setup) []Finding {
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
	figure := fmt.Sprintf("%.2f° (%s) at stick %v, low side towards the %s",
		worst.Tilt.Degrees(), machine.LimitText(b.limits.Tilt, ours.Tilt), worst.Stick, words.Direction(worst.LowSide))
	do := "Level the plate at neutral with the links. Set travel with the rates."
	if leg, off, ok := b.blameLeg(worst); ok {
		figure += fmt.Sprintf(". Most of it comes from servo %s. Its arm is %.1f° %s than a level plate needs", b.servos[leg].Name, math.Abs(off.Degrees()), highOrLow(off))
		do = b.tiltCure(leg)
	}
	return []Finding{{Severity: Fix, What: "Swashplate tilts under collective alone", Figure: figure, Do: do}}
}

func highOrLow(off units.Angle) string {
	if off > 0 {
		return "higher"
	}
	return "lower"
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

// tiltCure says what to do about a servo that tilts the plate, and in what it is unlike the
// others.
func (b *bench) tiltCure(leg int) string {
	servos := b.head.Control.Servos()
	s := servos[leg]
	var unlike []string
	for i, o := range servos {
		if i != leg && (o.Low != s.Low || o.High != s.High) {
			unlike = append(unlike, fmt.Sprintf("the end points are %v and %v", s.Low, s.High))
			break
		}
	}
	if s.SubTrim != 0 {
		unlike = append(unlike, "the sub-trim is "+signed(s.SubTrim))
	}
	if s.Mount != 0 {
		unlike = append(unlike, fmt.Sprintf("the arm is mounted %v off", s.Mount))
	}
	if len(unlike) == 0 {
		return "Compare the link length, the arm radius and the ball radius of servo " + b.servos[leg].Name + " with the others. Level the plate at neutral with its link, never with an end point."
	}
	return "Set all servos alike. On servo " + b.servos[leg].Name + " " + strings.Join(unlike, ", ") + ". Square its arm. Level the plate with its link. Set travel with the rates."
}

// checkTargets compares what a mode does with its targets.
func (b *bench) checkTargets(m setup.Setup, s Mode) []Finding {
	t := m.Mode().Targets
	if t == nil {
		return nil
	}
	if m.Unmet() != nil {
		severity, do := Fix, "Ask for less pitch, or change the servo arms, the pitch horn or the links. No rate can give it."
		if !m.Works() {
			severity, do = Stop, do+" Until then there is nothing to enter for this mode."
		}
		return []Finding{{Severity: severity, What: "Target beyond the geometry", Figure: m.UnmetText(), Do: do}}
	}
	do := "Enter the rates and curve points that the sheet gives for this mode's targets."
	if m.Mode().Pitch == nil {
		do = "Use finer radio steps, or a geometry that needs more rate. The radio's steps are too coarse for this target."
	}
	var found []Finding
	add := func(figure string) {
		found = append(found, Finding{Severity: Fix, What: "Pitch target missed", Figure: figure + " (" + machine.LimitText(b.limits.PitchError, ours.PitchError) + ")", Do: do})
	}
	for _, target := range t.Collective {
		row := m.RowOrStop(float64(target.Stick))
		if off := row.Gauge - target.Pitch; row.Unreachable == "" && math.Abs(float64(off)) > float64(b.limits.PitchError) {
			add(fmt.Sprintf("the gauge reads %.2f° at stick %v; wanted %.2f°, off by %+.2f°", row.Gauge.Degrees(), target.Stick, target.Pitch.Degrees(), off.Degrees()))
		}
	}
	for i, full := range pitch.FullCyclic() {
		got := m.Added(full)
		if off := got.Pitch - t.Cyclic; got.Unreachable == nil && math.Abs(float64(off)) > float64(b.limits.PitchError) {
			add(fmt.Sprintf("cyclic pitch is %.2f° at %s; wanted %.2f°, off by %+.2f°", got.Pitch.Degrees(), []string{"full right", "full forward"}[i], t.Cyclic.Degrees(), off.Degrees()))
		}
	}
	return found
}

// checkGaugeScale looks for readings beyond the gauge's scale.
func (b *bench) checkGaugeScale(s Mode) []Finding {
	g := b.file.Gauge
	var found []Finding
	for _, row := range s.Rows {
		if row.OffScale {
			found = append(found, Finding{Severity: Note, What: "Reading beyond the gauge's scale",
				Figure: fmt.Sprintf("%.2f° at stick %v; the gauge goes from %.0f° to %.0f°", row.Gauge.Degrees(), row.Stick, g.Low.Degrees(), g.High.Degrees()),
				Do:     "Check this point with a gauge of a wider scale. Or set it by the curve, from points that the gauge can show."})
		}
	}
	for _, reading := range s.Readings {
		if p := reading.Target.Pitch; g.OffScale(p) {
			found = append(found, Finding{Severity: Note, What: "Target beyond the gauge's scale",
				Figure: fmt.Sprintf("%.2f° wanted at stick %v; the gauge goes from %.0f° to %.0f°", p.Degrees(), reading.Target.Stick, g.Low.Degrees(), g.High.Degrees()),
				Do:     "Use a gauge of a wider scale to check this target."})
		}
	}
	return found
}

// checkCorners looks for corners of the sticks at which a servo reaches its limit, or that
// the machine cannot reach.
func (b *bench) checkCorners(corners []setup.Corner) []Finding {
	var found []Finding
	var limited, worst int
	var worstBy units.PulseWidth
	var worstAt string
	var unreachable []string
	for _, c := range corners {
		if c.Unreachable != "" {
			unreachable = append(unreachable, c.Stick+" ("+c.Unreachable+")")
			continue
		}
		i, by := setup.WorstBeyond(c.BeyondLimit)
		if by != 0 {
			limited++
		}
		if math.Abs(float64(by)) > math.Abs(float64(worstBy)) {
			worst, worstBy, worstAt = i, by, c.Stick
		}
	}
	if unreachable != nil {
		found = append(found, Finding{Severity: Fix, What: "Stick corners that the machine cannot reach",
			Figure: fmt.Sprintf("%d of %d corners: %s", len(unreachable), len(corners), strings.Join(unreachable, "; ")),
			Do:     "Lower the cyclic rates, or the collective rate, until the machine reaches them."})
	}
	if limited > 0 {
		found = append(found, Finding{Severity: Fix, What: "Servo reaches its limit at stick corners",
			Figure: fmt.Sprintf("%d of %d corners. At the worst, %s, servo %s would need %.0f µs beyond its pulse limit", limited, len(corners), worstAt, b.servos[worst].Name, math.Abs(worstBy.Microseconds())),
			Do:     "Lower the cyclic rates, or limit the cyclic stick to a circle (cyclic ring). At these corners the swashplate tilts in a wrong direction."})
	}
	return found
}
