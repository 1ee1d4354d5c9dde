package network

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// Mark is what keeps a plate or a ring from turning about its own normal: a guide's
// pin or a driver at a bearing, held in the vertical plane of that bearing. The zero
// Mark is none: the plate then tilts by the smallest turn from level.
type Mark struct {
	bearing  units.Angle
	sin, cos float64
	fitted   bool
}

// MarkAt returns the mark at a bearing: from the nose, clockwise seen from above.
func MarkAt(bearing units.Angle) Mark {
	sin, cos := math.Sincos(float64(bearing))
	return Mark{bearing, sin, cos, true}
}

// Bearing returns the mark's bearing, and whether there is one.
func (m Mark) Bearing() (units.Angle, bool) { return m.bearing, m.fitted }

// Fitted reports whether there is a mark.
func (m *Mark) Fitted() bool { return m.fitted }

// Inward returns v as the mark sees it: y along its bearing, x a right angle
// clockwise from there. Without a mark that is v.
func (m *Mark) Inward(v r3.Vec) r3.Vec {
	if !m.fitted {
		return v
	}
	return r3.Vec{X: v.X*m.cos - v.Y*m.sin, Y: v.X*m.sin + v.Y*m.cos, Z: v.Z}
}

// Outward is the inverse of Inward.
func (m *Mark) Outward(v r3.Vec) r3.Vec {
	if !m.fitted {
		return v
	}
	return r3.Vec{X: v.X*m.cos + v.Y*m.sin, Y: v.Y*m.cos - v.X*m.sin, Z: v.Z}
}

// Stand is how a plate or a ring stands: N is its normal, and P and Q are fixed to
// it, square to N and to one another. On the level plate P points along the mark's
// bearing and Q a right angle clockwise from there; without a mark, P points to the
// nose.
type Stand struct {
	P, Q, N r3.Vec
	// A tells how the stand turns with its normal: as N changes by dn it turns
	// about A x dn. (A x dn) x N = dn for any A with A . N = 1; which one it is
	// tells how much it turns about N itself.
	A r3.Vec
}

// Stand returns the stand whose normal has the level parts nx and ny.
//
// A mark holds P in the vertical plane of its bearing m, where only one direction is
// square to N; A is then square to the plane's own normal k, as any turn of P in the
// plane is about k:
//
//	P = (nz e(m) - (n . e(m)) z) / |...|,  A = (n - (n . k) k) / (1 - (n . k)^2)
//
// Without a mark P is where the smallest turn from z to n takes the nose, and A is
// (z + n) / (1 + nz). Special cases are: level parts of length 1 or more give NaN.
func (m *Mark) Stand(nx, ny float64) (s Stand) {
	m.Set(&s, nx, ny)
	return s
}

// Set is Stand into s.
func (m *Mark) Set(s *Stand, nx, ny float64) {
	n := r3.Vec{X: nx, Y: ny, Z: math.Sqrt(1 - nx*nx - ny*ny)}
	var p, a r3.Vec
	if m.fitted {
		along, across := nx*m.sin+ny*m.cos, nx*m.cos-ny*m.sin // n . e(m), n . k
		k2 := 1 / (1 - across*across)
		k := math.Sqrt(k2)
		p = r3.Vec{X: n.Z * k * m.sin, Y: n.Z * k * m.cos, Z: -along * k}
		a = r3.Vec{X: along * k2 * m.sin, Y: along * k2 * m.cos, Z: n.Z * k2}
	} else {
		k := 1 / (1 + n.Z)
		p = r3.Vec{X: -k * nx * ny, Y: 1 - k*ny*ny, Z: -ny}
		a = r3.Vec{X: k * nx, Y: k * ny, Z: 1}
	}
	s.P, s.Q, s.N, s.A = p, r3.Cross(p, n), n, a
}

// Carry returns where what has the parts v along P, Q and N stands, counted from
// the centre.
func (s *Stand) Carry(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: v.X*s.P.X + v.Y*s.Q.X + v.Z*s.N.X,
		Y: v.X*s.P.Y + v.Y*s.Q.Y + v.Z*s.N.Y,
		Z: v.X*s.P.Z + v.Y*s.Q.Z + v.Z*s.N.Z,
	}
}

// Swing returns the change of the normal with a step i of its level parts.
func (s *Stand) Swing(i r3.Vec) r3.Vec {
	return r3.Vec{X: i.X, Y: i.Y, Z: -(s.N.X*i.X + s.N.Y*i.Y) / s.N.Z}
}

// Turn returns how the stand turns with a step i of the normal's level parts: by a
// vector along the axis, in radians over the step.
func (s *Stand) Turn(i r3.Vec) r3.Vec { return r3.Cross(s.A, s.Swing(i)) }

// Bend returns the derivative of Turn, of a step i, over a further step j.
func (m *Mark) Bend(s *Stand, i, j r3.Vec) r3.Vec {
	di, dj := s.Swing(i), s.Swing(j)
	dij := r3.Vec{Z: -(i.X*j.X + i.Y*j.Y + di.Z*dj.Z) / s.N.Z}
	var da r3.Vec
	if m.fitted {
		across, dAcross := s.N.X*m.cos-s.N.Y*m.sin, j.X*m.cos-j.Y*m.sin
		k2 := 1 / (1 - across*across)
		da = r3.Sub(dj, r3.Vec{X: dAcross * m.cos, Y: -dAcross * m.sin})
		da = r3.Scale(k2, r3.Add(da, r3.Scale(2*across*dAcross, s.A)))
	} else {
		da = r3.Scale(1/(1+s.N.Z), r3.Sub(dj, r3.Scale(dj.Z, s.A)))
	}
	return r3.Add(r3.Cross(da, di), r3.Cross(s.A, dij))
}

// spin returns how fast what is drawn on the level plate turns about -N of a stand,
// from P to Q, as the mark's bearing grows, and how that changes with steps of the
// normal's level parts. With c = n . k as in Stand it is nz / (1 - c²) - 1: on the
// level plate nothing, as what is drawn there stays where it is.
func (m *Mark) spin(s *Stand) (rate, perX, perY float64) {
	if !m.fitted {
		return 0, 0, 0
	}
	c := s.N.X*m.cos - s.N.Y*m.sin
	k := 1 / (1 - c*c)
	per := func(dc, dz float64) float64 { return k * (dz + 2*c*dc*k*s.N.Z) }
	return s.N.Z*k - 1, per(m.cos, -s.N.X/s.N.Z), per(-m.sin, -s.N.Y/s.N.Z)
}
