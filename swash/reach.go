package swash

import (
	"math"

	"example.org/levelhead/units"
)

// maxTilt is as far as Pose and Envelope follow a plate: more than any ball joint
// on a mast allows.
const maxTilt = 45 * units.Degree

// Limit is how far a plate can tilt in one direction, and what stops it there.
type Limit struct {
	Bearing units.Angle // of the low side, from the nose, clockwise seen from above
	Tilt    units.Angle // the largest amount that the servos hold, to 1e-12 rad, at most 45°
	// Cause is a *LegError: around a *linkage.ReachError where a link is too short or
	// too long, a *DeadCentreError, or a *servo.RangeError where a servo reaches its
	// pulse limit. It is a *SingularError where the legs lose hold of the plate, and
	// nil where the plate reaches 45°.
	Cause error
}

// Envelope is how far a plate can tilt at one height.
type Envelope struct {
	Limits []Limit // evenly spaced in bearing, from the nose clockwise
	// Circular is the smallest limit of all directions: the circular cyclic limit (cyclic
	// ring) that fits inside all others at this height.
	Circular Limit
}

// Envelope finds how far the plate can tilt at a height. It looks in so many evenly
// spaced directions, at least 8. The error is a *units.FieldError, or what keeps the
// plate from standing level at that height.
func (d *Control) Envelope(height units.Length, directions int) (Envelope, error) {
	if directions < 8 {
		return Envelope{}, refuse("directions", "must be 8 or more, not %d", directions)
	}
	s := d.NewState()
	if err := d.holds(s, Pose{Height: height}); err != nil {
		return Envelope{}, err
	}
	e := Envelope{Limits: make([]Limit, directions)}
	spacing := 2 * math.Pi / float64(directions)
	for i := range e.Limits {
		e.Limits[i] = d.limit(s, height, units.Angle(float64(i)*spacing))
		if i == 0 || e.Limits[i].Tilt < e.Circular.Tilt {
			e.Circular = e.Limits[i]
		}
	}
	e.Circular = d.narrowest(s, height, e.Circular, units.Angle(spacing))
	return e, nil
}

// narrowest refines the smallest limit by golden section on both sides of the
// smallest of the directions tried.
func (d *Control) narrowest(s *State, height units.Length, best Limit, spacing units.Angle) Limit {
	const golden = 0.6180339887498949
	lo, hi := best.Bearing-spacing, best.Bearing+spacing
	a := d.limit(s, height, hi-golden*(hi-lo))
	b := d.limit(s, height, lo+golden*(hi-lo))
	for hi-lo > 1e-7 {
		if a.Tilt < b.Tilt {
			hi, b = b.Bearing, a
			a = d.limit(s, height, hi-golden*(hi-lo))
		} else {
			lo, a = a.Bearing, b
			b = d.limit(s, height, lo+golden*(hi-lo))
		}
	}
	for _, l := range []Limit{a, b} {
		if l.Tilt < best.Tilt {
			best = l
		}
	}
	best.Bearing = Bearing(math.Sincos(float64(best.Bearing)))
	return best
}

// limit follows one direction from level to the first tilt that cannot be held.
func (d *Control) limit(s *State, height units.Length, bearing units.Angle) Limit {
	const stride = 0.5 * units.Degree
	held := units.Angle(0)
	var cause error
	for k := 1; k <= int(maxTilt/stride); k++ {
		next := units.Angle(k) * stride
		if cause = d.holds(s, Pose{height, TiltTo(next, bearing)}); cause != nil {
			break
		}
		held = next
	}
	if cause == nil {
		return Limit{bearing, held, nil}
	}
	lo, hi := held, held+stride
	for hi-lo > 1e-12 {
		mid := (lo + hi) / 2
		if err := d.holds(s, Pose{height, TiltTo(mid, bearing)}); err != nil {
			hi, cause = mid, err
		} else {
			lo = mid
		}
	}
	return Limit{bearing, lo, cause}
}

// holds reports what keeps the servos from holding a pose. A pose that a servo makes
// at its very pulse limit is held, rounding aside.
func (d *Control) holds(s *State, pose Pose) error {
	const slack = 1e-9 // rad
	if err := d.mechanism.Arms(s.Arms, pose); err != nil {
		return err
	}
	for i, arm := range s.Arms {
		low, high := d.servos[i].ArmRange()
		if arm < low-slack || arm > high+slack {
			if _, err := d.servos[i].PulseFor(arm); err != nil {
				return &LegError{i, err}
			}
		}
	}
	return d.mechanism.Effects(s.Effects, pose, s.Arms)
}
