package gauge

import (
	"math"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// subTrims levels the plate and brings the blades to what is wanted of them on average,
// collective and cyclic at zero, by the radio's sub-trims: each as far as the readings
// say that something is off.
func (w *work) subTrims() error {
	blades, level, err := w.offAtZero()
	if err != nil {
		return err
	}
	off := mean(blades)
	zero := w.worthwhile(off.value, 0, w.leastPitch(), w.sigma(off))
	if !level && !zero {
		return nil
	}
	wanted := w.fit.build.pose
	if level {
		wanted.Tilt = swash.Tilt{}
	}
	if zero {
		if wanted.Height, err = w.heightFor(wanted); err != nil {
			return err
		}
	}
	arms := make([]units.Angle, len(w.fit.build.arms))
	if err := w.fit.build.mechanism.Arms(arms, wanted); err != nil {
		return err
	}
	return w.trim(arms)
}

// heightFor returns the height of the plate at which the blades on average have what is
// wanted with collective and cyclic at zero, by Newton's method from a pose.
func (w *work) heightFor(pose swash.Pose) (units.Length, error) {
	goals, err := w.atZero()
	if err != nil {
		return 0, err
	}
	const steps = 4 // the error squares at each, from some tenth of the pitch
	for range steps {
		var off, slope float64 // of all blades together
		for i, g := range goals {
			e, err := w.fit.build.grips[i].Effect(g.place.sight.bearing, pose)
			if err != nil {
				return 0, err
			}
			off += float64(e.Pitch - g.wanted)
			slope += e.PerPose.Height
		}
		pose.Height -= units.Length(off / slope)
	}
	return pose.Height, nil
}

// trim sets the sub-trims that stand the arms nearest to some angles, and notes those
// that change; none where one of them would be beyond the pulse limits.
func (w *work) trim(arms []units.Angle) error {
	was, next := w.set.Parts().Servos, w.set.Parts().Servos
	counts := make([]float64, len(next)) // radio steps of each
	step := w.set.TrimStep()
	for i := range next {
		s := &next[i]
		travel := 1.
		if g := w.session.model.of(ServoTravel, w.fit.x); len(g) > 0 {
			travel += g[i]
		}
		turn := float64(arms[i]-w.fit.build.arms[i]) / travel
		counts[i] = math.Round(float64(units.PulseWidth(turn/float64(s.Travel))*s.Throw) / float64(step))
		if counts[i] == 0 {
			continue
		}
		s.SubTrim = units.Round(s.SubTrim+units.PulseWidth(counts[i])*step, 6) // no remains of rounding where it comes to 0
		if centre := s.Neutral + s.SubTrim; centre < s.Min || centre > s.Max {
			return nil // the rest alone would make the plate tilt
		}
	}
	for i, count := range counts {
		if count == 0 {
			continue
		}
		servos := w.set.Parts().Servos
		servos[i] = next[i]
		if err := w.setServos(servos); err != nil {
			return err
		}
		if err := w.did(Step{
			Action: SubTrim, What: w.set.Servos()[i].Name + " servo", Index: i,
			Count: count, From: float64(was[i].SubTrim), To: float64(next[i].SubTrim),
		}); err != nil {
			return err
		}
	}
	return nil
}
