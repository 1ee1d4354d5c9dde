package setup

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// checkMode looks for all that can be wrong with one mode but its throttle.
func (r *Rig) checkMode(m *RigMode, s SheetMode) []Finding {
	found := append(r.checkTargets(m, s), r.checkSpeedLimits(m)...)
	if !m.Works() {
		return found
	}
	found = append(found, r.checkReach(s)...)
	found = append(found, r.checkSense(m, s)...)
	found = append(found, r.checkRates(m)...)
	found = append(found, r.checkTilt(m)...)
	found = append(found, r.checkGaugeScale(s)...)
	found = append(found, r.checkLoads(s.Loads)...)
	return append(found, r.checkCorners(s)...)
}

// checkThrottle looks for throttle that can turn the rotor where somebody is
// near it: at low stick, and under hold.
func (r *Rig) checkThrottle(m *RigMode) []Finding {
	var found []Finding
	live := r.Limits.LiveAbove
	if hold := m.Mode.ThrottleHold; hold > live {
		found = append(found, Finding{Severity: Stop, What: "Live throttle under hold",
			Figure: fmt.Sprintf("throttle hold gives %v; any throttle above %v can turn the rotor", hold, live),
			Do:     fmt.Sprintf("Set the hold throttle to %v. Take the blades off. Then check that hold keeps the rotor still.", live)})
	}
	if low := units.Ratio(m.Throttle.At(0)); low > live && !m.Mode.Held {
		do := fmt.Sprintf("Bring the low end of the throttle curve to %v", live)
		if m.Mode.Name == r.Machine.Modes[0].Name {
			do += " before " + r.Machine.alive() + "."
		} else {
			do += ". If this mode needs throttle there, select it only in flight. On the ground, keep throttle hold on and keep " + r.Machine.dead() + "."
		}
		found = append(found, Finding{Severity: Stop, What: "Live throttle at low stick",
			Figure: fmt.Sprintf("at low stick the throttle is %v; any throttle above %v can turn the rotor", low, live), Do: do})
	}
	return found
}

// checkReach looks for positions of the collective stick that the machine cannot
// get to, or at which a servo reaches its limit with the cyclic stick centred.
func (r *Rig) checkReach(s SheetMode) []Finding {
	var found []Finding
	for _, row := range s.Rows {
		if row.Unreachable != "" {
			found = append(found, Finding{Severity: Stop, What: "Stick position that the machine cannot reach",
				Figure: fmt.Sprintf("at stick %v: %s", row.Stick, row.Unreachable),
				Do:     "Lower the collective rate, or the pitch curve there, until the machine reaches it."})
		}
		if i, by := worstBeyond(row.BeyondLimit); by != 0 {
			found = append(found, Finding{Severity: Fix, What: "Servo reaches its limit under collective alone",
				Figure: fmt.Sprintf("servo %s would need %.0f µs beyond its pulse limit, at stick %v", r.Servos[i].Name, math.Abs(by.Microseconds()), row.Stick),
				Do:     "Lower the collective rate, or the pitch curve there. Beyond its limit a servo stands still, and the swashplate tilts in a wrong direction."})
		}
	}
	return found
}

// worstBeyond returns the servo that would have to go farthest beyond its pulse limit, and
// by how much.
func worstBeyond(beyond []units.PulseWidth) (servo int, by units.PulseWidth) {
	for i, p := range beyond {
		if math.Abs(float64(p)) > math.Abs(float64(by)) {
			servo, by = i, p
		}
	}
	return servo, by
}

// checkSense looks for blades that pitch the wrong way for the stick.
func (r *Rig) checkSense(m *RigMode, s SheetMode) []Finding {
	var found []Finding
	first, last := s.Rows[0], s.Rows[len(s.Rows)-1]
	ends := fmt.Sprintf("the gauge reads %+.2f° at low stick and %+.2f° at high stick", first.Gauge.Degrees(), last.Gauge.Degrees())
	switch rise := last.Gauge - first.Gauge; {
	case first.Unreachable != "" || last.Unreachable != "":
	case rise < -level:
		found = append(found, Finding{Severity: Stop, What: "Blade pitch does not rise with the stick", Figure: ends,
			Do: "Check the side of the pitch horn, the rotor's direction and the sign of the collective rate. Never fly a machine whose collective is reversed."})
	case rise < level:
		found = append(found, Finding{Severity: Stop, What: "The stick does not change blade pitch", Figure: ends,
			Do: "Give the mode a collective rate and a curve that rises."})
	default:
		found = append(found, fallsBetween(s.Rows)...)
	}
	for i, d := range directions[:4] {
		throw := s.Cyclic[i]
		if throw.Unreachable != "" || throw.Pitch < level || m.Setting.Rates.Right == 0 && d.right != 0 || m.Setting.Rates.Forward == 0 && d.forward != 0 {
			continue
		}
		want := r.mostPitch(d.right, d.forward)
		off := math.Abs(math.Remainder(float64(throw.Phase-want), 2*math.Pi)) * degree
		if off > 90 {
			found = append(found, Finding{Severity: Stop, What: "Cyclic steers the wrong way",
				Figure: fmt.Sprintf("full %s gives most pitch with the blade over the %s; it should be about over the %s", d.name, direction(throw.Phase), direction(want)),
				Do:     "Check the rotor's direction, the side of the pitch horn, the phase angle of the rotating ring and the signs of the cyclic rates."})
			break
		}
	}
	return found
}

// fallsBetween looks for pitch that falls on the way up the stick.
func fallsBetween(rows []Row) []Finding {
	for i := 1; i < len(rows); i++ {
		a, b := rows[i-1], rows[i]
		if a.Unreachable == "" && b.Unreachable == "" && b.Gauge < a.Gauge-level {
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
func (r *Rig) mostPitch(right, forward float64) units.Angle {
	quarter := units.Angle(math.Pi / 2)
	if r.Machine.Head.Rotation == pitch.CounterClockwise {
		quarter = -quarter
	}
	sin, cos := math.Sincos(float64(swash.Bearing(-right, -forward) - quarter))
	return swash.Bearing(sin, cos)
}

// RateLimit returns the largest rate that the radio takes, of collective and of
// cyclic alike.
func (r *Rig) RateLimit() units.Ratio { return orFull(r.Machine.Radio.RateLimit) }

// RateLimitText says the RateLimit in words: as ours where the file does not give the
// radio's.
func (r *Rig) RateLimitText() string {
	if r.Machine.Radio.RateLimit == nil {
		return fmt.Sprintf("our limit %v; the radio's manual decides", r.RateLimit())
	}
	return fmt.Sprintf("the radio's limit %v", r.RateLimit())
}

// checkRates looks for rates beyond the radio's.
func (r *Rig) checkRates(m *RigMode) []Finding {
	var found []Finding
	for name, rate := range m.Setting.Rates.All() {
		if rate > r.RateLimit() || rate < -r.RateLimit() {
			found = append(found, Finding{Severity: Fix, What: "Rate beyond the radio's limit",
				Figure: fmt.Sprintf("%s %v (%s)", name, units.Round(rate, 1), r.RateLimitText()),
				Do:     "Use a longer servo arm or a shorter pitch horn: less rate then gives the same pitch. Or ask for less pitch."})
		}
	}
	return found
}

// checkTilt looks for tilt under collective alone, and for the servo behind it.
func (r *Rig) checkTilt(m *RigMode) []Finding {
	const steps = 40
	var worst Row
	for k := range steps + 1 {
		if row := r.rowOrStop(m, float64(k)/steps); row.Unreachable == "" && row.Tilt > worst.Tilt {
			worst = row
		}
	}
	if worst.Tilt <= r.Limits.Tilt {
		return nil
	}
	figure := fmt.Sprintf("%.2f° (%s) at stick %v, low side towards the %s",
		worst.Tilt.Degrees(), LimitText(r.Limits.Tilt, ours.Tilt), worst.Stick, direction(worst.LowSide))
	do := "Level the plate at neutral with the links. Set travel with the rates."
	if leg, off, ok := r.blameLeg(worst); ok {
		figure += fmt.Sprintf(". Most of it comes from servo %s. Its arm is %.1f° %s than a level plate needs", r.Servos[leg].Name, math.Abs(off.Degrees()), highOrLow(off))
		do = r.tiltCure(leg)
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
func (r *Rig) blameLeg(row Row) (leg int, off units.Angle, ok bool) {
	arms := make([]units.Angle, len(row.Arms))
	if err := r.Head.Control.Mechanism().Arms(arms, swash.Pose{Height: row.Height}); err != nil {
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
func (r *Rig) tiltCure(leg int) string {
	servos := r.Head.Control.Servos()
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
		return "Compare the link length, the arm radius and the ball radius of servo " + r.Servos[leg].Name + " with the others. Level the plate at neutral with its link, never with an end point."
	}
	return "Set all servos alike. On servo " + r.Servos[leg].Name + " " + strings.Join(unlike, ", ") + ". Square its arm. Level the plate with its link. Set travel with the rates."
}

// checkTargets compares what a mode does with its targets.
func (r *Rig) checkTargets(m *RigMode, s SheetMode) []Finding {
	t := m.Mode.Targets
	if t == nil {
		return nil
	}
	if m.Unmet != nil {
		severity, do := Fix, "Ask for less pitch, or change the servo arms, the pitch horn or the links. No rate can give it."
		if !m.Works() {
			severity, do = Stop, do+" Until then there is nothing to enter for this mode."
		}
		return []Finding{{Severity: severity, What: "Target beyond the geometry", Figure: m.unmet(), Do: do}}
	}
	do := "Enter the rates and curve points that the sheet gives for this mode's targets."
	if m.Mode.Pitch == nil {
		do = "Use finer radio steps, or a geometry that needs more rate. The radio's steps are too coarse for this target."
	}
	var found []Finding
	add := func(figure string) {
		found = append(found, Finding{Severity: Fix, What: "Pitch target missed", Figure: figure + " (" + LimitText(r.Limits.PitchError, ours.PitchError) + ")", Do: do})
	}
	for _, target := range t.Collective {
		row := r.rowOrStop(m, float64(target.Stick))
		if off := row.Gauge - target.Pitch; row.Unreachable == "" && math.Abs(float64(off)) > float64(r.Limits.PitchError) {
			add(fmt.Sprintf("the gauge reads %.2f° at stick %v; wanted %.2f°, off by %+.2f°", row.Gauge.Degrees(), target.Stick, target.Pitch.Degrees(), off.Degrees()))
		}
	}
	for _, full := range fullCyclic {
		got, err := added(r.Head, &m.Setting, full.stick)
		if off := got - t.Cyclic; err == nil && math.Abs(float64(off)) > float64(r.Limits.PitchError) {
			add(fmt.Sprintf("cyclic pitch is %.2f° at %s; wanted %.2f°, off by %+.2f°", got.Degrees(), full.name, t.Cyclic.Degrees(), off.Degrees()))
		}
	}
	return found
}

// checkGaugeScale looks for readings beyond the gauge's scale.
func (r *Rig) checkGaugeScale(s SheetMode) []Finding {
	g := r.Machine.Gauge
	var found []Finding
	for _, row := range s.Rows {
		if row.OffScale {
			found = append(found, Finding{Severity: Note, What: "Reading beyond the gauge's scale",
				Figure: fmt.Sprintf("%.2f° at stick %v; the gauge goes from %.0f° to %.0f°", row.Gauge.Degrees(), row.Stick, g.Low.Degrees(), g.High.Degrees()),
				Do:     "Check this point with a gauge of a wider scale. Or set it by the curve, from points that the gauge can show."})
		}
	}
	for _, reading := range s.Readings {
		if p := reading.Target.Pitch; g.offScale(p) {
			found = append(found, Finding{Severity: Note, What: "Target beyond the gauge's scale",
				Figure: fmt.Sprintf("%.2f° wanted at stick %v; the gauge goes from %.0f° to %.0f°", p.Degrees(), reading.Target.Stick, g.Low.Degrees(), g.High.Degrees()),
				Do:     "Use a gauge of a wider scale to check this target."})
		}
	}
	return found
}

// checkCorners looks for corners of the sticks at which a servo reaches its limit, or that
// the machine cannot reach.
func (r *Rig) checkCorners(s SheetMode) []Finding {
	var found []Finding
	var limited, worst int
	var worstBy units.PulseWidth
	var worstAt string
	var unreachable []string
	for _, c := range s.Corners {
		if c.Unreachable != "" {
			unreachable = append(unreachable, c.Stick+" ("+c.Unreachable+")")
			continue
		}
		i, by := worstBeyond(c.BeyondLimit)
		if by != 0 {
			limited++
		}
		if math.Abs(float64(by)) > math.Abs(float64(worstBy)) {
			worst, worstBy, worstAt = i, by, c.Stick
		}
	}
	if unreachable != nil {
		found = append(found, Finding{Severity: Fix, What: "Stick corners that the machine cannot reach",
			Figure: fmt.Sprintf("%d of %d corners: %s", len(unreachable), len(s.Corners), strings.Join(unreachable, "; ")),
			Do:     "Lower the cyclic rates, or the collective rate, until the machine reaches them."})
	}
	if limited > 0 {
		found = append(found, Finding{Severity: Fix, What: "Servo reaches its limit at stick corners",
			Figure: fmt.Sprintf("%d of %d corners. At the worst, %s, servo %s would need %.0f µs beyond its pulse limit", limited, len(s.Corners), worstAt, r.Servos[worst].Name, math.Abs(worstBy.Microseconds())),
			Do:     "Lower the cyclic rates, or limit the cyclic stick to a circle (cyclic ring). At these corners the swashplate tilts in a wrong direction."})
	}
	return found
}
