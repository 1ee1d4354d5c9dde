package pitch

import (
	"fmt"
	"math"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Cyclic is the part of a blade's pitch that the pilot steers by: the mean over
// the revolution, and the once-per-revolution parts over the blade's bearing psi, counted from
// the nose, clockwise seen from above.
type Cyclic struct {
	Collective units.Angle // mean, positive with the leading edge up
	Cosine     units.Angle // factor of cos psi: positive is more pitch with the blade over the nose
	Sine       units.Angle // factor of sin psi: positive is more pitch with the blade over the right side
}

// Amplitude returns the size of the once-per-revolution part: most pitch minus the mean.
func (c Cyclic) Amplitude() units.Angle {
	return units.Angle(math.Hypot(float64(c.Cosine), float64(c.Sine)))
}

// Phase returns the bearing at which the blade has most pitch by the once-per-revolution part,
// from 0° at the nose, clockwise seen from above, to below 360°. Without such a part it is 0.
func (c Cyclic) Phase() units.Angle { return swash.Bearing(float64(c.Sine), float64(c.Cosine)) }

// At returns the pitch of the blade at a bearing by the three parts alone, which the true pitch
// differs from by at most about Revolution.Residue.
func (c Cyclic) At(bearing units.Angle) units.Angle {
	sin, cos := math.Sincos(float64(bearing))
	return c.at(sin, cos)
}

func (c *Cyclic) at(sin, cos float64) units.Angle {
	return c.Collective + c.Cosine*units.Angle(cos) + c.Sine*units.Angle(sin)
}

// add takes in the pitch at a station of a revolution.
func (c *Cyclic) add(at *station, p units.Angle) {
	c.Collective += p / samples
	c.Cosine += 2 * p * units.Angle(at.cos) / samples
	c.Sine += 2 * p * units.Angle(at.sin) / samples
}

// String says c in words, rounded to four digits: "collective +5.77° with cyclic 4.05°, most
// with the blade at 100°", clockwise from the nose.
func (c Cyclic) String() string {
	if c.Amplitude() == 0 {
		return fmt.Sprintf("collective %+.4g° without cyclic", c.Collective.Degrees())
	}
	return fmt.Sprintf("collective %+.4g° with cyclic %.4g°, most with the blade at %.4g°",
		c.Collective.Degrees(), c.Amplitude().Degrees(), c.Phase().Degrees())
}

// Revolution is a blade's pitch over one turn of the rotor.
type Revolution struct {
	Cyclic
	// Residue is the unevenness: the largest difference of the true pitch from the three
	// parts of Cyclic, at 32 bearings. Engineers call what makes it higher harmonics.
	Residue units.Angle
}

// samples is the number of blade bearings over a revolution. The harmonics of
// a blade's pitch fall off as powers of the tilt, so that what this many alias
// into the first is far below rounding.
const samples = 32

// station is a bearing at which a blade is looked at.
type station struct {
	bearing  units.Angle
	sin, cos float64
}

// stations are the bearings over a revolution at which Revolution looks.
var stations = func() (s [samples]station) {
	for i := range s {
		s[i].bearing = units.Angle(2 * math.Pi * float64(i) / samples)
		s[i].sin, s[i].cos = math.Sincos(float64(s[i].bearing))
	}
	return s
}()

// Revolution returns the mean and the once-per-revolution parts of the pitch over a
// revolution, with the plate in a pose, to better than 1e-12 rad. The errors are those of
// Pitch.
func (g *Grip) Revolution(pose swash.Pose) (Revolution, error) {
	var pitch [samples]units.Angle
	var c Cyclic
	if err := checkPose(pose); err != nil {
		return Revolution{}, err
	}
	for i := range stations {
		at := &stations[i]
		frame := g.seen(pose, at.sin, at.cos)
		lower, _ := g.lower(frame.Point(g.ball), 0)
		p, err := g.pitchTo(at.bearing, lower)
		if err != nil {
			return Revolution{}, err
		}
		pitch[i] = p
		c.add(at, p)
	}
	r := Revolution{Cyclic: c}
	for i, p := range pitch {
		r.Residue = max(r.Residue, units.Angle(math.Abs(float64(p-c.at(stations[i].sin, stations[i].cos)))))
	}
	return r, nil
}

// CyclicSlopes are the derivatives of the three parts of Cyclic over the plate's pose, in
// rad/m of height and rad/rad of tilt.
type CyclicSlopes struct {
	Collective, Cosine, Sine swash.PoseRate
}

// Slopes returns the parts that Revolution gives at a pose, and their analytic derivatives. The
// errors are those of Effect.
func (g *Grip) Slopes(pose swash.Pose) (Cyclic, CyclicSlopes, error) {
	var c Cyclic
	var s CyclicSlopes
	if err := checkPose(pose); err != nil {
		return Cyclic{}, CyclicSlopes{}, err
	}
	for i := range stations {
		at := &stations[i]
		frame := g.seen(pose, at.sin, at.cos)
		e, err := g.effect(at.bearing, at.sin, at.cos, &frame)
		if err != nil {
			return Cyclic{}, CyclicSlopes{}, err
		}
		c.add(at, e.Pitch)
		s.Collective = s.Collective.Add(e.PerPose.Scale(1. / samples))
		s.Cosine = s.Cosine.Add(e.PerPose.Scale(2 * at.cos / samples))
		s.Sine = s.Sine.Add(e.PerPose.Scale(2 * at.sin / samples))
	}
	return c, s, nil
}

// PoseFor returns the pose of the plate that gives the blade the wanted mean and
// once-per-revolution pitch, within 1e-11°: the inverse of Revolution, by Newton's method from
// the level plate at neutral. It is one such pose, in practice the nearest to neutral, and
// there can be others. The error is a *CyclicError with the nearest that was found, or a
// *units.FieldError for a number that is not finite.
func (g *Grip) PoseFor(want Cyclic) (swash.Pose, error) {
	if g == nil || g.spec.Horn == 0 {
		return swash.Pose{}, errNoGrip
	}
	for i, part := range [...]units.Angle{want.Collective, want.Cosine, want.Sine} {
		if !units.Finite(part) {
			return swash.Pose{}, refuse([...]string{"want.Collective", "want.Cosine", "want.Sine"}[i], "must be finite, not %v", want)
		}
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
		off := want.Sub(got)
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
			if there, thereSlopes, err = g.Slopes(next); err == nil && want.Sub(there).size() < off.size() {
				pose, got, slopes, nearer = next, there, thereSlopes, true
			}
		}
		if !nearer {
			break // at rounding, or stuck
		}
	}
	if want.Sub(got).size() <= reached {
		return pose, nil
	}
	return swash.Pose{}, &CyclicError{want, got, err}
}

// reached is how near a target must be met, in rad: about 1e-11 degree.
const reached = 2e-13

// Sub returns the parts of c minus those of d.
func (c Cyclic) Sub(d Cyclic) Cyclic {
	return Cyclic{c.Collective - d.Collective, c.Cosine - d.Cosine, c.Sine - d.Sine}
}

func (c Cyclic) size() float64 {
	return math.Hypot(float64(c.Collective), float64(c.Amplitude()))
}
