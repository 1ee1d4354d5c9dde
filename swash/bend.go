package swash

import "gonum.org/v1/gonum/spatial/r3"

// bend gives the second derivatives of a tilt, over two steps i and j of the
// normal's level parts.
type bend struct {
	i, j          r3.Vec
	gi, gj, gturn float64 // derivatives of the guide's turn: over i, over j, over both
}

func (t *tilt) bend(i, j r3.Vec, g Guide) bend {
	b := bend{i: i, j: j}
	if !g.fitted {
		return b
	}
	pin := r3.Vec{X: g.sin, Y: g.cos}
	dx, dy := t.smallestSlopes(pin)
	// As a complex number w the pin stands at an angle of Im log w, which the
	// guide turns back.
	w := level(t.smallest(pin))
	wi := complex(i.X, 0)*level(dx) + complex(i.Y, 0)*level(dy)
	wj := complex(j.X, 0)*level(dx) + complex(j.Y, 0)*level(dy)
	wij := level(t.smallestBend(pin, i, j))
	b.gi, b.gj = -imag(wi/w), -imag(wj/w)
	b.gturn = -imag(wij/w - wi/w*wj/w)
	return b
}

// level returns the level parts of v as a complex number, which 1i turns by 90°
// about z.
func level(v r3.Vec) complex128 { return complex(v.X, v.Y) }

// smallestBend returns the second derivative of smallest over i and j.
func (t *tilt) smallestBend(v, i, j r3.Vec) r3.Vec {
	n := r3.Vec{X: t.nx, Y: t.ny}
	p, pi, pj := r3.Dot(n, v), r3.Dot(i, v), r3.Dot(j, v)
	ni, nj, ij := r3.Dot(n, i), r3.Dot(n, j), r3.Dot(i, j)
	k := t.c * t.c / t.nz                      // dc/dn = k n
	kk := k * (2*t.c*t.nz + 1) / (t.nz * t.nz) // dk/dn = kk n
	ai, aj := -k*ni*p-t.c*pi, -k*nj*p-t.c*pj
	aij := -(kk*ni*nj+k*ij)*p - k*(ni*pj+nj*pi)
	d := r3.Add(r3.Scale(aij, n), r3.Add(r3.Scale(aj, i), r3.Scale(ai, j)))
	d.Z = -v.Z * (ij + ni*nj/(t.nz*t.nz)) / t.nz
	return d
}

// of returns the second derivative of where the tilt takes v, which is at with
// the slopes ati and atj.
func (b *bend) of(t *tilt, v, at, ati, atj r3.Vec) r3.Vec {
	d := t.turn(t.smallestBend(v, b.i, b.j))
	turned := complex(0, b.gi)*level(atj) + complex(0, b.gj)*level(ati) + complex(b.gi*b.gj, b.gturn)*level(at)
	return r3.Add(d, r3.Vec{X: real(turned), Y: imag(turned)})
}
