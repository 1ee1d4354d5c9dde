package network

import "math"

// The proof of a step. From where the equations were looked at, x0, the answer is to be
// followed while the inputs move by t times their way: v is its tangent, c Newton's
// correction at the start, and Y the inverse of the Jacobian there. If a box
//
//	|x - x0| <= d = |c| + |v| t + e
//
// has Newton's map x - Y F(x, t) within it for every t on the way, there is an answer in
// it (Brouwer), and where that map contracts only one (Banach), so it is the one that
// the start's answer moves into: nothing is told by chance. Beyond the linear terms F
// bends by no more than
//
//	Q = (|U_A| + |U_B|)² / |d| + bends of A and B,  halved
//
// with U how far a link's ends go in the box, so the two are sure where
//
//	|Y| (|J_before| e_before + Q) <= e,  2 |Y| Q < d
//
// block by block: this is Newton's and Kantorovich's theorem (1948) for each coordinate
// by itself, in the manner of R. Krawczyk (1969), both from memory. Q grows as t² and d
// as t, so how far the first of the two fails tells how much shorter a step will do. A
// strained network is proven as one whose map is with H⁻¹ Jᵀ W for Y, and with a bound of
// what the strains' own pull adds.

// room is the part of the largest motion in a block that is left to e.
const room = 1

// tiltMargin is how much faster than at the start of a step a ball on a plate can move
// with the plate's tilt by its end.
const tiltMargin = 1.15

// sure returns how much too long a step of t is to be proven: 1 or less is proven. It
// leaves in s.box and s.off the box and e.
func (s *State) sure(v *view, t float64) (worst float64, where int) {
	n := s.net
	for k, c := range n.inputs {
		s.box[c] = math.Abs(s.way[k]) * t
		s.off[c] = 0
	}
	for i := range n.blocks {
		b := &n.blocks[i]
		var most float64
		for _, c := range b.unknown {
			s.box[c] = math.Abs(s.fix[c]) + t*math.Abs(s.tangent[c])
			most = max(most, s.box[c]*n.weight(c))
		}
		for _, k := range b.links {
			for j := n.links[k].row.from; j < n.links[k].row.to; j++ {
				if e := &n.joins[j]; e.block != i {
					most = max(most, 0.5*s.box[e.coord]*n.weight(e.coord))
				}
			}
			if s.longer != nil {
				most = max(most, math.Abs(s.longer[k])*t/n.size)
			}
		}
		if most == 0 {
			for _, c := range b.unknown {
				s.off[c] = 0
			}
			continue
		}
		for _, c := range b.unknown {
			s.box[c] += room * most / n.weight(c)
		}
		if n.spare {
			clear(s.pull)
		}
		m := len(b.links)
		bends, errs := s.desk.small[:m], s.desk.small[m:2*m]
		for r, k := range b.links {
			bends[r] = s.bends(v, k, t)
			x := bends[r]
			for j := n.links[k].row.from; j < n.links[k].row.to; j++ {
				if e := &n.joins[j]; e.block >= 0 && e.block != i {
					x += math.Abs(v.jac[j]) * s.off[e.coord]
				}
			}
			errs[r] = x
		}
		inv := v.inv[b.inv:]
		for r, c := range b.unknown {
			var off, turn float64
			for k, y := range inv[r*m : r*m+m] {
				y = math.Abs(y)
				off += y * errs[k]
				turn += y * bends[k]
			}
			if n.spare {
				for k, e := range b.unknown {
					x := math.Abs(v.hess[r*len(b.unknown)+k]) * s.pull[e]
					off += x
					turn += x
				}
			}
			x := max(off*n.weight(c)/(room*most), 2*turn/s.box[c])
			if math.IsNaN(x) {
				x = math.Inf(1)
			}
			if x > worst {
				worst, where = x, i
			}
			// Where a step is too long, what comes after still tells about by how much.
			s.off[c] = min(off, room*most/n.weight(c))
		}
		for _, c := range b.unknown {
			s.box[c] = math.Abs(s.fix[c]) + t*math.Abs(s.tangent[c]) + s.off[c]
		}
	}
	return worst, where
}

// weight makes a coordinate a number of the order of an angle.
func (n *Network) weight(c int) float64 {
	if m := n.coords[c].Motion; m == Slide || m == Height {
		return 1 / n.size
	}
	return 1
}

// bends returns Q of a link in the box.
func (s *State) bends(v *view, k int, t float64) float64 {
	n := s.net
	l := &n.links[k]
	goA, bendA, turnA := s.end(v, l.endA)
	goB, bendB, turnB := s.end(v, l.endB)
	far := goA + goB
	length := max(v.span[k]-far, 0.5*v.span[k])
	q := 0.5 * (far*far/length + bendA + bendB)
	if !n.spare {
		return q
	}
	// What the strain changes by in the box, and how much its slope can turn: of that
	// the first order is in H.
	var change float64
	for j := l.row.from; j < l.row.to; j++ {
		change += t * v.jac[j] * s.tangent[n.joins[j].coord]
	}
	if s.longer != nil {
		change -= t * s.longer[k]
	}
	strain := math.Abs(v.strain[k])
	change = math.Abs(change) + q
	for _, e := range [2]struct {
		span
		turn float64
	}{{l.endA, turnA}, {l.endB, turnB}} {
		for i := e.from; i < e.to; i++ {
			z := far/length + 2*e.turn
			s.pull[n.terms[i].coord] += l.weight * v.lever[i] * z * (change + strain*z)
		}
	}
	return q
}

// end returns bounds of how far a link's end goes in the box, of twice what that bends
// by, and of how far it turns.
func (s *State) end(v *view, e span) (far, bend, turn float64) {
	n := s.net
	for k := e.to - 1; k >= e.from; k-- {
		t := &n.terms[k]
		d := s.box[t.coord]
		switch t.motion {
		case Turn:
			f := (v.lever[k] + far) * d
			if t.radius > 0 {
				f = t.radius * d
			}
			bend += (f + 2*far) * d
			far += f
			turn += d
		case Slide, Height:
			far += d
		default:
			f := tiltMargin * (v.lever[k] + far) * d
			bend += 2 * (f + 1.5*far) * d
			far += f
			turn += 1.5 * d
		}
	}
	return far, bend, turn
}
