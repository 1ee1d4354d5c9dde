package swash

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// Guide is what keeps a swashplate, or the rotating ring on it, from turning about its own
// normal. On the plate it is the anti-rotation guide, a pin in a vertical slot. On the ring it
// is the ring driver (scissors, washout driver). The pin or driver stays in the vertical plane
// of its bearing. The zero Guide is none: the plate then tilts by the smallest turn from level.
type Guide struct {
	bearing  units.Angle
	sin, cos float64
	fitted   bool
}

// GuideAt returns the guide at a bearing, counted from the nose, clockwise seen from above.
func GuideAt(bearing units.Angle) Guide {
	sin, cos := math.Sincos(float64(bearing))
	return Guide{bearing, sin, cos, true}
}

// inward returns v as the guide sees it: y along its bearing, x a right angle clockwise
// from there.
func (g *Guide) inward(v r3.Vec) r3.Vec {
	if !g.fitted {
		return v
	}
	return r3.Vec{X: v.X*g.cos - v.Y*g.sin, Y: v.X*g.sin + v.Y*g.cos, Z: v.Z}
}

// outward is the inverse of inward.
func (g *Guide) outward(v r3.Vec) r3.Vec {
	if !g.fitted {
		return v
	}
	return r3.Vec{X: v.X*g.cos + v.Y*g.sin, Y: v.Y*g.cos - v.X*g.sin, Z: v.Z}
}

// Bearing returns the guide's bearing, and whether there is one.
func (g Guide) Bearing() (units.Angle, bool) { return g.bearing, g.fitted }

// Ball is where a ball sits on the swashplate or on its rotating ring.
type Ball struct {
	Bearing units.Angle  // on the level plate, from the nose, clockwise seen from above
	Radius  units.Length // from the plate's axis, more than 0
	Offset  units.Length // along the plate's normal, positive above its centre
}

// on returns the ball's parts along the p, q and n of a stand with the guide.
func (b Ball) on(g Guide) r3.Vec {
	sin, cos := math.Sincos(float64(b.Bearing - g.bearing))
	return r3.Vec{X: float64(b.Radius) * cos, Y: float64(b.Radius) * sin, Z: float64(b.Offset)}
}

// stand is how a plate or a ring stands: n is its normal, and p and q are fixed to
// it, square to n and to one another. On the level plate p points along the guide's
// bearing and q a right angle clockwise from there; without a guide, p points to the
// nose.
type stand struct {
	p, q, n r3.Vec
	// a tells how the stand turns with its normal: as n changes by dn it turns
	// about a x dn. (a x dn) x n = dn for any a with a . n = 1; which one it is
	// tells how much it turns about n itself.
	a r3.Vec
}

// stand returns the stand whose normal has the level parts nx and ny.
//
// A guide holds p in the vertical plane of its bearing m, where only one direction is
// square to n; a is then square to the plane's own normal k, as any turn of p in the
// plane is about k:
//
//	p = (nz e(m) - (n . e(m)) z) / |...|,  a = (n - (n . k) k) / (1 - (n . k)^2)
//
// Without a guide p is where the smallest turn from z to n takes the nose, and a is
// (z + n) / (1 + nz).
func (g *Guide) stand(nx, ny float64) (s stand) {
	g.set(&s, nx, ny)
	return s
}

// set is stand into s.
func (g *Guide) set(s *stand, nx, ny float64) {
	n := r3.Vec{X: nx, Y: ny, Z: math.Sqrt(1 - nx*nx - ny*ny)}
	var p, a r3.Vec
	if g.fitted {
		along, across := nx*g.sin+ny*g.cos, nx*g.cos-ny*g.sin // n . e(m), n . k
		k2 := 1 / (1 - across*across)
		k := math.Sqrt(k2)
		p = r3.Vec{X: n.Z * k * g.sin, Y: n.Z * k * g.cos, Z: -along * k}
		a = r3.Vec{X: along * k2 * g.sin, Y: along * k2 * g.cos, Z: n.Z * k2}
	} else {
		k := 1 / (1 + n.Z)
		p = r3.Vec{X: -k * nx * ny, Y: 1 - k*ny*ny, Z: -ny}
		a = r3.Vec{X: k * nx, Y: k * ny, Z: 1}
	}
	s.p, s.q, s.n, s.a = p, r3.Cross(p, n), n, a
}

// place returns where what has the parts v along p, q and n stands, counted from
// the centre.
func (s *stand) place(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: v.X*s.p.X + v.Y*s.q.X + v.Z*s.n.X,
		Y: v.X*s.p.Y + v.Y*s.q.Y + v.Z*s.n.Y,
		Z: v.X*s.p.Z + v.Y*s.q.Z + v.Z*s.n.Z,
	}
}

// swing returns the change of the normal with a step i of its level parts.
func (s *stand) swing(i r3.Vec) r3.Vec {
	return r3.Vec{X: i.X, Y: i.Y, Z: -(s.n.X*i.X + s.n.Y*i.Y) / s.n.Z}
}

// turn returns how the stand turns with a step i of the normal's level parts: by a
// vector along the axis, in radians over the step.
func (s *stand) turn(i r3.Vec) r3.Vec { return r3.Cross(s.a, s.swing(i)) }

// bend returns the derivative of turn, of a step i, over a further step j.
func (g *Guide) bend(s *stand, i, j r3.Vec) r3.Vec {
	di, dj := s.swing(i), s.swing(j)
	dij := r3.Vec{Z: -(i.X*j.X + i.Y*j.Y + di.Z*dj.Z) / s.n.Z}
	var da r3.Vec
	if g.fitted {
		across, dAcross := s.n.X*g.cos-s.n.Y*g.sin, j.X*g.cos-j.Y*g.sin
		k2 := 1 / (1 - across*across)
		da = r3.Sub(dj, r3.Vec{X: dAcross * g.cos, Y: -dAcross * g.sin})
		da = r3.Scale(k2, r3.Add(da, r3.Scale(2*across*dAcross, s.a)))
	} else {
		da = r3.Scale(1/(1+s.n.Z), r3.Sub(dj, r3.Scale(dj.Z, s.a)))
	}
	return r3.Add(r3.Cross(da, di), r3.Cross(s.a, dij))
}

// tilt returns the tilt whose normal is n.
func tilt(n r3.Vec) Tilt {
	sin := math.Sqrt(n.X*n.X + n.Y*n.Y)
	if sin == 0 {
		return Tilt{}
	}
	k := math.Atan(sin/n.Z) / sin
	return Tilt{units.Angle(k * n.X), units.Angle(k * n.Y)}
}

// normal returns the normal for a tilt, but for its third part.
func (l Tilt) normal() r3.Vec {
	k := sinc(l.square())
	return r3.Vec{X: k * float64(l.Right), Y: k * float64(l.Forward)}
}

// steps returns the derivatives of the level parts of the normal over the tilt's two
// parts.
func (l Tilt) steps() (right, forward r3.Vec) {
	r, f := float64(l.Right), float64(l.Forward)
	k, k2 := sinc(l.square()), sincSlope(l.square())
	// n = k (r, f), so dn/dr = (k + k2 r r, k2 r f), and so on.
	return r3.Vec{X: k + k2*r*r, Y: k2 * r * f}, r3.Vec{X: k2 * r * f, Y: k + k2*f*f}
}

// sinc returns sin t / t for the square of t.
func sinc(t2 float64) float64 {
	if t2 < 0.25 {
		// What the series leaves out is below rounding here.
		return 1 - t2*(1./6)*(1-t2*(1./20)*(1-t2*(1./42)*(1-t2*(1./72)*(1-t2*(1./110)*(1-t2*(1./156))))))
	}
	t := math.Sqrt(t2)
	return math.Sin(t) / t
}

// sincSlope returns the derivative of sinc over t, over t: that is finite at t = 0.
func sincSlope(t2 float64) float64 {
	if t2 < 0.25 {
		return -1. / 3 * (1 - t2*(1./10)*(1-t2*(1./28)*(1-t2*(1./54)*(1-t2*(1./88)*(1-t2*(1./130)*(1-t2*(1./180)))))))
	}
	t := math.Sqrt(t2)
	return (math.Cos(t) - sinc(t2)) / t2
}

// Frame is a pose worked out for reuse: it takes a ball on the plate, or on the rotating ring,
// to its place in the machine's frame. Plate and ring share their centre and their normal, and
// each has a guide of its own.
type Frame struct {
	guide Guide
	stand stand
	pose  Pose
}

// Frame returns the frame of a pose for what is held by guide. A pose that
// Validate refuses has none; its figures are NaN.
func (p Pose) Frame(guide Guide) Frame {
	n := p.Tilt.normal()
	if !p.possible() {
		n.X = math.NaN()
	}
	return Frame{guide, guide.stand(n.X, n.Y), p}
}

// Point returns where the ball stands in the machine's frame, NaN for a pose that has no
// frame.
func (f *Frame) Point(b Ball) linkage.Point { return f.point(b.on(f.guide)) }

// Slopes returns where the ball stands, and the derivatives of that over the
// tilt's right and forward parts, in metres per radian. Over the height the
// derivative is (0, 0, 1).
func (f *Frame) Slopes(b Ball) (at, perRight, perForward linkage.Point) {
	v := f.stand.place(b.on(f.guide))
	right, forward := f.turns()
	return f.raised(v), linkage.PointOf(r3.Cross(right, v)), linkage.PointOf(r3.Cross(forward, v))
}

// turns returns how the stand turns with the tilt's two parts.
func (f *Frame) turns() (right, forward r3.Vec) {
	r, fw := f.pose.Tilt.steps()
	return f.stand.turn(r), f.stand.turn(fw)
}

// point returns where what has the parts v along the stand's p, q and n stands.
func (f *Frame) point(v r3.Vec) linkage.Point { return f.raised(f.stand.place(v)) }

// raised returns what is at v from the plate's centre.
func (f *Frame) raised(v r3.Vec) linkage.Point {
	p := linkage.PointOf(v)
	p.Z += f.pose.Height
	return p
}
