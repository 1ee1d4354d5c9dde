package network

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// The proof of a step. From where the equations were looked at, x0, the answer is to be
// followed while the inputs move by t times their way: v and a are its first two
// derivatives, c Newton's correction at the start, and Y the inverse of the Jacobian
// there. If a box about the curve
//
//	|x - x0 - v t - a t²/2| <= e',  e' = |c| + e
//
// has Newton's map x - Y F(x, t) within it for every t on the way, there is an answer in
// it (Brouwer), and where that map contracts only one (Banach), so it is the one that
// the start's answer moves into: nothing is told by chance. With d = |v| t + |a| t²/2 +
// e', how far a coordinate goes, and d' = d - |v| t, what F bends by is no more than
//
//	R = B(d, d') + T(d) / 6
//
// with bounds B of its second derivative and T of its third. So the map contracts where
//
//	|Y| B(d, w) <= k w,  k < 1
//
// for any w of our choice, and keeps to the box, block by block, with
//
//	e = r + (k / (1 - k)) max(r / w) w,  r = |Y| (|J_before| e_before + R)
//
// and R with |c| for e'. This is Newton's and Kantorovich's theorem
// (1948) for each coordinate by itself, in the manner of R. Krawczyk (1969), both from
// memory. How far the first that fails does so tells how much shorter a step will do. A
// strained network is proven as one whose map is with H⁻¹ Jᵀ W for Y, and with a bound of
// what the strains' own pull adds.

const (
	// room is the part of the largest motion in a block that is left to e.
	room = 0.5
	// tight is the most that k can be.
	tight = 0.9
	// even is the least w, as such a part.
	even = 0.6
	// tiltMargin is how much faster than at the start of a step a ball on a plate can
	// move with the plate's tilt by its end.
	tiltMargin = 1.15
	// tiltTurn is how much faster the plate's turn about its axes can change with the
	// tilt than a crank's turn does.
	tiltTurn = 1.5
)

// sure returns how much too long a step of t is to be proven: 1 or less is proven. It
// leaves e in s.off.
func (s *State) sure(v *view, t float64) (worst float64, where int) {
	n := s.net
	for k, c := range n.inputs {
		s.box[c] = math.Abs(s.way[k]) * t
		s.dev[c], s.off[c] = 0, 0
		s.wide[c] = s.box[c]
	}
	for i := range n.blocks {
		b := &n.blocks[i]
		var most float64
		for _, c := range b.unknown {
			s.dev[c] = math.Abs(s.fix[c]) + 0.5*t*t*math.Abs(s.curve[c])
			s.box[c] = t*math.Abs(s.tangent[c]) + s.dev[c]
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
				s.off[c], s.wide[c] = 0, 0
			}
			continue
		}
		for _, c := range b.unknown {
			s.box[c] += room * most / n.weight(c)
			s.wide[c] = max(s.box[c], even*most/n.weight(c))
		}
		if n.spare {
			clear(s.pull)
		}
		m := len(b.links)
		bends, errs := s.desk.small[:m], s.desk.small[m:2*m]
		for r, k := range b.links {
			bends[r], errs[r] = s.bends(v, k, t)
			for j := n.links[k].row.from; j < n.links[k].row.to; j++ {
				if e := &n.joins[j]; e.block >= 0 && e.block != i {
					errs[r] += math.Abs(v.jac[j]) * s.off[e.coord]
				}
			}
		}
		inv := v.inv[b.inv:]
		var k, r float64
		for i, c := range b.unknown {
			var off, turn float64
			for j, y := range inv[i*m : i*m+m] {
				y = math.Abs(y)
				off += y * errs[j]
				turn += y * bends[j]
			}
			if n.spare {
				for j, e := range b.unknown {
					x := math.Abs(v.hess[i*len(b.unknown)+j]) * s.pull[e]
					off += x
					turn += 2 * x
				}
			}
			s.off[c] = off
			k = max(k, turn/s.wide[c])
			r = max(r, off/s.wide[c])
		}
		x := k / tight
		if k < tight {
			for _, c := range b.unknown {
				s.off[c] += k / (1 - k) * r * s.wide[c]
				x = max(x, s.off[c]*n.weight(c)/(room*most))
			}
		}
		if x != x {
			x = math.Inf(1)
		}
		if x > worst {
			worst, where = x, i
		}
		for _, c := range b.unknown {
			// Where a step is too long, what comes after still tells about by how much.
			most := room * most / n.weight(c)
			s.off[c] = min(s.off[c], most)
			s.dev[c] += s.off[c]
			s.box[c] += s.off[c] - most
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

// bends returns B(d, w) and R of a link.
func (s *State) bends(v *view, k int, t float64) (bend, rest float64) {
	n := s.net
	l := &n.links[k]
	a, b := s.end(v, l.endA), s.end(v, l.endB)
	far := a.far + b.far
	length := max(v.span[k]-far, 0.5*v.span[k])
	k1 := 1 / length
	// The bends along the link are those of the start, and what they and the link turn by.
	za, zb := min(1, a.turn+far*k1), min(1, b.turn+far*k1)
	bend = far*k1*(a.farWide+b.farWide) + a.nowWide + za*a.bendWide + b.nowWide + zb*b.bendWide
	rest = far*k1*(a.farDev+b.farDev) + a.nowDev + za*a.bendDev + b.nowDev + zb*b.bendDev
	third := a.turn*a.bend + b.turn*b.bend + 3*far*k1*(a.now+za*a.bend+b.now+zb*b.bend+far*far*k1)
	rest += third / 6
	if !n.spare {
		return bend, rest
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
	change = math.Abs(change) + 0.5*bend
	for _, e := range [2]struct {
		span
		turn float64
	}{{l.endA, a.turn}, {l.endB, b.turn}} {
		for i := e.from; i < e.to; i++ {
			z := far*k1 + 2*e.turn
			s.pull[n.terms[i].coord] += l.weight * v.lever[i] * z * (change + strain*z)
		}
	}
	return bend, rest
}

// ending is bounds of what a link's end does in the box: how far it goes and turns, and
// its second derivative with d twice, with d and d', and with d and w. Of that now is
// the part along the link, at the start.
type ending struct {
	far, farDev, farWide    float64
	now, nowDev, nowWide    float64
	bend, bendDev, bendWide float64
	turn                    float64
}

func (s *State) end(v *view, e span) (z ending) {
	n := s.net
	for k := e.to - 1; k >= e.from; k-- {
		t := &n.terms[k]
		d, dev, wide := s.box[t.coord], s.dev[t.coord], s.wide[t.coord]
		if !t.motion.turns() {
			z.far += d
			z.farDev += dev
			z.farWide += wide
			continue
		}
		lever, turn := v.lever[k]+z.far, 1.
		switch {
		case t.radius > 0:
			lever = t.radius
		case t.motion.tilts():
			lever, turn = tiltMargin*lever, tiltTurn
		}
		now, f := v.curl[k], lever*d
		z.now += now * d * d
		z.nowDev += now * d * dev
		z.nowWide += now * d * wide
		if t.motion == ForwardPart {
			m := v.curl[k-1+len(n.terms)] // with the part to the right
			d2, dev2, wide2 := s.box[t.coord-1], s.dev[t.coord-1], s.wide[t.coord-1]
			z.now += 2 * m * d * d2
			z.nowDev += m * (d*dev2 + d2*dev)
			z.nowWide += m * (d*wide2 + d2*wide)
		} else if !t.motion.tilts() {
			z.now += 2 * d * z.far
			z.nowDev += dev*z.far + d*z.farDev
			z.nowWide += wide*z.far + d*z.farWide
		}
		z.bend += turn * d * (f + 2*z.far)
		z.bendDev += turn * (dev*(f+z.far) + d*z.farDev)
		z.bendWide += turn * (wide*(f+z.far) + d*z.farWide)
		z.far += f
		z.farDev += lever * dev
		z.farWide += lever * wide
		z.turn += turn * d
	}
	return z
}

// turns reports whether a motion turns what it moves.
func (m Motion) turns() bool { return m != Slide && m != Height }

// swing returns how fast a link's end moves on the way, and how fast that changes while
// no coordinate changes its pace.
func (s *State) swing(v *view, e span, at r3.Vec) (speed, pace r3.Vec) {
	n := s.net
	var turn r3.Vec // twice how fast what carries the next one turns
	for k := e.from; k < e.to; k++ {
		t := &n.terms[k]
		d := s.tangent[t.coord]
		if d == 0 && !t.motion.tilts() {
			continue
		}
		p := &v.places[t.body]
		step := r3.Vec{X: d * v.slopes[k].X, Y: d * v.slopes[k].Y, Z: d * v.slopes[k].Z}
		switch t.motion {
		case Turn:
			rate := r3.Vec{X: d * p.axis.X, Y: d * p.axis.Y, Z: d * p.axis.Z}
			turn = r3.Add(turn, rate)
			pace = r3.Add(pace, cross(&turn, step))
			turn = r3.Add(turn, rate)
		case Slide, Height:
			pace = r3.Add(pace, cross(&turn, step))
		default: // both parts of the normal at once
			k++
			e := s.tangent[n.terms[k].coord]
			step = r3.Add(step, r3.Scale(e, v.slopes[k]))
			rate := r3.Add(r3.Scale(d, p.perX), r3.Scale(e, p.perY))
			bend := r3.Add(r3.Scale(d*d, p.bendXX), r3.Add(r3.Scale(2*d*e, p.bendXY), r3.Scale(e*e, p.bendYY)))
			turn = r3.Add(turn, rate)
			pace = r3.Add(pace, r3.Add(cross(&turn, step), cross(&bend, r3.Sub(at, p.centre))))
			turn = r3.Add(turn, rate)
		}
		speed = r3.Add(speed, step)
	}
	return speed, pace
}
