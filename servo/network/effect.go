package network

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
)

// Effect puts into dst, one number for each coordinate, what a small change of a part
// does to them, the inputs held: the analytic derivative, per metre or radian of the
// part. All parts share one factorisation. The error is a *units.FieldError or a
// *DeadCentreError.
func (s *State) Effect(dst []float64, p Part) error {
	if err := s.asked(len(dst), p); err != nil {
		return err
	}
	clear(s.desk.rhs)
	if s.net.spare {
		clear(s.pull)
	}
	s.disturb(p)
	clear(dst)
	s.give(dst)
	return nil
}

// InputEffect is Effect for an input, by its index in Inputs: per radian, metre, or part
// of a plate's normal.
func (s *State) InputEffect(dst []float64, input int) error {
	n := s.net
	if err := s.linear(); err != nil {
		return err
	}
	if err := sized("dst", len(dst), len(n.coords), "coordinates"); err != nil {
		return err
	}
	if input < 0 || input >= len(n.inputs) {
		return refuse("input", "there is no input %d; there are %d", input, len(n.inputs))
	}
	at, v := n.inputs[input], &s.view
	for i := range n.links {
		s.desk.rhs[i] = s.slopeAt(i, at)
	}
	if n.spare {
		for _, c := range n.unknown {
			s.pull[c] = v.second[c*len(n.coords)+at]
		}
	}
	clear(dst)
	dst[at] = 1
	s.give(dst)
	return nil
}

// slopeAt returns the slope of a link's strain over a coordinate.
func (s *State) slopeAt(link, coord int) float64 {
	row := s.net.links[link].row
	for j := row.from; j < row.to; j++ {
		if s.net.joins[j].coord == coord {
			return s.view.jac[j]
		}
	}
	return 0
}

// Gradient puts into dst, one number for each part, the derivative over that part of the
// sum of the coordinates weighted by weights: for one output and many parts. The error
// is that of Effect.
func (s *State) Gradient(dst []float64, weights []float64, parts []Part) error {
	if s.net == nil {
		return errNoState
	}
	n := s.net
	if err := sized("dst", len(dst), len(parts), "parts"); err != nil {
		return err
	}
	if err := sized("weights", len(weights), len(n.coords), "coordinates"); err != nil {
		return err
	}
	if err := s.linear(); err != nil {
		return err
	}
	// dx = -H⁻¹ g_s, so w . dx = -(H⁻¹ w) . g_s, and -J⁻¹ F_s likewise.
	s.adjoint(weights)
	for i, p := range parts {
		if err := s.asked(len(n.coords), p); err != nil {
			return err
		}
		clear(s.desk.rhs)
		if n.spare {
			clear(s.pull)
		}
		s.disturb(p)
		var x float64
		for k, f := range s.hold {
			x -= f * s.desk.rhs[k]
		}
		if n.spare {
			for _, c := range n.unknown {
				x -= s.move[c] * s.pull[c]
			}
		}
		dst[i] = x
	}
	return nil
}

// adjoint puts into s.hold the forces along the links that answer to weights on the
// unknowns, and of a strained network into s.move how far the unknowns yield.
func (s *State) adjoint(weights []float64) {
	n, v := s.net, &s.view
	if !n.spare {
		copy(s.move, weights)
		n.backward(v, s.hold, s.move)
		return
	}
	b := &n.blocks[0]
	u, m := len(b.unknown), len(b.links)
	for r, c := range b.unknown {
		var x float64
		for k, e := range b.unknown {
			x += v.hess[r*u+k] * weights[e]
		}
		s.move[c] = x
	}
	for k := range n.links {
		var x float64
		for r, c := range b.unknown {
			x += v.inv[r*m+k] * weights[c]
		}
		s.hold[k] = x
	}
}

func (s *State) asked(size int, p Part) error {
	if err := s.linear(); err != nil {
		return err
	}
	if p.net != s.net {
		return refuse("part", "is of another network")
	}
	return sized("dst", size, len(s.net.coords), "coordinates")
}

// give solves for what answers to the disturbance in the desk.
func (s *State) give(dst []float64) {
	n, v := s.net, &s.view
	n.forward(v, dst, s.desk.rhs, s.desk.small)
	if !n.spare {
		return
	}
	b := &n.blocks[0]
	u := len(b.unknown)
	for r, c := range b.unknown {
		for k, e := range b.unknown {
			dst[c] -= v.hess[r*u+k] * s.pull[e]
		}
	}
}

// disturb adds to desk.rhs what a change of a part does to the links' strains, and of a
// strained network to s.pull what it does to the way the strained links pull.
func (s *State) disturb(p Part) {
	n := s.net
	if p.kind == Length {
		s.desk.rhs[p.index]--
		return
	}
	for i := range n.links {
		l := &n.links[i]
		a, moveA := s.shift(p, l.a)
		b, moveB := s.shift(p, l.b)
		if !moveA && !moveB {
			continue
		}
		by := r3.Sub(a, b)
		strain := r3.Dot(s.view.along[i], by)
		s.desk.rhs[i] += strain
		if n.spare && s.view.strain[i] != 0 {
			s.sway(p, i, a, b, by, strain)
		}
	}
}

// shift returns how a ball moves with a part, the coordinates held, and whether it does.
func (s *State) shift(p Part, ball int) (r3.Vec, bool) {
	n, v := s.net, &s.view
	body := n.balls[ball].body
	if p.kind == Place {
		if ball != p.index {
			return r3.Vec{}, false
		}
		if body < 0 {
			return axes[p.axis], true
		}
		return v.places[body].turn(axes[p.axis]), true
	}
	if !n.carried(body, p.index) || p.kind == Bearing && n.rides(body, p.index) {
		return r3.Vec{}, false
	}
	place := &v.places[p.index]
	if p.kind == Bearing {
		rate, _, _ := n.bodies[p.index].mark.spin(&place.stand)
		return r3.Scale(-rate, r3.Cross(place.axis, r3.Sub(v.at[ball], place.centre))), true
	}
	by := axes[p.axis]
	if on := n.bodies[p.index].on; on >= 0 {
		by = v.places[on].turn(by)
	}
	if p.kind == Seat {
		return by, true
	}
	// A slider's line turns about its point as drawn, not where it slid to.
	centre := place.centre
	if n.bodies[p.index].kind == Slider {
		centre = r3.Sub(centre, r3.Scale(v.x[n.bodies[p.index].coord], place.axis))
	}
	return r3.Cross(by, r3.Sub(v.at[ball], centre)), true
}

// rides reports whether a body is a ring on a plate, or carried by one: the plate's
// mark does not turn it.
func (n *Network) rides(i, plate int) bool {
	for ; i >= 0 && i != plate; i = n.bodies[i].on {
		if n.bodies[i].kind == Ring {
			return true
		}
	}
	return false
}

// sway adds to s.pull how the pull of a strained link turns with a part.
func (s *State) sway(p Part, i int, a, b, by r3.Vec, strain float64) {
	n, v := s.net, &s.view
	l := &n.links[i]
	pull := l.weight * v.strain[i]
	for j := l.row.from; j < l.row.to; j++ {
		c := n.joins[j].coord
		s.pull[c] += pull * (r3.Dot(n.slopeOf(v, l, c), by) - v.jac[j]*strain) / v.span[i]
	}
	for _, e := range [2]struct {
		span
		ball int
		by   r3.Vec
	}{{l.endA, l.a, a}, {l.endB, l.b, b}} {
		for k := e.from; k < e.to; k++ {
			t := &n.terms[k]
			s.pull[t.coord] += pull * t.sign * r3.Dot(v.along[i], s.swayed(p, k, e.ball, e.by))
		}
	}
}

// swayed returns how the slope of a ball over a term's coordinate changes with a part
// that moves the ball by by.
func (s *State) swayed(p Part, k, ball int, by r3.Vec) r3.Vec {
	n, v := s.net, &s.view
	t := &n.terms[k]
	if by == (r3.Vec{}) && (p.kind != Bearing || !n.carried(t.body, p.index)) && p.kind != Lie {
		return r3.Vec{}
	}
	place := &v.places[t.body]
	switch p.kind {
	case Bearing:
		if t.body != p.index && n.carried(t.body, p.index) { // turned with the mark, ball and all
			rate, _, _ := n.bodies[p.index].mark.spin(&v.places[p.index].stand)
			return r3.Scale(-rate, r3.Cross(v.places[p.index].axis, v.slopes[k]))
		}
		if t.body == p.index && t.motion.tilts() {
			// by is -spin N x r: the spin, N and r change with the tilt.
			_, perX, perY := n.bodies[p.index].mark.spin(&place.stand)
			per := perX
			if t.motion == ForwardPart {
				per = perY
			}
			from := r3.Sub(v.at[ball], place.centre)
			return r3.Add(r3.Scale(-per, r3.Cross(place.axis, from)), r3.Cross(place.rate(t.motion), by))
		}
	case Seat, Lie:
		// What the part carries moves with it; what carries the part moves its change.
		if !n.carried(n.balls[ball].body, p.index) {
			return r3.Vec{}
		}
		if n.carried(t.body, p.index) {
			if p.kind == Seat {
				return r3.Vec{}
			}
			about := axes[p.axis]
			if on := n.bodies[p.index].on; on >= 0 {
				about = v.places[on].turn(about)
			}
			return r3.Cross(about, v.slopes[k])
		}
	}
	return r3.Cross(place.rate(t.motion), by)
}

// BallEffect returns how a ball moves with a small change of a part, the inputs held: in
// metres per metre or radian. The error is that of Effect.
func (s *State) BallEffect(ball int, p Part) (linkage.Point, error) {
	if err := s.Effect(s.tangent, p); err != nil {
		return linkage.Point{}, err
	}
	if ball < 0 || ball >= len(s.net.balls) {
		return linkage.Point{}, refuse("ball", "there is no ball %d; there are %d", ball, len(s.net.balls))
	}
	by, _ := s.shift(p, ball)
	return linkage.PointOf(r3.Add(by, s.carryBall(ball, s.tangent))), nil
}

// carryBall returns how a ball moves with a step of the coordinates.
func (s *State) carryBall(ball int, step []float64) (by r3.Vec) {
	n, v := s.net, &s.view
	at := v.at[ball]
	for i := n.balls[ball].body; i >= 0; i = n.bodies[i].on {
		b, p := &n.bodies[i], &v.places[i]
		for j, m := range [3]Motion{Height, RightPart, ForwardPart} {
			switch b.kind {
			case Crank:
				if j == 0 {
					by = r3.Add(by, r3.Scale(step[b.coord], r3.Cross(p.axis, r3.Sub(at, p.centre))))
				}
				continue
			case Slider:
				if j == 0 {
					by = r3.Add(by, r3.Scale(step[b.coord], p.axis))
				}
				continue
			}
			x := step[b.coord+j]
			if m == Height {
				by.Z += x
			} else {
				by = r3.Add(by, r3.Scale(x, r3.Cross(p.rate(m), r3.Sub(at, p.centre))))
			}
		}
		if b.kind == Ring {
			break
		}
	}
	return by
}
