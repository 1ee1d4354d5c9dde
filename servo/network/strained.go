package network

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// A network with links to spare stands where the energy of its strains F, weighted by
// stiffness W, is least. There its gradient is nothing, and a change ds moves the
// unknowns by dx so that it stays so:
//
//	g = Jᵀ W F = 0,  H dx = -g_s ds
//	H   = Jᵀ W J + Σ W F F''
//	g_s = Jᵀ W F_s + Σ W F J_s
//
// The terms in F are of this file: a strained link pulls, and as it swings it pulls
// another way. In structures they are known as the geometric stiffness.

// factorEnergy inverts H.
func (n *Network) factorEnergy(v *view, d *desk) int {
	n.seconds(v, d)
	b := &n.blocks[0]
	u, m, all := len(b.unknown), len(n.links), len(n.coords)
	h := d.matrix[:u*u]
	clear(h)
	p := 0
	for _, k := range b.links {
		l := &n.links[k]
		width := l.row.to - l.row.from
		for i := range width {
			r := b.row[p+i]
			if r < 0 {
				continue
			}
			x := l.weight * v.jac[l.row.from+i]
			for j := range width {
				if c := b.row[p+j]; c >= 0 {
					h[r*u+c] += x * v.jac[l.row.from+j]
				}
			}
		}
		p += width
	}
	for r, cr := range b.unknown {
		for c, cc := range b.unknown {
			h[r*u+c] += v.second[cr*all+cc]
		}
	}
	det, ok := invertPositive(v.hess, h, d.matrix[u*u:], u)
	v.det[0] = det
	if !ok {
		return 0
	}
	// inv = H⁻¹ Jᵀ W
	clear(v.inv)
	p = 0
	for _, k := range b.links {
		l := &n.links[k]
		for j := l.row.from; j < l.row.to; j++ {
			if c := b.row[p]; c >= 0 {
				x := l.weight * v.jac[j]
				for r := range u {
					v.inv[r*m+k] += v.hess[r*u+c] * x
				}
			}
			p++
		}
	}
	return -1
}

// invertPositive puts into inv the inverse of a symmetric matrix by Cholesky's
// factorisation, and returns the root of the determinant and whether the matrix is
// positive definite.
func invertPositive(inv, a, low []float64, s int) (float64, bool) {
	det := 1.
	for i := range s {
		for j := range i + 1 {
			x := a[i*s+j]
			for k := range j {
				x -= low[i*s+k] * low[j*s+k]
			}
			if i != j {
				low[i*s+j] = x / low[j*s+j]
				continue
			}
			if !(x > singular*singular*math.Abs(a[i*s+i])) {
				return 0, false
			}
			low[i*s+i] = math.Sqrt(x)
			det *= low[i*s+i]
		}
	}
	// Column by column: L y = e, Lᵀ x = y.
	for c := range s {
		for i := range s {
			x := 0.
			if i == c {
				x = 1
			}
			for k := c; k < i; k++ {
				x -= low[i*s+k] * inv[k*s+c]
			}
			if i < c {
				x = 0
			}
			inv[i*s+c] = x / low[i*s+i]
		}
		for i := s - 1; i >= 0; i-- {
			x := inv[i*s+c]
			for k := i + 1; k < s; k++ {
				x -= low[k*s+i] * inv[k*s+c]
			}
			inv[i*s+c] = x / low[i*s+i]
		}
	}
	return det, true
}

// seconds puts Σ W F F” over all coordinates into v.second.
func (n *Network) seconds(v *view, d *desk) {
	all := len(n.coords)
	clear(v.second)
	for i := range n.links {
		l := &n.links[i]
		pull := l.weight * v.strain[i]
		if pull == 0 {
			continue
		}
		// (d_i . d_j - F_i F_j) / |d|
		slopes := d.slopes[l.row.from:l.row.to]
		clear(slopes)
		for k := l.endA.from; k < l.endB.to; k++ {
			t, s := &n.terms[k], &v.slopes[k]
			z := &slopes[t.join-l.row.from]
			*z = r3.Vec{X: z.X + t.sign*s.X, Y: z.Y + t.sign*s.Y, Z: z.Z + t.sign*s.Z}
		}
		per := pull / v.span[i]
		for j := range slopes {
			c, fj := n.joins[l.row.from+j].coord, v.jac[l.row.from+j]
			for k := range j + 1 {
				e := n.joins[l.row.from+k].coord
				x := per * (r3.Dot(slopes[j], slopes[k]) - fj*v.jac[l.row.from+k])
				v.second[c*all+e] += x
				if c != e {
					v.second[e*all+c] += x
				}
			}
		}
		// w . d_ij
		n.bends(v, l.endA, v.at[l.a], v.along[i], pull)
		n.bends(v, l.endB, v.at[l.b], v.along[i], pull)
	}
}

// bends adds to v.second what a link's end bends by along w, pull times.
func (n *Network) bends(v *view, e span, at, w r3.Vec, pull float64) {
	all := len(n.coords)
	for j := e.from; j < e.to; j++ {
		t := &n.terms[j]
		if !t.motion.turns() {
			continue
		}
		for k := j; k < e.to; k++ {
			c, o := t.coord, n.terms[k].coord
			x := pull * t.sign * r3.Dot(w, n.bend(v, j, k, at))
			v.second[c*all+o] += x
			if c != o {
				v.second[o*all+c] += x
			}
		}
	}
}

// slopeOf returns the slope over a coordinate of the vector from a link's second ball
// to its first.
func (n *Network) slopeOf(v *view, l *link, coord int) (d r3.Vec) {
	for _, e := range [2]span{l.endA, l.endB} {
		for k := e.from; k < e.to; k++ {
			if t := &n.terms[k]; t.coord == coord {
				d = r3.Add(d, r3.Scale(t.sign, v.slopes[k]))
			}
		}
	}
	return d
}

// bend returns the second derivative of the ball of a link's end over the coordinates of
// terms j and k of that end, j carrying k or the same.
func (n *Network) bend(v *view, j, k int, at r3.Vec) r3.Vec {
	t := &n.terms[j]
	p := &v.places[t.body]
	if e := &n.terms[k]; e.body == t.body && t.motion.tilts() {
		from := r3.Sub(at, p.centre)
		bend := p.bendXY
		if t.motion == e.motion {
			bend = p.bendXX
			if t.motion == ForwardPart {
				bend = p.bendYY
			}
		}
		return r3.Add(r3.Cross(bend, from), r3.Cross(p.rate(t.motion), v.slopes[k]))
	}
	return r3.Cross(p.rate(t.motion), v.slopes[k])
}

// rate returns how a body turns with one of its coordinates.
func (p *place) rate(m Motion) r3.Vec {
	switch m {
	case Turn:
		return p.axis
	case RightPart:
		return p.perX
	case ForwardPart:
		return p.perY
	}
	return r3.Vec{}
}

func (m Motion) tilts() bool { return m == RightPart || m == ForwardPart }
