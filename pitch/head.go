package pitch

import (
	"math"

	"example.org/levelhead/curve"
	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Stick is where the sticks stand.
type Stick struct {
	Collective float64 // 0 at the low end, 1 at the high end
	Right      float64 // -1 full left, 1 full right
	Forward    float64 // -1 full back, 1 full forward
}

// Setting is what a flight mode makes of the sticks.
type Setting struct {
	Pitch *curve.Curve // from the collective stick, 0 to 1, to a demand of -1 to 1
	Expo  curve.Expo   // of both cyclic functions
	Rates swash.Rates
}

// Demand returns the scaled demand for a stick position. Positions beyond the
// sticks' ends count as the ends. The error is a *SpecError for a position that
// is not a number.
func (s *Setting) Demand(at Stick) (swash.Demand, error) {
	if math.IsNaN(at.Collective + at.Right + at.Forward) {
		return swash.Demand{}, &SpecError{Field: "stick", Reason: "a position is not a number"}
	}
	return s.Rates.Scale(swash.Demand{
		Collective: s.Pitch.At(clamp(at.Collective, 0, 1)),
		Right:      s.Expo.At(clamp(at.Right, -1, 1)),
		Forward:    s.Expo.At(clamp(at.Forward, -1, 1)),
	}), nil
}

func clamp(x, lo, hi float64) float64 { return math.Min(math.Max(x, lo), hi) }

// Head is a whole rotor head: the drive under the plate, and the grips above it.
type Head struct {
	Drive *swash.Direct
	Grip  *Grip
}

// Blade returns the pitch of the blade at bearing azimuth for a scaled demand,
// and the pose it came from. Out, one for each servo, is filled with what the
// servos do. The errors are those of swash.Direct.Drive and Grip.Pitch.
func (h *Head) Blade(out []servo.Output, azimuth units.Angle, demand swash.Demand) (units.Angle, swash.Pose, error) {
	pose, err := h.Drive.Drive(out, demand)
	if err != nil {
		return 0, swash.Pose{}, err
	}
	p, err := h.Grip.Pitch(azimuth, pose)
	return p, pose, err
}

// Demand returns the scaled demand that gives the blade the wanted mean and
// once-per-revolution pitch: the inverse of the whole head, steps of the radio
// aside. The errors are those of Grip.PoseFor and swash.Direct.Demand; residual
// is that of the latter.
func (h *Head) Demand(want Cyclic) (demand swash.Demand, residual float64, err error) {
	pose, err := h.Grip.PoseFor(want)
	if err != nil {
		return swash.Demand{}, 0, err
	}
	return h.Drive.Demand(pose)
}

// Sensitivity tells what small changes do to the pitch of one blade, all the way
// from the sticks. The derivatives are analytic.
type Sensitivity struct {
	Effect                                      // of the rotating side, and the pitch itself
	PerCollective, PerRight, PerForward float64 // rad per unit of scaled demand
	Pose                                swash.Pose
}

// Sensitivity returns the pitch of the blade at bearing azimuth for a scaled
// demand, and its derivatives. Legs, one for each leg, is filled with the effects of
// the legs on the plate: legs[i].PerLink.Dot(s.PerPose), for one, is the blade's
// pitch per metre of link i. The steps and limits of the servos are left aside, as
// in swash.Direct.Slopes, whose errors these are, and those of Grip.Effect.
func (h *Head) Sensitivity(legs []swash.LegEffect, azimuth units.Angle, demand swash.Demand) (Sensitivity, error) {
	pose, slopes, err := h.Drive.Slopes(legs, demand)
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
