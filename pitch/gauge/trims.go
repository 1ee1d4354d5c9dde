package gauge

import (
	"math"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// subTrims levels the plate and brings the blades to what is wanted of them on average,
// all functions at zero, by the radio's sub-trims: each as far as the readings say that
// something is off.
func (w *work) subTrims() error {
	goals, err := w.atZero()
	if err != nil {
		return err
	}
	checks, err := w.checks(goals)
	if err != nil {
		return err
	}
	right, forward, err := w.lean()
	if err != nil {
		return err
	}
	var off, sigma units.Angle // of the blades on average
	for i := range checks {
		off += checks[i].Off() / units.Angle(len(checks))
		sigma = max(sigma, checks[i].Pitch.Sigma)
	}
	tilt := math.Hypot(right.value, forward.value)
	level := worthwhile(tilt, 0, w.leastLean(), w.leanSigma(right, forward))
	zero := worthwhile(float64(off), 0, w.leastPitch(), sigma)
	if !level && !zero {
		return nil
	}
	build := w.fit.build
	if err := build.stand(zeroPosition(w.set)); err != nil {
		return err
	}
	wanted := build.pose
	if level {
		wanted.Lean = swash.Lean{}
	}
	if zero {
		if wanted.Height, err = w.heightFor(wanted, off); err != nil {
			return err
		}
	}
	arms := make([]units.Angle, len(build.arms))
	if err := build.mechanism.Arms(arms, wanted); err != nil {
		return err
	}
	return w.trim(arms)
}

// heightFor returns the height of the plate at which the blades on average have less
// pitch by an amount than in a pose: by Newton's method on their mean.
func (w *work) heightFor(pose swash.Pose, off units.Angle) (units.Length, error) {
	build := w.fit.build
	mean := func(p swash.Pose) (pitch, slope float64, err error) {
		for _, g := range build.grips {
			e, err := g.Effect(w.set.Machine.Gauge.Bearing, p)
			if err != nil {
				return 0, 0, err
			}
			pitch += float64(e.Pitch) / float64(len(build.grips))
			slope += e.PerPose.Height / float64(len(build.grips))
		}
		return pitch, slope, nil
	}
	now, _, err := mean(build.pose)
	if err != nil {
		return 0, err
	}
	const steps = 4 // the error squares at each, from some tenth of the pitch
	for range steps {
		pitch, slope, err := mean(pose)
		if err != nil {
			return 0, err
		}
		pose.Height -= units.Length((pitch - (now - float64(off))) / slope)
	}
	return pose.Height, nil
}

// trim sets the sub-trims that stand the arms nearest to some angles, and notes those
// that change.
func (w *work) trim(arms []units.Angle) error {
	parts := w.set.Parts()
	was := w.set.Parts().Servos
	var changed []int
	for i := range parts.Servos {
		s := &parts.Servos[i]
		gain := 1.
		if g := w.bench.model.of(ServoGain, w.fit.x); len(g) > 0 {
			gain += g[i]
		}
		turn := float64(arms[i]-w.fit.build.arms[i]) / gain
		step := s.Step
		if step == 0 {
			step = 1 * units.PulseMicrosecond // of a stepless radio, as finely as anyone sets it
		}
		count := math.Round(float64(units.PulseWidth(turn/float64(s.Travel))*s.Throw) / float64(step))
		if count == 0 {
			continue
		}
		s.SubTrim += units.PulseWidth(count) * step
		changed = append(changed, i)
	}
	if changed == nil {
		return nil
	}
	next := parts.Servos
	for _, i := range changed {
		servos := w.set.Parts().Servos
		servos[i] = next[i]
		if err := w.setServos(servos); err != nil {
			return err
		}
		step := was[i].Step
		if step == 0 {
			step = 1 * units.PulseMicrosecond
		}
		if err := w.did(Step{
			Action: SubTrim, What: w.set.Servos[i].Name + " servo",
			Count: math.Round(float64((next[i].SubTrim - was[i].SubTrim) / step)),
			From:  float64(was[i].SubTrim), To: float64(next[i].SubTrim),
		}); err != nil {
			return err
		}
	}
	return nil
}
