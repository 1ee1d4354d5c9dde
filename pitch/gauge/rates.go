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
		if err := w.setRates(i, "right cyclic rate", carried.Enter.Rates.Right, func(s *pitch.Setting) *units.Ratio { return &s.Rates.Right }); err != nil {
			return err
		}
		if err := w.setRates(i, "forward cyclic rate", carried.Enter.Rates.Forward, func(s *pitch.Setting) *units.Ratio { return &s.Rates.Forward }); err != nil {
			return err
		}
	}
	if !collective.much() {
		return nil
	}
	rate, values := w.curveFor(i, &carried.Exact, collective.ratio)
	if err := w.setRates(i, "collective rate", rate, func(s *pitch.Setting) *units.Ratio { return &s.Rates.Collective }); err != nil {
		return err
	}
	if collective, _, err = w.offBy(i); err != nil || !collective.much() {
		return err
	}
	return w.setPoints(i, values)
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
	for k, g := range goals {
		m := &collective
		if g.cyclic {
			m = &cyclic
		} else if g.place.sight.blade == 0 {
			wanted, got = append(wanted, float64(g.wanted)), append(got, float64(checks[k].Pitch.Value))
		}
		if off := math.Abs(float64(checks[k].Off())); off > m.worst {
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

// setRates sets a function rate of a mode, where it changes by a radio step or more.
func (w *work) setRates(mode int, what string, to units.Ratio, of func(*pitch.Setting) *units.Ratio) error {
	rate := of(&w.settings[mode])
	from := *rate
	step := float64(w.set.Machine.Radio.PercentStep)
	count := math.Round(float64(to-from) / step)
	if count == 0 {
		return nil
	}
	*rate = to
	return w.didInMode(mode, Step{Action: Rate, What: what, Count: count, From: float64(from), To: float64(to)})
}

// didInMode notes a step that is felt in a mode.
func (w *work) didInMode(mode int, s Step) error {
	if err := w.move(w.fit.x); err != nil {
		return err
	}
	s.Mode = w.set.Modes[mode].Mode.Name
	var err error
	if s.After, err = w.checks(w.ofMode(mode)); err != nil {
		return err
	}
	w.steps = append(w.steps, s)
	return nil
}

// curveFor returns the collective rate, in the radio's steps, and the values of the
// curve's points at that rate. The rate is the present one in proportion to the pitch
// that is wanted, or the least one for which no point is beyond 100 %.
func (w *work) curveFor(mode int, exact *pitch.Setting, ratio float64) (units.Ratio, []float64) {
	step := float64(w.set.Machine.Radio.PercentStep)
	rate := math.Round(float64(w.settings[mode].Rates.Collective)*ratio/step) * step
	demands := make([]float64, 0, len(exact.Pitch.Points()))
	var most float64
	for _, p := range exact.Pitch.Points() {
		d := p.Y * float64(exact.Rates.Collective)
		demands = append(demands, d)
		most = math.Max(most, math.Abs(d))
	}
	const rounding = 1e-9
	if math.Abs(rate) < most {
		rate = math.Copysign(math.Ceil(most/step-rounding)*step, rate)
	}
	for i := range demands {
		demands[i] = math.Max(-1, math.Min(1, math.Round(demands[i]/rate/step)*step))
	}
	return units.Ratio(rate), demands
}

// setPoints sets the points of a mode's pitch curve that change by a radio step or more.
func (w *work) setPoints(mode int, values []float64) error {
	was := w.settings[mode].Pitch
	points := was.Points()
	if len(points) != len(values) {
		return nil // the points of the curve are those that were carried over
	}
	step := float64(w.set.Machine.Radio.PercentStep)
	for i, to := range values {
		from := points[i].Y
		count := math.Round((to - from) / step)
		if count == 0 {
			continue
		}
		points[i].Y = to
		changed, err := curve.New(was.Kind(), points)
		if err != nil {
			return err
		}
		w.settings[mode].Pitch = changed
		what := fmt.Sprintf("pitch curve's point at %v stick", units.Ratio(points[i].X))
		if err := w.didInMode(mode, Step{Action: CurvePoint, What: what, Count: count, From: from, To: to}); err != nil {
			return err
		}
	}
	return nil
}
