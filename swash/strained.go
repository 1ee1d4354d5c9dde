package swash

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// More than three legs stand where the sum of their squared strains e, weighted by
// w², is least over the pose x. There its gradient is zero, and a part's change
// by dp moves the plate by dx so that it stays so:
//
//	g = Σ w² e ∇e = 0,  H dx = -∂g/∂p dp
//	H     = Σ w² (∇e ∇eᵀ + e ∇²e)
//	∂g/∂p = w² (∂e/∂p ∇e + e ∂∇e/∂p)
//
// The terms in e are of this file: a strained link pulls, and as it swings it pulls
// another way. In structures they are known as the geometric stiffness.

// strained is a leg whose link pulls.
type strained struct {
	pull   float64 // w² e
	along  r3.Vec  // of the link, from the plate's ball to the arm's, at length 1
	length float64 // between the balls

	at, right, forward r3.Vec // the plate's ball from the centre, and its slopes over the tilt, over the plate's size
}

func (p *Plate) strained(l *leg, w *turning, arm r3.Vec) strained {
	at := w.stand.Carry(l.ball)
	link := r3.Sub(arm, w.raised(at).Vec())
	length := r3.Norm(link)
	return strained{
		pull:   l.weight * l.weight * (length - float64(l.arm.Link())),
		along:  r3.Scale(1/length, link),
		length: length,
		at:     at, right: r3.Scale(1/p.size, r3.Cross(w.right, at)), forward: r3.Scale(1/p.size, r3.Cross(w.forward, at)),
	}
}

// swing returns what the strain's gradient over the pose gains as the arm's ball
// moves by v, or the plate's ball by -v.
func (s *strained) swing(v r3.Vec) r3.Vec {
	turn := r3.Scale(1/s.length, r3.Sub(v, r3.Scale(r3.Dot(s.along, v), s.along)))
	return r3.Vec{X: -turn.Z, Y: -r3.Dot(turn, s.right), Z: -r3.Dot(turn, s.forward)}
}

// stiffen adds the strains' own part to the equations of small changes. The error
// is a *SingularError where the pose is then no longer one of least strain.
func (p *Plate) stiffen(normal *system, w *turning, arms []units.Angle) error {
	// How the normal itself bends over the tilt weighs nothing, as g does.
	right, forward := w.pose.Tilt.steps()
	rr := r3.Scale(1/p.size, p.guide.Bend(&w.stand, right, right))
	rf := r3.Scale(1/p.size, p.guide.Bend(&w.stand, right, forward))
	ff := r3.Scale(1/p.size, p.guide.Bend(&w.stand, forward, forward))
	for i := range p.legs {
		l := &p.legs[i]
		arm, _ := l.arm.Ball(arms[i])
		s := p.strained(l, w, arm.Vec())
		a := s.swing(r3.Vec{Z: -1})
		b := s.swing(r3.Scale(-1, s.right))
		c := s.swing(r3.Scale(-1, s.forward))
		// A point at r has the second derivative bend x r + turn x (turn x r).
		pull := func(bend, turn, slope r3.Vec) float64 {
			return r3.Dot(s.along, r3.Add(r3.Cross(bend, s.at), r3.Cross(turn, slope))) / p.size
		}
		b.Y -= pull(rr, w.right, s.right)
		cross := pull(rf, w.right, s.forward)
		b.Z -= cross
		c.Y -= cross
		c.Z -= pull(ff, w.forward, s.forward)
		normal.a = r3.Add(normal.a, r3.Scale(s.pull, a))
		normal.b = r3.Add(normal.b, r3.Scale(s.pull, b))
		normal.c = r3.Add(normal.c, r3.Scale(s.pull, c))
	}
	_, det, ok := normal.solve()
	margin := math.Sqrt(math.Abs(det)) / p.hold
	// By Sylvester's criterion.
	if least := normal.a.X > 0 && normal.a.X*normal.b.Y > normal.a.Y*normal.b.X && det > 0; !least {
		margin = -margin
	}
	if !ok || !(margin > singular) {
		return &SingularError{margin}
	}
	return nil
}

// swung adds to a leg's effects that its parts swing its link. A longer link
// swings nothing.
func (p *Plate) swung(e *LegEffect, l *leg, w *turning, normal *inverse, q units.Angle) {
	ball, slope := l.arm.Ball(q)
	s := p.strained(l, w, ball.Vec())
	add := func(to *PoseRate, swing r3.Vec) {
		*to = to.Add(p.rate(normal.times(r3.Scale(-s.pull, swing))))
	}
	add(&e.PerArm, s.swing(slope.Vec()))
	spoke := r3.Sub(ball.Vec(), l.arm.Shaft().Vec())
	add(&e.PerRadius, s.swing(r3.Scale(1/float64(l.arm.Radius()), spoke)))
	// The ball moves along the plate's normal, which tilts with the plate.
	swing := s.swing(r3.Scale(-1, w.stand.N))
	swing.Y -= r3.Dot(s.along, r3.Cross(w.right, w.stand.N)) / p.size
	swing.Z -= r3.Dot(s.along, r3.Cross(w.forward, w.stand.N)) / p.size
	add(&e.PerOffset, swing)
}
