package pitch

import (
	"fmt"
	"math"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Cyclic is the part of a blade's pitch that the pilot steers by: the mean over
// the revolution, and the once-per-revolution parts over the blade's bearing.
type Cyclic struct {
	Collective units.Angle // mean
	Cosine     units.Angle // part with cos psi: above 0 is more pitch over the nose
	Sine       units.Angle // part with sin psi: above 0 is more pitch over the right side
}

// Amplitude returns the size of the once-per-revolution part.
func (c Cyclic) Amplitude() units.Angle {
	return units.Angle(math.Hypot(float64(c.Cosine), float64(c.Sine)))
}

// Phase returns the bearing at which the once-per-revolution part is greatest,
// in [0°, 360°). With no such part it is 0.
func (c Cyclic) Phase() units.Angle { return swash.Bearing(float64(c.Sine), float64(c.Cosine)) }

// At returns the pitch of the blade at bearing azimuth by the three parts alone.
func (c Cyclic) At(azimuth units.Angle) units.Angle {
	sin, cos := math.Sincos(float64(azimuth))
	return c.Collective + c.Cosine*units.Angle(cos) + c.Sine*units.Angle(sin)
}

// add takes in the pitch at sample i of a revolution.
func (c *Cyclic) add(i int, p units.Angle) {
	sin, cos := math.Sincos(float64(azimuth(i)))
	c.Collective += p / samples
	c.Cosine += 2 * p * units.Angle(cos) / samples
	c.Sine += 2 * p * units.Angle(sin) / samples
}

func (c Cyclic) String() string {
	return fmt.Sprintf("collective %.4g° with cyclic %.4g° cos, %.4g° sin",
		c.Collective.Degrees(), c.Cosine.Degrees(), c.Sine.Degrees())
}

// Revolution is a blade's pitch over one turn of the rotor.
type Revolution struct {
	Cyclic
	// Residue is the largest departure of the true pitch from the three parts
	// of Cyclic, at the bearings looked at.
	Residue units.Angle
}

// samples is the number of blade bearings over a revolution. The harmonics of
// a blade's pitch fall off as powers of the tilt, so that what this many alias
// into the first is far below rounding.
const samples = 32

func azimuth(i int) units.Angle { return units.Angle(2 * math.Pi * float64(i) / samples) }

// Revolution returns the Fourier parts of the pitch over a revolution, with the
// plate in a pose. The errors are those of Pitch.
func (g *Grip) Revolution(pose swash.Pose) (Revolution, error) {
	var pitch [samples]units.Angle
	var c Cyclic
	for i := range pitch {
		p, err := g.Pitch(azimuth(i), pose)
		if err != nil {
			return Revolution{}, err
		}
		pitch[i] = p
		c.add(i, p)
	}
	r := Revolution{Cyclic: c}
	for i, p := range pitch {
		r.Residue = max(r.Residue, units.Angle(math.Abs(float64(p-c.At(azimuth(i))))))
	}
	return r, nil
}

// CyclicSlopes are the derivatives of the parts of Cyclic over the pose, in
// rad/m and rad/rad.
type CyclicSlopes struct {
	Collective, Cosine, Sine swash.PoseRate
}

// Slopes returns the Fourier parts at a pose and their analytic derivatives. The
// errors are those of Effect.
func (g *Grip) Slopes(pose swash.Pose) (Cyclic, CyclicSlopes, error) {
	var c Cyclic
	var s CyclicSlopes
	for i := range samples {
		e, err := g.Effect(azimuth(i), pose)
		if err != nil {
			return Cyclic{}, CyclicSlopes{}, err
		}
		c.add(i, e.Pitch)
		sin, cos := math.Sincos(float64(azimuth(i)))
		s.Collective = s.Collective.Add(e.PerPose.Scale(1. / samples))
		s.Cosine = s.Cosine.Add(e.PerPose.Scale(2 * cos / samples))
		s.Sine = s.Sine.Add(e.PerPose.Scale(2 * sin / samples))
	}
	return c, s, nil
}

// PoseFor returns the pose of the plate that gives the blade the wanted mean and
// once-per-revolution pitch: the inverse of Revolution, by Newton's method from
// the level plate at neutral. It is one such pose, in practice the nearest to neutral;
// nothing here proves that there is no other. The error is a *TargetError, or a *SpecError for a
// number that is not finite.
func (g *Grip) PoseFor(want Cyclic) (swash.Pose, error) {
	if !units.Finite(want.Collective) || !units.Finite(want.Cosine) || !units.Finite(want.Sine) {
		return swash.Pose{}, &SpecError{Field: "wanted pitch", Reason: "not finite"}
	}
	pose := swash.Pose{Height: g.home.Z}
	got, slopes, err := g.Slopes(pose)
	if err != nil {
		return swash.Pose{}, err
	}
	const (
		maxSteps = 60
		small    = 4e-16 // rad: the last bits of a few degrees
		halvings = 30
	)
	for range maxSteps {
		off := want.minus(got)
		if off.size() <= small {
			return pose, nil
		}
		step, ok := swash.PoseChange([3]swash.PoseRate{slopes.Collective, slopes.Cosine, slopes.Sine},
			[3]float64{float64(off.Collective), float64(off.Cosine), float64(off.Sine)})
		if !ok {
			break
		}
		// Halve the step until it is possible and brings the blade nearer.
		nearer := false
		for k := 0; !nearer && k < halvings; k++ {
			next := pose.Moved(step.Scale(math.Ldexp(1, -k)))
			var there Cyclic
			var thereSlopes CyclicSlopes
			if there, thereSlopes, err = g.Slopes(next); err == nil && want.minus(there).size() < off.size() {
				pose, got, slopes, nearer = next, there, thereSlopes, true
			}
		}
		if !nearer {
			break // at rounding, or stuck
		}
	}
	if want.minus(got).size() <= reached {
		return pose, nil
	}
	return swash.Pose{}, &TargetError{want, got, err}
}

// reached is how near a target must be met, in rad: about 1e-11 degree.
const reached = 2e-13

func (c Cyclic) minus(d Cyclic) Cyclic {
	return Cyclic{c.Collective - d.Collective, c.Cosine - d.Cosine, c.Sine - d.Sine}
}

func (c Cyclic) size() float64 {
	return math.Hypot(float64(c.Collective), float64(c.Amplitude()))
}
