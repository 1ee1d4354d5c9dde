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

// Severity tells what a finding asks for.
type Severity string

// The severities, gravest first.
const (
	Stop Severity = "stop" // do not go on, and do not connect the motor, before it is put right
	Fix  Severity = "fix"  // put it right before flying
	Hint Severity = "note" // know of it
)

var severities = []Severity{Stop, Fix, Hint}

// Finding is one thing that the machine, or a mode of it, should not be or that
// is worth knowing, with the figure behind it and what to do about it.
type Finding struct {
	Severity Severity `json:"severity"`
	Where    string   `json:"where"` // mode or leg
	What     string   `json:"what"`
	Figure   string   `json:"figure"`
	Do       string   `json:"do"`
}

// check looks through the machine and its worked sheet. The findings come
// gravest first, and else in the order of the work.
func (r *Rig) check(s *Sheet) ([]Finding, error) {
	var found []Finding
	found = append(found, r.checkThrottle()...)
	sense, err := r.checkSense()
	if err != nil {
		return nil, err
	}
	found = append(found, sense...)
	found = append(found, r.checkSquare(s.Neutral)...)
	for i := range r.Modes {
		m := &r.Modes[i]
		found = append(found, r.checkTargetsMet(m)...)
		if !m.Works() {
			continue
		}
		lean, err := r.checkLean(m)
		if err != nil {
			return nil, err
		}
		found = append(found, lean...)
		fights, err := r.checkFights(m, s.Modes[i].Rows)
		if err != nil {
			return nil, err
		}
		found = append(found, fights...)
		found = append(found, r.checkGaugeScale(m, s.Modes[i])...)
		found = append(found, r.checkCorners(m, s.Modes[i])...)
	}
	volume, err := r.sweepVolume()
	if err != nil {
		return nil, err
	}
	found = append(found, r.checkVolume(volume)...)
	slices.SortStableFunc(found, func(a, b Finding) int {
		return slices.Index(severities, a.Severity) - slices.Index(severities, b.Severity)
	})
	return found, nil
}

// checkThrottle looks for throttle that may drive the rotor where a hand is
// near it: at low stick, and under hold.
func (r *Rig) checkThrottle() []Finding {
	var found []Finding
	for i := range r.Modes {
		m := &r.Modes[i]
		live := r.Limits.LiveAbove
		if hold := m.Mode.ThrottleHold; hold > live {
			found = append(found, Finding{Stop, m.Mode.Name, "Live throttle under hold",
				fmt.Sprintf("throttle hold gives %v; the rotor may be driven above %v", hold, live),
				fmt.Sprintf("Set the hold throttle to %v, and see the motor stand still with hold on, blades off.", live)})
		}
		if low := units.Ratio(m.Throttle.At(0)); low > live && !m.Mode.Held {
			do := "Bring the throttle curve's low end down before the battery goes in."
			if i > 0 {
				do = "If this is meant for flight, never select this mode on the bench without throttle hold on and the motor leads apart; leave it only in the air or under hold."
			}
			found = append(found, Finding{Stop, m.Mode.Name, "Live throttle at low stick",
				fmt.Sprintf("throttle at low stick is %v; the rotor may be driven above %v", low, live), do})
		}
	}
	return found
}

// checkSense looks for servos and functions that run the wrong way, and for
// cyclic that leans the plate to a side it was not asked to.
func (r *Rig) checkSense() ([]Finding, error) {
	var found []Finding
	drive := r.Head.Drive
	mix := drive.Mix()
	for i, s := range drive.Servos() {
		if rise := float64(s.ArmPerCommand(0)) * mix[i].Collective; rise < 0 {
			found = append(found, Finding{Stop, r.Servos[i].Name, "Servo runs the wrong way",
				fmt.Sprintf("full positive collective turns its arm by %.1f°, down", rise*degree),
				"Change this servo's reverse, and nothing else; then look at all functions again."})
		}
	}
	_, slopes, err := drive.Slopes(drive.NewState(), swash.Demand{})
	if err != nil {
		return nil, &ModeError{"any", "all functions at zero", err}
	}
	for _, f := range []struct {
		name        string
		want, cross float64 // what the function should do, and should not
		side        string
	}{
		{"collective", slopes.Collective.Height, 0, ""},
		{"right cyclic", slopes.Right.Right, slopes.Right.Forward, "fore and aft"},
		{"forward cyclic", slopes.Forward.Forward, slopes.Forward.Right, "to a side"},
	} {
		if f.want < 0 {
			found = append(found, Finding{Stop, f.name, "Function runs the wrong way",
				"a positive demand moves the plate the opposite way",
				"Put the servos' reverse and the mixing right before anything else."})
		}
		const crossLimit = 6 / degree // a tenth of the lean
		astray := math.Abs(math.Atan2(f.cross, math.Abs(f.want)))
		if astray > crossLimit {
			found = append(found, Finding{Fix, f.name, "Cyclic leans the plate to another side too",
				fmt.Sprintf("the lean goes astray %s by %.0f° (limit %.0f°)", f.side, astray*degree, crossLimit*degree),
				"Choose the mixing that fits the balls' bearings, or put the servos on the legs they are mixed for."})
		}
	}
	return found, nil
}

// degree turns radians into degrees.
const degree = 180 / math.Pi

// checkSquare looks for arms off square to their links at neutral.
func (r *Rig) checkSquare(n Neutral) []Finding {
	var found []Finding
	for i, leg := range n.Servos {
		if math.Abs(float64(leg.OffSquare)) <= float64(r.Limits.OffSquare) {
			continue
		}
		do := fmt.Sprintf("Set sub-trim to %v.", leg.SubTrim)
		if leg.Teeth != 0 {
			do = fmt.Sprintf("Move the arm %+d of %d teeth on the spline, then set sub-trim to %v.",
				leg.Teeth, int(r.Servos[i].Type.Spline), leg.SubTrim)
		}
		found = append(found, Finding{Fix, leg.Name, "Arm not square to its link at neutral",
			fmt.Sprintf("%.1f° off, limit %.1f°: up and down travel are uneven", leg.OffSquare.Degrees(), r.Limits.OffSquare.Degrees()),
			do + " Then level the plate with the link."})
	}
	return found
}

// checkLean looks for lean under collective alone, and for the leg behind it.
func (r *Rig) checkLean(m *RigMode) ([]Finding, error) {
	const steps = 40
	var worst Row
	for k := range steps + 1 {
		row, err := r.Row(m, float64(k)/steps)
		if err != nil {
			return nil, err
		}
		if k == 0 || row.Lean > worst.Lean {
			worst = row
		}
	}
	if worst.Lean <= r.Limits.Lean {
		return nil, nil
	}
	leg, off, err := r.blameLeg(worst)
	if err != nil {
		return nil, m.fail(float64(worst.Stick), err)
	}
	name := r.Servos[leg].Name
	return []Finding{{Fix, m.Mode.Name, "Plate leans under collective alone",
		fmt.Sprintf("%.2f° at stick %v, low side at bearing %.0f°, limit %.2f°; most of it from %s, whose arm stands %.1f° %s for a level plate",
			worst.Lean.Degrees(), worst.Stick, worst.LowSide.Degrees(), r.Limits.Lean.Degrees(), name, math.Abs(off.Degrees()), highOrLow(off)),
		r.leanCure(leg)}}, nil
}

func highOrLow(off units.Angle) string {
	if off > 0 {
		return "too high"
	}
	return "too low"
}

// checkFights looks for servos that fight over a plate of more than three legs,
// and for the sub-trims that relax them at neutral.
func (r *Rig) checkFights(m *RigMode, rows []Row) ([]Finding, error) {
	var worst swash.Fight
	var at Row
	var name string
	for _, row := range rows {
		for i, f := range row.Fights {
			if math.Abs(float64(f.Strain)) > math.Abs(float64(worst.Strain)) {
				worst, at, name = f, row, r.Servos[i].Name
			}
		}
	}
	strain := math.Abs(worst.Strain.Millimetres())
	if strain <= r.Limits.Strain.Millimetres() {
		return nil, nil
	}
	figure := fmt.Sprintf("the %s link is strained by %.2f mm at stick %v (limit %.2f mm)", name, strain, at.Stick, r.Limits.Strain.Millimetres())
	if worst.Force != 0 {
		figure += fmt.Sprintf(": %.0f N along it, %.3f N·m at its servo, which buzzes and runs hot", math.Abs(worst.Force.Newtons()), math.Abs(worst.Torque.NewtonMetres()))
	}
	relief, err := r.relief()
	if err != nil {
		return nil, m.fail(0.5, err)
	}
	return []Finding{{Fix, m.Mode.Name, "Servos fight each other over the plate", figure, relief}}, nil
}

// relief says which sub-trims leave no link strained with all functions at zero.
func (r *Rig) relief() (string, error) {
	drive := r.Head.Drive
	state := drive.NewState()
	pose, err := drive.Drive(state, swash.Demand{})
	if err != nil {
		return "", err
	}
	if err := drive.Mechanism().Arms(state.Arms, pose); err != nil {
		return "", err
	}
	var trims []string
	for i, s := range r.Servos {
		trim, err := s.whole.SubTrimFor(state.Arms[i])
		if err != nil {
			return "", err
		}
		trims = append(trims, fmt.Sprintf("%s %v", s.Name, trim))
	}
	return "With all functions at zero these sub-trims leave no link strained: " + strings.Join(trims, ", ") +
		". What then remains over the travel is unlike links, arms or end points.", nil
}

// blameLeg returns the leg whose arm is farthest from where a level plate wants
// it, the heights being shared so that the errors are as small as they can be.
func (r *Rig) blameLeg(row Row) (leg int, off units.Angle, err error) {
	level := make([]units.Angle, len(row.Arms))
	if err := r.Head.Drive.Mechanism().Arms(level, swash.Pose{Height: row.Height}); err != nil {
		return 0, 0, err
	}
	errs := make([]units.Angle, len(row.Arms))
	for i, arm := range row.Arms {
		errs[i] = arm - level[i]
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
	return leg, off, nil
}

// leanCure says what is unlike the others about a leg's servo.
func (r *Rig) leanCure(leg int) string {
	servos := r.Head.Drive.Servos()
	s := servos[leg]
	var unlike []string
	for i, o := range servos {
		if i != leg && (o.Low != s.Low || o.High != s.High) {
			unlike = append(unlike, fmt.Sprintf("its end points are %v and %v", s.Low, s.High))
			break
		}
	}
	if s.SubTrim != 0 {
		unlike = append(unlike, fmt.Sprintf("its sub-trim is %v", s.SubTrim))
	}
	if s.Mount != 0 {
		unlike = append(unlike, fmt.Sprintf("its arm is mounted %v off", s.Mount))
	}
	if len(unlike) == 0 {
		return "Look at this leg's link length, arm radius and ball radius against the others; level the plate with the link at neutral, never with an end point."
	}
	return "On this leg " + strings.Join(unlike, ", ") + ": set all servos alike, square the arm, level the plate with the link, and set travel with the function rate."
}

// checkTargetsMet compares a mode's own setting with its targets.
func (r *Rig) checkTargetsMet(m *RigMode) []Finding {
	if m.Unmet != nil {
		severity, do := Fix, "Ask for less, or change arms, horn or links; a rate cannot give it."
		if !m.Works() {
			severity, do = Stop, do+" There is nothing to enter for this mode until then."
		}
		return []Finding{{severity, m.Mode.Name, "Target beyond the geometry", m.unmet(), do}}
	}
	if m.Mode.Targets == nil || m.Mode.Pitch == nil {
		return nil
	}
	var found []Finding
	for _, t := range m.Mode.Targets.Collective {
		row, err := r.Row(m, float64(t.Stick))
		if err != nil {
			continue // the rows of the sheet report it
		}
		if off := row.Gauge - t.Pitch; math.Abs(float64(off)) > float64(r.Limits.PitchError) {
			found = append(found, Finding{Fix, m.Mode.Name, "Pitch target missed",
				fmt.Sprintf("gauge reads %.2f° at stick %v, wanted %.2f°: off by %+.2f°", row.Gauge.Degrees(), t.Stick, t.Pitch.Degrees(), off.Degrees()),
				"Set the rates and curve points that the sheet gives for this mode's targets."})
		}
	}
	return found
}

// checkGaugeScale looks for readings beyond the gauge's scale.
func (r *Rig) checkGaugeScale(m *RigMode, s SheetMode) []Finding {
	g := r.Machine.Gauge
	var found []Finding
	for _, row := range s.Rows {
		if row.OffScale {
			found = append(found, Finding{Hint, m.Mode.Name, "Reading beyond the gauge's scale",
				fmt.Sprintf("%.2f° at stick %v; the gauge spans %.0f° to %.0f°", row.Gauge.Degrees(), row.Stick, g.Low.Degrees(), g.High.Degrees()),
				"Check this point with a gauge of a wider scale, or set it by the curve from points on the scale."})
		}
	}
	for _, reading := range s.Readings {
		if p := reading.Target.Pitch; g.offScale(p) {
			found = append(found, Finding{Hint, m.Mode.Name, "Target beyond the gauge's scale",
				fmt.Sprintf("%.2f° wanted at stick %v; the gauge spans %.0f° to %.0f°", p.Degrees(), reading.Target.Stick, g.Low.Degrees(), g.High.Degrees()),
				"This target cannot be read off this gauge."})
		}
	}
	return found
}

// checkCorners looks for corners of the sticks that clip a servo or cannot be
// reached.
func (r *Rig) checkCorners(m *RigMode, s SheetMode) []Finding {
	var found []Finding
	var clipped, worstServo int
	var worst units.PulseWidth
	var worstCorner string
	for _, c := range s.Corners {
		if c.Stopped != "" {
			found = append(found, Finding{Fix, m.Mode.Name, "Corner that the plate cannot reach",
				c.Stopped + " at " + c.Stick, "Lower the cyclic rates, or the collective rate, until it can."})
		}
		any := false
		for i, p := range c.Clipped {
			any = any || p != 0
			if math.Abs(float64(p)) > math.Abs(float64(worst)) {
				worst, worstServo, worstCorner = p, i, c.Stick
			}
		}
		if any {
			clipped++
		}
	}
	if clipped > 0 {
		found = append(found, Finding{Fix, m.Mode.Name, "Clipped corners",
			fmt.Sprintf("%d of %d corners; worst: servo %s by %.0f µs at %s", clipped, len(s.Corners),
				r.Servos[worstServo].Name, math.Abs(worst.Microseconds()), worstCorner),
			"There the plate leans another way than asked. Lower the cyclic rates, or limit cyclic to the round limit."})
	}
	return found
}

// volume is what the legs meet over the whole volume of the sticks.
type volume struct {
	margin []float64     // least, by leg
	cone   []units.Angle // greatest, by leg
	use    []float64     // greatest part of the way to a pulse limit, by servo
	place  []string      // of the least margin, by leg
	coneAt []string
}

// sweepVolume goes through a grid of all sticks in all modes. Places that the
// plate cannot reach are left out; checkCorners speaks of them.
func (r *Rig) sweepVolume() (volume, error) {
	const grid = 4 // steps on each side of centre
	drive := r.Head.Drive
	n := len(r.Servos)
	v := volume{slices.Repeat([]float64{1}, n), make([]units.Angle, n), make([]float64, n), make([]string, n), make([]string, n)}
	state := drive.NewState()
	for k := range r.Modes {
		m := &r.Modes[k]
		if !m.Works() {
			continue
		}
		for c := -grid; c <= grid; c++ {
			for a := -grid; a <= grid; a++ {
				for e := -grid; e <= grid; e++ {
					at := pitch.Stick{Collective: float64(c+grid) / (2 * grid), Right: float64(a) / grid, Forward: float64(e) / grid}
					demand, err := m.Setting.Demand(at)
					if err != nil {
						return v, m.fail(at.Collective, err)
					}
					if _, _, err := drive.Slopes(state, demand); err != nil {
						continue
					}
					v.take(state, r.Servos, fmt.Sprintf("mode %s, stick %v, cyclic %+.2f right %+.2f forward",
						m.Mode.Name, units.Ratio(at.Collective), at.Right, at.Forward))
				}
			}
		}
	}
	return v, nil
}

func (v *volume) take(state *swash.State, servos []RigServo, place string) {
	for i, e := range state.Effects {
		if e.Margin < v.margin[i] {
			v.margin[i], v.place[i] = e.Margin, place
		}
		if e.Cone > v.cone[i] {
			v.cone[i], v.coneAt[i] = e.Cone, place
		}
		s := servos[i].whole
		centre := s.Neutral + s.SubTrim
		room := min(s.Max-centre, centre-s.Min)
		if room > 0 {
			v.use[i] = math.Max(v.use[i], math.Abs(float64((state.Pulses[i]-centre)/room)))
		}
	}
}

// checkVolume looks for legs near a dead centre, ball links beyond their cone,
// and servos of whose travel little is used.
func (r *Rig) checkVolume(v volume) []Finding {
	var found []Finding
	for i, s := range r.Servos {
		if angle := math.Asin(math.Min(1, v.margin[i])); angle < float64(r.Limits.DeadCentre) {
			found = append(found, Finding{Fix, s.Name, "Leg near a dead centre",
				fmt.Sprintf("arm and link within %.1f° of one line (limit %.1f°) at %s", angle*degree, r.Limits.DeadCentre.Degrees(), v.place[i]),
				"Use less travel or a longer arm: near one line the servo loses its hold and the plate jumps."})
		}
		if v.cone[i] > r.Limits.Cone {
			found = append(found, Finding{Fix, s.Name, "Ball link beyond its cone",
				fmt.Sprintf("%.1f° out of the arm's plane, limit %.1f°, at %s", v.cone[i].Degrees(), r.Limits.Cone.Degrees(), v.coneAt[i]),
				"Move the servo or the ball so that the link runs straighter; a bound ball link pops off."})
		}
	}
	return append(found, r.checkUse(v.use)...)
}

// checkUse looks for servos of whose travel little is used. Servos that share the
// functions go by the one that works most; bell cranks have each their own.
func (r *Rig) checkUse(use []float64) []Finding {
	whose := "all servos"
	most := slices.Index(use, slices.Max(use))
	var found []Finding
	for i, s := range r.Servos {
		if r.Machine.Plate.BellCranks != nil {
			whose = "this servo"
		} else if i != most {
			continue
		}
		if use[i] < float64(r.Limits.LeastUse) {
			found = append(found, Finding{Fix, s.Name, "Little of the servo's travel is used",
				fmt.Sprintf("at most %.0f %% of the way to a pulse limit, over all sticks and modes (limit %v): the rest of its resolution and torque is thrown away", 100*use[i], r.Limits.LeastUse),
				betterHole(s.Type.ArmHoles, s.Arm, use[i], whose)})
		}
	}
	return found
}

// fullUse is the part of a servo's travel that a better arm hole may use.
const fullUse = 0.9

// betterHole names the arm hole nearest the mast of the servo's shaft that still
// reaches all corners. Travel goes with the arm's radius.
func betterHole(holes []units.Length, arm units.Length, used float64, whose string) string {
	wanted := units.Length(used/fullUse) * arm
	best := arm
	for _, hole := range holes {
		if hole >= wanted && hole < best {
			best = hole
		}
	}
	if best == arm {
		return fmt.Sprintf("An arm of about %.1f mm in place of %.1f mm would use it, on %s, with the rates raised to match; the arm has no such hole listed.",
			wanted.Millimetres(), arm.Millimetres(), whose)
	}
	return fmt.Sprintf("Use the %.1f mm arm hole in place of %.1f mm on %s and raise the rates %.2f times: as much more resolution and torque at the plate.",
		best.Millimetres(), arm.Millimetres(), whose, float64(arm/best))
}
