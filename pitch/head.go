package pitch

import (
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Setting is what a flight mode makes of the sticks.
type Setting struct {
	Pitch *curve.Curve // from the collective stick, 0 to 1, to a demand of -1 to 1; there must be one
	Expo  curve.Expo   // of both cyclic sticks; 0 is straight
	Rates swash.Rates  // by which the demands are multiplied; 100 % takes them as they are
}

// Demand returns the demand for a stick position, by the curve, the expo and the rates. It is
// what swash.Control takes. The error is a *units.FieldError for a position beyond the sticks'
// ends by more than rounding, for a rate beyond swash.MaxRate, or for a setting without a
// pitch curve.
func (s Setting) Demand(at Stick) (swash.Demand, error) {
	if s.Pitch == nil {
		return swash.Demand{}, refuse("Pitch", "must be set")
	}
	if err := at.Validate(); err != nil {
		return swash.Demand{}, units.In("at", "", err)
	}
	if !(largest(s.Rates) <= swash.MaxRate) {
		return swash.Demand{}, units.In("Rates", "", s.Rates.Validate())
	}
	return s.Rates.Scale(swash.Demand{
		Collective: s.Pitch.At(clamp(at.Collective, 0, 1)),
		Right:      s.Expo.At(clamp(at.Right, -1, 1)),
		Forward:    s.Expo.At(clamp(at.Forward, -1, 1)),
	}), nil
}

// Stick returns the stick position that makes a scaled demand: the inverse of
// Demand. The error is a *units.FieldError whose Field is "d.Collective", "d.Right" or "d.Forward": no
// stick position makes that demand, or more than one does.
func (s Setting) Stick(d swash.Demand) (Stick, error) {
	if s.Pitch == nil {
		return Stick{}, refuse("Pitch", "must be set")
	}
	var at Stick
	for _, f := range []struct {
		name   string
		demand float64
		rate   units.Ratio
		undo   func(float64) (float64, error)
		to     *float64
	}{
		{"d.Collective", d.Collective, s.Rates.Collective, s.Pitch.Inverse, &at.Collective},
		{"d.Right", d.Right, s.Rates.Right, s.Expo.Inverse, &at.Right},
		{"d.Forward", d.Forward, s.Rates.Forward, s.Expo.Inverse, &at.Forward},
	} {
		if f.rate == 0 && f.demand == 0 {
			continue // any position makes it: the centre does
		}
		x, err := f.undo(f.demand / float64(f.rate))
		if err != nil {
			e := words.Refuse(f.name, "demand of %.4g has no stick position at a rate of %v: %v", f.demand, f.rate, err)
			e.Err = err
			return Stick{}, units.In("", "pitch: ", e)
		}
		*f.to = x
	}
	return at, nil
}

// Slopes returns the derivatives of the scaled demand over the three sticks at a
// position: each part over its own stick, whose travel is 0 to 1 for collective and -1 to 1
// for cyclic. The errors are those of Demand.
func (s Setting) Slopes(at Stick) (swash.Demand, error) {
	if _, err := s.Demand(at); err != nil {
		return swash.Demand{}, err
	}
	return s.Rates.Scale(swash.Demand{
		Collective: s.Pitch.Slope(at.Collective),
		Right:      s.Expo.Slope(at.Right),
		Forward:    s.Expo.Slope(at.Forward),
	}), nil
}

// largest returns the largest amount of the rates: NaN where one is.
func largest(r swash.Rates) units.Ratio {
	return max(r.Collective, -r.Collective, r.Right, -r.Right, r.Forward, -r.Forward)
}

func clamp(x, lo, hi float64) float64 { return math.Min(math.Max(x, lo), hi) }

// Head is a whole rotor head, from the demand to the blade.
type Head struct {
	Control *swash.Control // the servos and the swashplate
	Grip    *Grip          // the rotating ring and one blade; all blades are alike
}

// Blade returns the pitch of the blade at a bearing for a scaled demand, positive with the
// leading edge up, and the plate's pose. It fills s with what the servos do, but for Effects.
// The bearing counts from the nose, clockwise seen from above. The errors are
// those of swash.Control.Pose and Grip.Pitch.
func (h *Head) Blade(s *swash.State, bearing units.Angle, demand swash.Demand) (units.Angle, swash.Pose, error) {
	pose, err := h.Control.Pose(s, demand)
	if err != nil {
		return 0, swash.Pose{}, err
	}
	p, err := h.Grip.Pitch(bearing, pose)
	return p, pose, err
}

// Demand returns the scaled demand that gives the blade the wanted mean and
// once-per-revolution pitch: the inverse of the whole head. It leaves out the steps of the
// radio. It fills s but for its Effects. The errors are those of Grip.PoseFor and
// swash.Control.Demand; residual is that of the latter.
func (h *Head) Demand(s *swash.State, want Cyclic) (demand swash.Demand, residual float64, err error) {
	pose, err := h.Grip.PoseFor(want)
	if err != nil {
		return swash.Demand{}, 0, err
	}
	return h.Control.Demand(s, pose)
}

// Sensitivity tells what small changes do to the pitch of one blade, all the way
// from the demand; multiply by Setting.Slopes for the sticks. The derivatives are analytic.
type Sensitivity struct {
	Effect                                      // of the rotating side, and the pitch itself
	PerCollective, PerRight, PerForward float64 // rad of blade pitch for a scaled demand of 1
	Pose                                swash.Pose
}

// Sensitivity returns the pitch of the blade at a bearing for a scaled
// demand, and its derivatives, which leave out the steps and limits of the servos. It fills s.
// For a sensitivity e, s.Effects[i].PerArm.Dot(e.PerPose) is the blade's pitch per radian of
// servo arm i. The LegEffects of a swash.Plate give that of links and arm radii in the same
// way. The errors are those of swash.Control.Slopes and Grip.Effect.
func (h *Head) Sensitivity(s *swash.State, bearing units.Angle, demand swash.Demand) (Sensitivity, error) {
	pose, slopes, err := h.Control.Slopes(s, demand)
	if err != nil {
		return Sensitivity{}, err
	}
	e, err := h.Grip.Effect(bearing, pose)
	if err != nil {
		return Sensitivity{}, err
	}
	return Sensitivity{
		Effect:        e,
		PerCollective: slopes.Collective.Dot(e.PerPose),
		PerRight:      slopes.Right.Dot(e.PerPose),
		PerForward:    slopes.Forward.Dot(e.PerPose),
		Pose:          pose,
	}, nil
}
