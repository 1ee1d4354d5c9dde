package pitch

import (
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Setting is what a flight mode makes of the sticks.
type Setting struct {
	Pitch *curve.Curve // from the collective stick, 0 to 1, to a demand of -1 to 1
	Expo  curve.Expo   // of both cyclic functions
	Rates swash.Rates
}

// Demand returns the scaled demand for a stick position. Positions beyond the
// sticks' ends count as the ends. The error is a *SpecError for a position that
// is not a number, or a setting without a pitch curve.
func (s *Setting) Demand(at Stick) (swash.Demand, error) {
	if s.Pitch == nil {
		return swash.Demand{}, &SpecError{Field: "pitch curve", Reason: "missing"}
	}
	if math.IsNaN(at.Collective + at.Right + at.Forward) {
		return swash.Demand{}, &SpecError{Field: "stick", Reason: "a position is not a number"}
	}
	return s.Rates.Scale(swash.Demand{
		Collective: s.Pitch.At(clamp(at.Collective, 0, 1)),
		Right:      s.Expo.At(clamp(at.Right, -1, 1)),
		Forward:    s.Expo.At(clamp(at.Forward, -1, 1)),
	}), nil
}

// Stick returns the stick position that makes a scaled demand: the inverse of
// Demand. The error is a *SpecError that names the function whose demand no stick
// position makes, or whose curve does not tell.
func (s *Setting) Stick(d swash.Demand) (Stick, error) {
	if s.Pitch == nil {
		return Stick{}, &SpecError{Field: "pitch curve", Reason: "missing"}
	}
	var at Stick
	for _, f := range []struct {
		name   string
		demand float64
		rate   units.Ratio
		undo   func(float64) (float64, error)
		to     *float64
	}{
		{"collective", d.Collective, s.Rates.Collective, s.Pitch.Inverse, &at.Collective},
		{"right", d.Right, s.Rates.Right, s.Expo.Inverse, &at.Right},
		{"forward", d.Forward, s.Rates.Forward, s.Expo.Inverse, &at.Forward},
	} {
		if f.rate == 0 && f.demand == 0 {
			continue // any position makes it: the centre does
		}
		x, err := f.undo(f.demand / float64(f.rate))
		if err != nil {
			return Stick{}, &SpecError{Field: f.name, Reason: err.Error(), Err: err}
		}
		*f.to = x
	}
	return at, nil
}

// Slopes returns the derivatives of the scaled demand over the three sticks at a
// position: of each function over its own stick.
func (s *Setting) Slopes(at Stick) (swash.Demand, error) {
	if _, err := s.Demand(at); err != nil {
		return swash.Demand{}, err
	}
	return s.Rates.Scale(swash.Demand{
		Collective: s.Pitch.Slope(at.Collective),
		Right:      s.Expo.Slope(at.Right),
		Forward:    s.Expo.Slope(at.Forward),
	}), nil
}

func clamp(x, lo, hi float64) float64 { return math.Min(math.Max(x, lo), hi) }

// Head is a whole rotor head: the drive under the plate, and the grips above it.
type Head struct {
	Control *swash.Control
	Grip    *Grip
}

// Blade returns the pitch of the blade at bearing azimuth for a scaled demand,
// and the pose it came from. It fills s with what the servos do. The errors are
// those of swash.Control.Pose and Grip.Pitch.
func (h *Head) Blade(s *swash.State, azimuth units.Angle, demand swash.Demand) (units.Angle, swash.Pose, error) {
	pose, err := h.Control.Pose(s, demand)
	if err != nil {
		return 0, swash.Pose{}, err
	}
	p, err := h.Grip.Pitch(azimuth, pose)
	return p, pose, err
}

// Demand returns the scaled demand that gives the blade the wanted mean and
// once-per-revolution pitch: the inverse of the whole head, steps of the radio
// aside. It fills s but for its Effects. The errors are those of Grip.PoseFor and
// swash.Control.Demand; residual is that of the latter.
func (h *Head) Demand(s *swash.State, want Cyclic) (demand swash.Demand, residual float64, err error) {
	pose, err := h.Grip.PoseFor(want)
	if err != nil {
		return swash.Demand{}, 0, err
	}
	return h.Control.Demand(s, pose)
}

// Sensitivity tells what small changes do to the pitch of one blade, all the way
// from the functions' demands; Setting.Slopes takes it to the sticks. The
// derivatives are analytic.
type Sensitivity struct {
	Effect                                      // of the rotating side, and the pitch itself
	PerCollective, PerRight, PerForward float64 // rad per unit of scaled demand
	Pose                                swash.Pose
}

// Sensitivity returns the pitch of the blade at bearing azimuth for a scaled
// demand, and its derivatives. It fills s: s.Effects[i].PerArm.Dot(e.PerPose), for
// a sensitivity e, is the blade's pitch per radian of servo arm i, and the
// LegEffects of a swash.Plate give that of links and arm radii likewise. The steps and
// limits of the servos are left aside. The errors are those of swash.Control.Slopes
// and Grip.Effect.
func (h *Head) Sensitivity(s *swash.State, azimuth units.Angle, demand swash.Demand) (Sensitivity, error) {
	pose, slopes, err := h.Control.Slopes(s, demand)
	if err != nil {
		return Sensitivity{}, err
	}
	e, err := h.Grip.Effect(azimuth, pose)
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
