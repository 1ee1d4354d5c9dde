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
// the start's answer moves into: nothing is told by chance. On the curve, with d = |v| t
// + |a| t²/2 + |c|, how far a coordinate goes, and d' = d - |v| t, what F bends by is no
// more than
//
//	R = B(d, d') + T(d) / 6
//
// with bounds B of its second derivative and T of its third; of a block before, which is
// in its box and not on its curve, e is in d and d', too. With D = d + e in the box the
// map contracts where
//
//	|Y| B(D, w) <= k w,  k < 1
//
// for any w of our choice on the block's own coordinates, the others having their values
// by then; and it keeps to the box, block by block, with
//
//	e = r + (k / (1 - k)) max(r / w) w,  r = |Y| (|J_before| e_before + R)
//
// This is Newton's and Kantorovich's theorem (1948) for each coordinate by itself, in the
// manner of R. Krawczyk (1969), both from memory. How far the first that fails does so
// tells how much shorter a step will do. A strained network is proven as one whose map is
// with H⁻¹ Jᵀ W for Y, and with a bound of what the strains' own pull adds.

const (
	// room is the part of the largest motion in a block that is left to e.
	room = 0.4
	// tight is the most that k can be.
	tight = 0.9
	// even is the least w, as such a part.
	even = 0.6
	// tiltMargin is how much faster than at the start of a step a ball on a plate is
	// taken to move with the plate's tilt by its end, and tiltTurn how much faster the
	// plate's turn about its axes is taken to change with the tilt than a crank's turn
	// does. They are margins that were tried, and no bounds. In TestProof no answer goes
	// farther from its curve than 0.53 of what is proven with them. But where
	// both parts of the normal change the turn grows by more than the first from 20° on
	// over 0.17 of each, and from 45° on over 0.06; and a ball on the axis of one tilt
	// first moves with it as the other changes.
	//
	// A bound can be derived. With m the least n_z in the box, |dn| <= 1/m, |A| <= 1/m,
	// and, as Mark.Bend has them, |dA| <= (1 + 2√(1-m²))/m³ and |d²n| <= 1/m³. So a ball
	// at a distance ρ from the centre moves by no more than ρ/m² per part of the normal,
	// and that changes by no more than ρ(3 + 2√(1-m²))/m⁴. Near level that is three
	// times ρ, where the truth is about ρ, and steps would be half as long or so: it
	// adds what goes along different directions.
	tiltMargin = 1.15
	tiltTurn   = 1.5
)

// bounds are what the proof knows of a coordinate: d and d', D and w, and e.
type bounds struct {
	core, dev float64
	box, wide float64
	off       float64
}

// sure returns how much too long a step of t is to be proven: 1 or less is proven. It
// leaves e in s.bounds. Of a step that is too long it tells by the first block where it
// is.
func (s *State) sure(v *view, t float64) (worst float64, where int) {
	n := s.net
	for k, c := range n.inputs {
		d := math.Abs(s.way[k]) * t
		s.bounds[c] = bounds{core: d, box: d}
	}
	for i := range n.blocks {
		x := s.sureOf(v, t, i)
		if x > worst {
			worst, where = x, i
		}
		if x > 1 {
			break
		}
	}
	return worst, where
}

// sureOf is sure of a block, once those before it are.
func (s *State) sureOf(v *view, t float64, i int) float64 {
	n, b := s.net, &s.net.blocks[i]
	var most float64
	for _, c := range b.unknown {
		z := &s.bounds[c]
		z.dev = math.Abs(s.fix[c]) + 0.5*t*t*math.Abs(s.curve[c])
		z.core = t*math.Abs(s.tangent[c]) + z.dev
		most = max(most, z.core*n.weights[c])
	}
	for _, k := range b.links {
		for j := n.links[k].row.from; j < n.links[k].row.to; j++ {
			if e := &n.joins[j]; e.block != i {
				most = max(most, 0.5*s.bounds[e.coord].core*n.weights[e.coord])
			}
		}
		if s.longer != nil {
			most = max(most, math.Abs(s.longer[k])*t/n.size)
		}
	}
	if most == 0 {
		for _, c := range b.unknown {
			s.bounds[c] = bounds{}
		}
		return 0
	}
	for _, c := range b.unknown {
		z := &s.bounds[c]
		z.box = z.core + room*most/n.weights[c]
		z.wide = max(z.box, even*most/n.weights[c])
	}
	if n.spare {
		clear(s.pull)
		clear(s.bent)
	}
	m := len(b.links)
	bends, errs := s.desk.small[:m], s.desk.small[m:2*m]
	for r, k := range b.links {
		bends[r], errs[r] = s.bends(v, k, t)
		for j := n.links[k].row.from; j < n.links[k].row.to; j++ {
			if e := &n.joins[j]; e.block >= 0 && e.block != i {
				errs[r] += math.Abs(v.jac[j]) * s.bounds[e.coord].off
			}
		}
	}
	inv := v.inv[b.inv:]
	var k, r float64
	for i, c := range b.unknown {
		z := &s.bounds[c]
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
				turn += 2*x + math.Abs(v.hess[i*len(b.unknown)+j])*s.bent[e]
			}
		}
		z.off = off
		k = max(k, turn/z.wide)
		r = max(r, off/z.wide)
	}
	x := k / tight
	if k < tight {
		for _, c := range b.unknown {
			z := &s.bounds[c]
			z.off += k / (1 - k) * r * z.wide
			x = max(x, z.off*n.weights[c]/(room*most))
		}
	}
	if x != x {
		return math.Inf(1)
	}
	for _, c := range b.unknown {
		z := &s.bounds[c]
		z.dev += z.off
		z.core += z.off
		z.box, z.wide = z.core, 0
	}
	return x
}

// bends returns B(D, w) and R of a link.
func (s *State) bends(v *view, k int, t float64) (bend, rest float64) {
	l := &s.net.links[k]
	var a, b ending
	s.end(&a, v, l.endA)
	s.end(&b, v, l.endB)
	rest, third := second(&a.core, &b.core, v.span[k])
	rest += third / 6
	bend, _ = second(&a.box, &b.box, v.span[k])
	if s.net.spare {
		s.pulls(v, k, t, &a.box, &b.box)
	}
	return bend, rest
}

// second returns B(d, w) and T(d) of a link of a length, by what its ends do.
func second(a, b *reach, span float64) (bend, third float64) {
	far := a.far + b.far
	x := far / max(span-far, 0.5*span)
	// The bends along the link are those of the start, and what they and the link turn by.
	za, zb := min(1, a.turn+x), min(1, b.turn+x)
	bend = x*(a.farBy+b.farBy) + a.nowBy + za*a.bendBy + b.nowBy + zb*b.bendBy
	third = a.turn*a.bend + b.turn*b.bend + x*(3*(a.bend+b.bend)+1.2*x*far)
	return bend, third
}

// pulls adds to s.pull what a link's pull changes by in the box as its strain does and
// its slope turns: of that the first order is in H. To s.bent it adds what the turned
// slope makes of the box's w.
func (s *State) pulls(v *view, k int, t float64, a, b *reach) {
	n := s.net
	l := &n.links[k]
	var change float64
	for j := l.row.from; j < l.row.to; j++ {
		change += t * v.jac[j] * s.tangent[n.joins[j].coord]
	}
	if s.longer != nil {
		change -= t * s.longer[k]
	}
	far := a.far + b.far
	x := far / max(v.span[k]-far, 0.5*v.span[k])
	bend := x*far + a.now + min(1, a.turn+x)*a.bend + b.now + min(1, b.turn+x)*b.bend
	var pace float64
	for j := l.row.from; j < l.row.to; j++ {
		pace += math.Abs(v.jac[j]) * s.bounds[n.joins[j].coord].wide
	}
	strain := math.Abs(v.strain[k])
	change = math.Abs(change) + 0.5*bend
	for i := l.endA.from; i < l.endB.to; i++ {
		turn := a.turn
		if i >= l.endB.from {
			turn = b.turn
		}
		w, c := l.weight*v.lever[i], n.terms[i].coord
		s.pull[c] += w * (x + 2*turn) * (change + strain*(x+2*turn))
		s.bent[c] += w * (x + turn) * pace
	}
}

// ending is bounds of what a link's end does.
type ending struct{ core, box reach }

// reach is how far an end goes and turns, on the curve or in the box, and its second
// derivative with d or D twice, and with it and d' or w. Of that now is the part along
// the link at the start.
type reach struct {
	far, farBy   float64
	now, nowBy   float64
	bend, bendBy float64
	turn         float64
}

func (s *State) end(z *ending, v *view, e span) {
	n := s.net
	if e.to == e.from+1 && n.terms[e.from].radius > 0 { // a crank's ball
		t := &n.terms[e.from]
		b := &s.bounds[t.coord]
		z.core.crank(t.radius, v.curl[e.from], b.core, b.dev)
		z.box.crank(t.radius, v.curl[e.from], b.box, b.wide)
		return
	}
	for k := e.to - 1; k >= e.from; k-- {
		t := &n.terms[k]
		b := &s.bounds[t.coord]
		switch {
		case !t.motion.turns():
			z.core.slide(b.core, b.dev)
			z.box.slide(b.box, b.wide)
		case t.radius > 0:
			z.core.crank(t.radius, v.curl[k], b.core, b.dev)
			z.box.crank(t.radius, v.curl[k], b.box, b.wide)
		case t.motion == Turn:
			z.core.crank(v.lever[k]+z.core.far, v.curl[k], b.core, b.dev)
			z.box.crank(v.lever[k]+z.box.far, v.curl[k], b.box, b.wide)
		default:
			z.core.tilt(v.lever[k], v.curl[k], b.core, b.dev)
			z.box.tilt(v.lever[k], v.curl[k], b.box, b.wide)
			if t.motion == ForwardPart {
				both, right := v.curl[k-1+len(n.terms)], &s.bounds[t.coord-1]
				z.core.tilts(both, b.core, right.core, b.dev, right.dev)
				z.box.tilts(both, b.box, right.box, b.wide, right.wide)
			}
		}
	}
}

func (z *reach) slide(d, w float64) {
	z.far += d
	z.farBy += w
}

func (z *reach) crank(lever, curl, d, w float64) {
	z.now += d * (curl*d + 2*z.far)
	z.nowBy += w*(curl*d+z.far) + d*z.farBy
	z.bend += d * (lever*d + 2*z.far)
	z.bendBy += w*(lever*d+z.far) + d*z.farBy
	z.far += lever * d
	z.farBy += lever * w
	z.turn += d
}

func (z *reach) tilt(lever, curl, d, w float64) {
	lever = tiltMargin * (lever + z.far)
	z.now += curl * d * d
	z.nowBy += curl * d * w
	z.bend += tiltTurn * d * (lever*d + 2*z.far)
	z.bendBy += tiltTurn * (w*(lever*d+z.far) + d*z.farBy)
	z.far += lever * d
	z.farBy += lever * w
	z.turn += tiltTurn * d
}

// tilts adds what both parts of a normal do together.
func (z *reach) tilts(curl, d, d2, w, w2 float64) {
	z.now += 2 * curl * d * d2
	z.nowBy += curl * (d*w2 + d2*w)
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
			// Turns in either order differ by their product: bendXY is of one order.
			bend = r3.Add(bend, r3.Scale(d*e, cross(&p.perX, p.perY)))
			turn = r3.Add(turn, rate)
			pace = r3.Add(pace, r3.Add(cross(&turn, step), cross(&bend, r3.Sub(at, p.centre))))
			turn = r3.Add(turn, rate)
		}
		speed = r3.Add(speed, step)
	}
	return speed, pace
}
