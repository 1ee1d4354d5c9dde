package network

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// desk is where a State does its sums.
type desk struct {
	rhs    []float64 // by link
	small  []float64 // by unknown of a block
	matrix []float64 // of a block
	slopes []r3.Vec  // by join, of a strained network: of the vector between the link's balls
}

func (n *Network) newDesk() desk {
	d := desk{
		rhs:    make([]float64, len(n.links)),
		small:  make([]float64, 2*max(n.widest, len(n.unknown))),
		matrix: make([]float64, n.widest*n.widest),
	}
	if n.spare {
		d.matrix = make([]float64, 2*len(n.unknown)*len(n.unknown))
		d.slopes = make([]r3.Vec, len(n.joins))
	}
	return d
}

// factor inverts the blocks of the Jacobian, or finds the inverse of the second
// derivative of the strains' energy. It returns the first block that cannot be, or -1.
func (n *Network) factor(v *view, d *desk) int {
	if n.spare {
		return n.factorEnergy(v, d)
	}
	for i := range n.blocks {
		b := &n.blocks[i]
		s := len(b.links)
		inv := v.inv[b.inv : b.inv+s*s]
		if s == 1 {
			x := v.jac[n.links[b.links[0]].row.from+b.only()]
			v.det[i] = x
			inv[0] = 1 / x
			if x == 0 || x != x {
				return i
			}
			continue
		}
		a := d.matrix[:s*s]
		clear(a)
		p := 0
		for r, k := range b.links {
			row := n.links[k].row
			for j := row.from; j < row.to; j++ {
				if c := b.row[p]; c >= 0 {
					a[r*s+c] = v.jac[j]
				}
				p++
			}
		}
		if s == 3 {
			v.det[i] = invert3(inv, a)
		} else {
			v.det[i] = invert(inv, a, s)
		}
		if x := v.det[i]; x == 0 || x != x {
			return i
		}
	}
	return -1
}

// only returns which join of a block's only link is its only unknown's.
func (b *block) only() int {
	for i, c := range b.row {
		if c == 0 {
			return i
		}
	}
	return 0
}

// invert3 puts the inverse of a into inv by Cramer's rule, and returns the determinant.
func invert3(inv, a []float64) float64 {
	_, _ = inv[8], a[8]
	c0, c1, c2 := a[4]*a[8]-a[5]*a[7], a[5]*a[6]-a[3]*a[8], a[3]*a[7]-a[4]*a[6]
	det := a[0]*c0 + a[1]*c1 + a[2]*c2
	k := 1 / det
	inv[0], inv[1], inv[2] = k*c0, k*(a[2]*a[7]-a[1]*a[8]), k*(a[1]*a[5]-a[2]*a[4])
	inv[3], inv[4], inv[5] = k*c1, k*(a[0]*a[8]-a[2]*a[6]), k*(a[2]*a[3]-a[0]*a[5])
	inv[6], inv[7], inv[8] = k*c2, k*(a[1]*a[6]-a[0]*a[7]), k*(a[0]*a[4]-a[1]*a[3])
	return det
}

// invert puts the inverse of the s by s matrix a into inv by Gauss's and Jordan's
// elimination with the largest pivot of each column, and returns the determinant. It
// spoils a.
func invert(inv, a []float64, s int) float64 {
	clear(inv)
	for i := range s {
		inv[i*s+i] = 1
	}
	det := 1.
	for c := range s {
		best, most := c, math.Abs(a[c*s+c])
		for r := c + 1; r < s; r++ {
			if x := math.Abs(a[r*s+c]); x > most {
				best, most = r, x
			}
		}
		if !(most > 0) {
			return 0
		}
		if best != c {
			for k := range s {
				a[c*s+k], a[best*s+k] = a[best*s+k], a[c*s+k]
				inv[c*s+k], inv[best*s+k] = inv[best*s+k], inv[c*s+k]
			}
			det = -det
		}
		rowA, rowI := a[c*s:c*s+s], inv[c*s:c*s+s]
		det *= rowA[c]
		k := 1 / rowA[c]
		for j := range s {
			rowA[j] *= k
			rowI[j] *= k
		}
		for r := range s {
			f := a[r*s+c]
			if r == c || f == 0 {
				continue
			}
			otherA, otherI := a[r*s:r*s+s], inv[r*s:r*s+s]
			for j := range s {
				otherA[j] -= f * rowA[j]
				otherI[j] -= f * rowI[j]
			}
		}
	}
	return det
}

// forward puts into dst, by coordinate, the step of the unknowns that takes strains of
// rhs away, to first order: -J⁻¹ rhs, or the one that leaves the least energy. Inputs
// stay as dst has them.
func (n *Network) forward(v *view, dst, rhs, small []float64) {
	for i := range n.blocks {
		b := &n.blocks[i]
		s, u := len(b.links), len(b.unknown)
		inv := v.inv[b.inv : b.inv+s*u]
		for r, k := range b.links {
			x := rhs[k]
			row := n.links[k].row
			for j := row.from; j < row.to; j++ {
				if t := &n.joins[j]; t.block >= 0 && t.block != i {
					x += v.jac[j] * dst[t.coord]
				}
			}
			small[r] = x
		}
		for r, c := range b.unknown {
			var x float64
			for k, y := range inv[r*s : r*s+s] {
				x -= y * small[k]
			}
			dst[c] = x
		}
	}
}

// backward puts into dst, by link, the forces along the links, above 0 where they pull,
// that hold the loads on the unknowns: Jᵀ dst = loads. It spoils loads. It is not for
// strained networks.
func (n *Network) backward(v *view, dst, loads []float64) {
	for i := len(n.blocks) - 1; i >= 0; i-- {
		b := &n.blocks[i]
		s := len(b.links)
		inv := v.inv[b.inv : b.inv+s*s]
		for k, l := range b.links {
			var x float64
			for r, c := range b.unknown {
				x += inv[r*s+k] * loads[c]
			}
			dst[l] = x
			row := n.links[l].row
			for j := row.from; j < row.to; j++ {
				if t := &n.joins[j]; t.block >= 0 && t.block != i {
					loads[t.coord] -= v.jac[j] * x
				}
			}
		}
	}
}
