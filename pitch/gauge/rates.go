package gauge

import (
	"errors"
	"fmt"
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// radio brings the modes to what is wanted of them, over the collective stick first: by
// their collective rates and then by points of their pitch curves.
func (w *work) radio() error {
	for i, mode := range w.set.Modes() {
		if !mode.Works() {
			continue
		}
		if err := w.radioMode(i); err != nil {
			return err
		}
	}
	return nil
}

// radioMode brings one mode to what is wanted of it.
func (w *work) radioMode(i int) error {
	collective, cyclic, err := w.offBy(i)
	if err != nil || !w.much(collective) && !w.much(cyclic) {
		return err
	}
	built, err := w.built()
	if err != nil {
		return err
	}
	// What is wanted, transferred to the build as it is.
	transferred, err := w.wanted.Modes()[i].Transfer(built, setup.TransferOptions{})
	var mode *setup.ModeError
	switch {
	case errors.As(err, &mode): // the build does not reach it, or what is wanted takes a servo to its limit by itself
		w.unmet[w.set.Modes()[i].Name()] = err
		return nil
	case err != nil:
		return err
	}
	if w.much(collective) {
		if err := w.setCollective(i, &transferred.Exact, collective); err != nil {
			return err
		}
		if _, cyclic, err = w.offBy(i); err != nil { // the collective is in it
			return err
		}
	}
	if !w.much(cyclic) {
		return nil
	}
	right, forward := transferred.Enter.Rates.Right, transferred.Enter.Rates.Forward
	if err := w.setRate(i, RightCyclic, right, func(c *Check) bool { return c.Stick.Right != 0 }); err != nil {
		return err
	}
	return w.setRate(i, ForwardCyclic, forward, func(c *Check) bool { return c.Stick.Forward != 0 })
}

// setCollective brings a mode's pitch over the collective stick to that of a setting, by its
// rate and the points of its curve together, or by the points alone: where that brings it
// nearer by what is worth a step.
func (w *work) setCollective(mode int, exact *pitch.Setting, before miss) error {
	was, done := w.settings[mode], len(w.steps)
	for _, rate := range []units.Ratio{w.rateFor(mode, exact, before.ratio), was.Rates.Collective} {
		if err := w.setRate(mode, Collective, rate, nil); err != nil {
			return err
		}
		after, _, err := w.offBy(mode)
		if err != nil {
			return err
		}
		if w.much(after) {
			if err := w.setPoints(mode, exact); err != nil {
				return err
			}
			if after, _, err = w.offBy(mode); err != nil {
				return err
			}
		}
		if before.worst-after.worst >= float64(w.leastPitch()) {
			return nil
		}
		w.settings[mode], w.steps = was, w.steps[:done]
		if err := w.move(w.fit.x); err != nil {
			return err
		}
	}
	return nil
}

// miss is how far a mode is from what is wanted of it.
type miss struct {
	worst float64 // the largest amount
	least units.Angle
	sigma units.Angle
	ratio float64 // of the pitch wanted from the lowest stick to the highest to that there is; 1 where there is none
}

// much reports whether a miss is worth a step, and known to be.
func (w *work) much(m miss) bool { return w.worthwhile(m.worst, 0, m.least, m.sigma) }

// offBy returns how far a mode is from its goals of collective and of cyclic.
func (w *work) offBy(mode int) (collective, swing miss, err error) {
	goals := w.ofMode(mode)
	looks, err := w.seeGoals(goals)
	if err != nil {
		return miss{}, miss{}, err
	}
	collective, swing = miss{least: w.leastPitch(), ratio: 1}, miss{least: 2 * w.leastPitch(), ratio: 1}
	var wanted, got []float64
	for k := 0; k < len(goals); k += w.session.model.blades {
		// Only what the blades have in common is the radio's to mend.
		all := mean(looks[k:][:w.session.model.blades])
		m := &collective
		if cyclic(goals[k].place.stick) {
			m = &swing
		} else {
			wanted, got = append(wanted, float64(goals[k].wanted)), append(got, all.value)
		}
		if off := math.Abs(all.value - float64(goals[k].wanted)); off > m.worst {
			m.worst, m.sigma = off, w.sigma(all)
		}
	}
	if span := got[len(got)-1] - got[0]; span != 0 {
		collective.ratio = (wanted[len(wanted)-1] - wanted[0]) / span
	}
	return collective, swing, nil
}

// built returns the build as a rig, with the mean of its blades' pitch horns and pitch links.
func (w *work) built() (*setup.Rig, error) {
	parts := w.set.Parts()
	m := w.session.model
	for i := range parts.Servos {
		applyTo(&parts.Servos[i], m, w.fit.x, i)
	}
	parts.Plate = w.fit.build.spec.Plate
	parts.Chains = w.fit.build.spec.Chains
	parts.Grip = w.fit.build.grips[0].Spec()
	var link, horn units.Length
	for _, g := range w.fit.build.grips {
		link += g.Spec().Link
		horn += g.Spec().Horn
	}
	n := units.Length(len(w.fit.build.grips))
	parts.Grip.Link, parts.Grip.Horn = link/n, horn/n
	return w.set.With(parts)
}

// applyTo puts into a servo what its own parameters are off by.
func applyTo(s *servo.Servo, m *model, x []float64, i int) {
	at := func(k Kind) float64 {
		if v := m.of(k, x); len(v) > 0 {
			return v[i]
		}
		return 0
	}
	s.Mount += units.Angle(at(ServoCentre))
	s.Travel *= units.Angle(1 + at(ServoTravel))
	s.Low += units.Ratio(at(LowEnd))
	s.High += units.Ratio(at(HighEnd))
}

// setRate sets the collective rate or a cyclic rate of a mode, as far as the radio takes it.
func (w *work) setRate(mode int, control Control, to units.Ratio, mends func(*Check) bool) error {
	step := float64(w.set.Radio().PercentStep)
	limit := w.set.RateLimit()
	const rounding = 1e-9 // of a step
	if units.Ratio(math.Abs(float64(to))) > limit+units.Ratio(rounding*step) {
		w.unmet[w.set.Modes()[mode].Name()] = &RateError{What: control.rate(), Rate: to, Limit: limit}
		to = units.Ratio(math.Copysign(math.Floor(float64(limit)/step+rounding)*step, float64(to)))
	}
	set := w.settings[mode]
	rate := control.of(&set.Rates)
	from := *rate
	count := math.Round(float64(to-from) / step)
	if count == 0 {
		return nil
	}
	*rate = to
	return w.try(mode, set, Step{Action: Rate, What: control.rate(), Control: control, Count: count, From: float64(from), To: float64(to)}, mends)
}

// rate names the control's rate.
func (c Control) rate() string {
	return [...]string{"", "collective rate", "right cyclic rate", "forward cyclic rate"}[c]
}

// of returns the control's own of some rates.
func (c Control) of(r *swash.Rates) *units.Ratio {
	return [...]*units.Ratio{nil, &r.Collective, &r.Right, &r.Forward}[c]
}

// try enters a setting in a mode and notes it as a step. It takes it back unless the blades
// on average come nearer to what is wanted, by what is worth a step, at one of the checks
// that it is to mend; or, where those are nil, have pitch that differs by as much anywhere.
func (w *work) try(mode int, set pitch.Setting, s Step, mends func(*Check) bool) error {
	was := w.settings[mode]
	before, err := w.checks(w.ofMode(mode))
	if err != nil {
		return err
	}
	w.settings[mode] = set
	if err := w.move(w.fit.x); err != nil {
		return err
	}
	if s.After, err = w.checks(w.ofMode(mode)); err != nil {
		return err
	}
	var most float64
	for i := 0; i < len(before); i += w.session.model.blades {
		was, is := averageOff(before[i:][:w.session.model.blades]), averageOff(s.After[i:][:w.session.model.blades])
		switch {
		case mends == nil:
			most = math.Max(most, math.Abs(is-was))
		case mends(&before[i]):
			most = math.Max(most, math.Abs(was)-math.Abs(is))
		}
	}
	if most < float64(w.leastPitch()) {
		w.settings[mode] = was
		return w.move(w.fit.x)
	}
	s.Mode = w.set.Modes()[mode].Name()
	w.steps = append(w.steps, s)
	return nil
}

// averageOff returns by how much the pitch of all blades on average is more than what is
// wanted.
func averageOff(blades []Check) float64 {
	var off float64
	for i := range blades {
		off += float64(blades[i].Off()) / float64(len(blades))
	}
	return off
}

// rateFor returns the collective rate, in the radio's steps: the present one in proportion
// to the pitch that is wanted, or the least one for which the curve that is wanted stays
// within 100 %.
func (w *work) rateFor(mode int, exact *pitch.Setting, ratio float64) units.Ratio {
	step := float64(w.set.Radio().PercentStep)
	rate := math.Round(float64(w.settings[mode].Rates.Collective)*ratio/step) * step
	var most float64
	const samples = 100
	for i := range samples + 1 {
		most = math.Max(most, math.Abs(exact.Pitch.At(float64(i)/samples)*float64(exact.Rates.Collective)))
	}
	const rounding = 1e-9
	if math.Abs(rate) < most {
		rate = math.Copysign(math.Ceil(most/step-rounding)*step, rate)
	}
	return units.Ratio(rate)
}

// setPoints brings the points of a mode's pitch curve to the collective demands of a
// setting, in the radio's steps, where that changes the pitch of a blade by what is worth
// a step.
func (w *work) setPoints(mode int, exact *pitch.Setting) error {
	step := float64(w.set.Radio().PercentStep)
	if w.settings[mode].Rates.Collective == 0 {
		return nil // no curve makes pitch
	}
	for i, p := range w.settings[mode].Pitch.Points() {
		set := w.settings[mode]
		points := set.Pitch.Points()
		demand := exact.Pitch.At(p.X) * float64(exact.Rates.Collective)
		from := p.Y
		to := math.Max(-1, math.Min(1, math.Round(demand/float64(set.Rates.Collective)/step)*step))
		count := math.Round((to - from) / step)
		if count == 0 {
			continue
		}
		points[i].Y = to
		var err error
		if set.Pitch, err = curve.New(set.Pitch.Kind(), points); err != nil {
			return err
		}
		what := fmt.Sprintf("pitch curve's point at %v stick", units.Ratio(points[i].X))
		if err := w.try(mode, set, Step{Action: CurvePoint, What: what, Index: i, Count: count, From: from, To: to}, func(c *Check) bool {
			return !c.Cyclic() && c.Stick.Collective == p.X
		}); err != nil {
			return err
		}
	}
	return nil
}
