package gauge

import (
	"errors"
	"fmt"
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// radio brings the modes to what is wanted of them, by their function rates first and
// then by points of their pitch curves.
func (w *work) radio() error {
	for i := range w.set.Modes {
		if !w.set.Modes[i].Works() {
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
	if err != nil || !collective.much() && !cyclic.much() {
		return err
	}
	fitted, err := w.fitted()
	if err != nil {
		return err
	}
	// What is wanted, carried over to the build as it is.
	carried, err := (setup.Setup{Rig: w.wanted, Mode: &w.wanted.Modes[i]}).Transfer(fitted, setup.TransferOptions{})
	var target *setup.TargetError
	switch {
	case errors.As(err, &target):
		w.unmet[w.set.Modes[i].Mode.Name] = err
		return nil
	case err != nil:
		return err
	}
	if cyclic.much() {
		if err := w.setRate(i, "right cyclic rate", carried.Enter.Rates.Right, func(s *pitch.Setting) *units.Ratio { return &s.Rates.Right }); err != nil {
			return err
		}
		if err := w.setRate(i, "forward cyclic rate", carried.Enter.Rates.Forward, func(s *pitch.Setting) *units.Ratio { return &s.Rates.Forward }); err != nil {
			return err
		}
	}
	if !collective.much() {
		return nil
	}
	rate := w.rateFor(i, &carried.Exact, collective.ratio)
	if err := w.setRate(i, "collective rate", rate, func(s *pitch.Setting) *units.Ratio { return &s.Rates.Collective }); err != nil {
		return err
	}
	if collective, _, err = w.offBy(i); err != nil || !collective.much() {
		return err
	}
	return w.setPoints(i, &carried.Exact)
}

// miss is how far a mode is from what is wanted of it.
type miss struct {
	worst float64 // the largest amount
	least units.Angle
	sigma units.Angle
	ratio float64 // of the pitch wanted from the lowest stick to the highest to that there is; 1 where there is none
}

// much reports whether it is too far, and known to be.
func (m miss) much() bool { return worthwhile(m.worst, 0, m.least, m.sigma) }

// offBy returns how far a mode is from its goals of collective and of cyclic.
func (w *work) offBy(mode int) (collective, cyclic miss, err error) {
	goals := w.ofMode(mode)
	checks, err := w.checks(goals)
	if err != nil {
		return miss{}, miss{}, err
	}
	collective, cyclic = miss{least: w.leastPitch(), ratio: 1}, miss{least: 2 * w.leastPitch(), ratio: 1}
	var wanted, got []float64
	for k := 0; k < len(goals); k += w.bench.model.blades {
		// Only what the blades have in common is the radio's to mend.
		var mean float64
		for _, c := range checks[k:][:w.bench.model.blades] {
			mean += float64(c.Pitch.Value) / float64(w.bench.model.blades)
		}
		m := &collective
		if goals[k].cyclic {
			m = &cyclic
		} else {
			wanted, got = append(wanted, float64(goals[k].wanted)), append(got, mean)
		}
		if off := math.Abs(mean - float64(goals[k].wanted)); off > m.worst {
			m.worst, m.sigma = off, checks[k].Pitch.Sigma
		}
	}
	if span := got[len(got)-1] - got[0]; span != 0 {
		collective.ratio = (wanted[len(wanted)-1] - wanted[0]) / span
	}
	return collective, cyclic, nil
}

// fitted returns the build as a rig, its blades' horns and links those of the mean.
func (w *work) fitted() (*setup.Rig, error) {
	parts := w.set.Parts()
	m := w.bench.model
	for i := range parts.Servos {
		applyTo(&parts.Servos[i], m, w.fit.x, i)
	}
	parts.Plate = w.fit.build.spec.Plate
	parts.Cranks = w.fit.build.spec.Cranks
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

// applyTo puts into a servo what its own parts are off by.
func applyTo(s *servo.Servo, m *model, x []float64, i int) {
	at := func(k Kind) float64 {
		if v := m.of(k, x); len(v) > 0 {
			return v[i]
		}
		return 0
	}
	s.Mount += units.Angle(at(ServoCentre))
	s.Travel *= units.Angle(1 + at(ServoGain))
	s.Low += units.Ratio(at(LowEnd))
	s.High += units.Ratio(at(HighEnd))
}

// setRate sets a function rate of a mode, where that changes the pitch of a blade at one
// of the mode's checks by what is worth a step.
func (w *work) setRate(mode int, what string, to units.Ratio, of func(*pitch.Setting) *units.Ratio) error {
	was := w.settings[mode]
	from := *of(&was)
	step := float64(w.set.Machine.Radio.PercentStep)
	count := math.Round(float64(to-from) / step)
	if count == 0 {
		return nil
	}
	set := was
	*of(&set) = to
	return w.try(mode, set, Step{Action: Rate, What: what, Count: count, From: float64(from), To: float64(to)})
}

// try enters a setting in a mode, notes it as a step, and takes it back where no check of
// the mode changes by what is worth a step.
func (w *work) try(mode int, set pitch.Setting, s Step) error {
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
	for i := range before {
		most = math.Max(most, math.Abs(float64(s.After[i].Pitch.Value-before[i].Pitch.Value)))
	}
	if most < float64(w.leastPitch()) {
		w.settings[mode] = was
		return w.move(w.fit.x)
	}
	s.Mode = w.set.Modes[mode].Mode.Name
	w.steps = append(w.steps, s)
	return nil
}

// rateFor returns the collective rate, in the radio's steps: the present one in proportion
// to the pitch that is wanted, or the least one for which the curve that is wanted stays
// within 100 %.
func (w *work) rateFor(mode int, exact *pitch.Setting, ratio float64) units.Ratio {
	step := float64(w.set.Machine.Radio.PercentStep)
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
	step := float64(w.set.Machine.Radio.PercentStep)
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
		if err := w.try(mode, set, Step{Action: CurvePoint, What: what, Count: count, From: from, To: to}); err != nil {
			return err
		}
	}
	return nil
}
