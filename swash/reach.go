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
	f := d.frontier(height)
	if level := f.at(Tilt{}); level.cause != nil {
		return Envelope{}, level.cause
	}
	e := Envelope{Limits: make([]Limit, directions)}
	spacing := 2 * math.Pi / float64(directions)
	for i := range e.Limits {
		e.Limits[i] = f.limit(units.Angle(float64(i)*spacing), 0)
		if i == 0 || e.Limits[i].Tilt < e.Circular.Tilt {
			e.Circular = e.Limits[i]
		}
	}
	e.Circular = f.narrowest(e.Circular, units.Angle(spacing))
	return e, nil
}

// frontier looks for where a Control ceases to hold the plate at one height.
type frontier struct {
	d      *Control
	s      *State
	height units.Length
	ranges [][2]units.Angle // of the arms, between their pulse limits
}

func (d *Control) frontier(height units.Length) *frontier {
	f := &frontier{d, d.NewState(), height, make([][2]units.Angle, len(d.servos))}
	for i := range d.servos {
		f.ranges[i][0], f.ranges[i][1] = d.servos[i].ArmRange()
	}
	return f
}

// narrowest refines the smallest limit by golden section on both sides of the
// smallest of the directions tried.
func (f *frontier) narrowest(best Limit, spacing units.Angle) Limit {
	const golden = 0.6180339887498949
	near := int(best.Tilt / stride)
	lo, hi := best.Bearing-spacing, best.Bearing+spacing
	a := f.limit(hi-golden*(hi-lo), near)
	b := f.limit(lo+golden*(hi-lo), near)
	for hi-lo > 1e-7 {
		if a.Tilt < b.Tilt {
			hi, b = b.Bearing, a
			a = f.limit(hi-golden*(hi-lo), near)
		} else {
			lo, a = a.Bearing, b
			b = f.limit(lo+golden*(hi-lo), near)
		}
	}
	if b.Tilt < a.Tilt {
		a = b
	}
	if a.Tilt < best.Tilt {
		best = f.limit(a.Bearing, 0) // as the other directions were
	}
	best.Bearing = Bearing(math.Sincos(float64(best.Bearing)))
	return best
}

const (
	stride   = 0.5 * units.Degree // in which a direction is followed
	farthest = int(maxTilt / stride)
	parts    = 1 << 34 // of a stride, in which a limit is found: less than 1e-12 rad each
	fewSteps = 8       // in which the secants find a limit, or nothing but halving does
)

// limit follows one direction from level to the first tilt that cannot be held. From
// so many strides instead, it goes out while the plate is held, or back until it is.
func (f *frontier) limit(bearing units.Angle, strides int) Limit {
	toward := TiltTo(1, bearing)
	at := func(tilt units.Angle) probe { return f.at(Tilt{tilt * toward.Right, tilt * toward.Forward}) }
	in := at(units.Angle(strides) * stride)
	out := in
	if in.cause == nil {
		for ; ; strides++ {
			if strides == farthest {
				return Limit{bearing, maxTilt, nil}
			}
			if out = at(units.Angle(strides+1) * stride); out.cause != nil {
				break
			}
			in = out
		}
	}
	for in.cause != nil && strides > 0 {
		strides--
		out, in = in, at(units.Angle(strides)*stride)
	}
	held := units.Angle(strides) * stride
	part := func(n int64) units.Angle { return held + stride*units.Angle(n)/parts }
	// Where arms come to their pulse limits, the secant through the last two rooms leads to
	// the limit in a few steps.
	lo, hi := int64(0), int64(parts)
	here, there := float64(hi), float64(lo)
	room, last := out.room, in.room
	for steps := 0; hi-lo > 1; steps++ {
		mid := (lo + hi) / 2
		if zero := here - room*(here-there)/(room-last); steps < fewSteps && zero > float64(lo)-1 && zero < float64(hi)+1 {
			mid = min(max(int64(zero), lo+1), hi-1)
		}
		p := at(part(mid))
		if p.cause == nil {
			lo = mid
		} else {
			hi, out = mid, p
		}
		here, there = float64(mid), here
		room, last = p.room, room
	}
	return Limit{bearing, part(lo), out.cause}
}

// probe is how a Control holds a pose: what keeps it from that, and how far the nearest
// arm is from a pulse limit, below 0 where one is beyond, and NaN where a link does not reach.
type probe struct {
	cause error
	room  float64
}

// at looks at a tilt. A pose that a servo makes at its very pulse limit is held,
// rounding aside.
func (f *frontier) at(tilt Tilt) probe {
	const slack = 1e-9 // rad
	arms, pose := f.s.Arms, Pose{f.height, tilt}
	if err := f.d.mechanism.Arms(arms, pose); err != nil {
		return probe{err, math.NaN()}
	}
	p := probe{nil, math.Inf(1)}
	for i, arm := range arms {
		room := float64(min(arm-f.ranges[i][0], f.ranges[i][1]-arm)) + slack
		p.room = min(p.room, room)
		if room < 0 && p.cause == nil {
			if _, err := f.d.servos[i].PulseFor(arm); err != nil {
				p.cause = &LegError{i, err}
			}
		}
	}
	if p.cause == nil {
		p.cause = f.hold(pose, arms)
	}
	return p
}

// holder is a Mechanism that tells without its effects whether it holds a pose with the
// arms that it gave for it. The errors are those of Effects.
type holder interface {
	holds(pose Pose, arms []units.Angle) error
}

func (f *frontier) hold(pose Pose, arms []units.Angle) error {
	if m, ok := f.d.mechanism.(holder); ok {
		return m.holds(pose, arms)
	}
	return f.d.mechanism.Effects(f.s.Effects, pose, arms)
}
