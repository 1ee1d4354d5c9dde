package network

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// Load is what pulls on a network: for each coordinate the force or torque that does
// its work, in newtons, in newton metres, and for the level parts of a plate's normal in
// joules over one. Above 0 it pushes the coordinate up.
type Load []float64

// NewLoad returns no load.
func (n *Network) NewLoad() Load { return make(Load, len(n.coords)) }

// AddForce adds to a load a force in newtons that pulls at a ball, where the state has
// it. The error is a *units.FieldError.
func (s *State) AddForce(load Load, ball int, force r3.Vec) error {
	n := s.net
	if err := s.ready(); err != nil {
		return err
	}
	if err := sized("load", len(load), len(n.coords), "coordinates"); err != nil {
		return err
	}
	if ball < 0 || ball >= len(n.balls) {
		return refuse("ball", "there is no ball %d; there are %d", ball, len(n.balls))
	}
	s.stand()
	clear(s.before)
	for c := range n.coords {
		s.before[c] = 1
		load[c] += r3.Dot(force, s.carryBall(ball, s.before))
		s.before[c] = 0
	}
	return nil
}

// Carry puts into torques, one for each input, the torque or force with which the input
// must act on its body, in the sense of its coordinate, for the network to carry a
// load; and into forces the force along each link, above 0 where it pulls its balls
// together. Friction is not in them. Where stiffness is known the forces of links that
// fight are in both; a load then moves the network a little, which counts to first
// order. Either slice can be nil. The error is a *units.FieldError or a *DeadCentreError.
func (s *State) Carry(torques []float64, forces []units.Force, load Load) error {
	n, v := s.net, &s.view
	if err := s.linear(); err != nil {
		return err
	}
	if err := sized("load", len(load), len(n.coords), "coordinates"); err != nil {
		return err
	}
	if torques != nil {
		if err := sized("torques", len(torques), len(n.inputs), "inputs"); err != nil {
			return err
		}
	}
	if forces != nil {
		if err := sized("forces", len(forces), len(n.links), "links"); err != nil {
			return err
		}
	}
	s.adjoint(load)
	if n.spare {
		// The unknowns yield by H⁻¹ w, and the links' own forces change with that.
		for k := range n.links {
			l := &n.links[k]
			var x float64
			for j := l.row.from; j < l.row.to; j++ {
				if e := &n.joins[j]; e.block >= 0 {
					x += v.jac[j] * s.move[e.coord]
				}
			}
			s.hold[k] = l.weight * x
		}
	}
	for i, c := range n.inputs {
		if torques == nil {
			break
		}
		// Virtual work: the torque turns its body against what its links pull with.
		x := -load[c]
		for k := range n.links {
			x += (s.hold[k] + s.fight(k)) * s.slopeAt(k, c)
		}
		if n.spare {
			for _, e := range n.unknown {
				x += s.move[e] * v.second[e*len(n.coords)+c]
			}
		}
		torques[i] = x
	}
	for k := range n.links {
		if forces == nil {
			break
		}
		forces[k] = units.Force(s.hold[k] + s.fight(k))
	}
	return nil
}

// fight returns the force of a strained link, in newtons.
func (s *State) fight(link int) float64 {
	if !s.net.spare || !s.net.known {
		return 0
	}
	return s.net.links[link].stiffness * s.view.strain[link]
}

// Play puts into dst, one number for each coordinate, how far it can go from one end to
// the other with the inputs held, to first order: that of every joint, all of them at
// their worst. The play of a ball counts along its link, that of a body square to its
// shaft or line. The error is that of Effect.
func (s *State) Play(dst []float64) error {
	n := s.net
	if err := s.asked(len(dst), Part{net: n}); err != nil {
		return err
	}
	clear(dst)
	add := func(step []float64, play float64) {
		for c := range dst {
			dst[c] += play * max(step[c], -step[c])
		}
	}
	for i := range n.links {
		l := &n.links[i]
		play := float64(n.spec.Balls[l.a].Play + n.spec.Balls[l.b].Play)
		if play == 0 {
			continue
		}
		if err := s.Effect(s.tangent, Part{Length, i, 0, n}); err != nil {
			return err
		}
		add(s.tangent, play)
	}
	for i := range n.bodies {
		play := float64(n.spec.Bodies[i].Play)
		if play == 0 || n.bodies[i].kind == Plate || n.bodies[i].kind == Ring {
			continue
		}
		// Over the directions square to the axis the most is the length of the gradient.
		u := n.bodies[i].axis
		for axis := range 3 {
			to := [3][]float64{s.tangent, s.expect, s.before}[axis]
			if err := s.Effect(to, Part{Seat, i, axis, n}); err != nil {
				return err
			}
		}
		for c := range dst {
			g := r3.Vec{X: s.tangent[c], Y: s.expect[c], Z: s.before[c]}
			dst[c] += play * r3.Norm(r3.Sub(g, r3.Scale(r3.Dot(u, g), u)))
		}
	}
	return nil
}
