package swash

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// Guide is what keeps a plate or a ring from turning about the mast: a pin at
// a bearing, held in the vertical plane of that bearing. The zero Guide is
// none: the plate then takes its lean by the smallest turn alone.
type Guide struct {
	bearing  units.Angle
	sin, cos float64
	fitted   bool
}

// GuideAt returns the guide at a bearing.
func GuideAt(bearing units.Angle) Guide {
	sin, cos := math.Sincos(float64(bearing))
	return Guide{bearing, sin, cos, true}
}

// Bearing returns the guide's bearing, and whether there is one.
func (g Guide) Bearing() (units.Angle, bool) { return g.bearing, g.fitted }

// Ball is a ball on the plate, in the plate's own terms.
type Ball struct {
	Bearing units.Angle
	Radius  units.Length // from the plate's axis
	Offset  units.Length // along the plate's normal, above 0 over its centre
}

func (b Ball) vec() r3.Vec {
	sin, cos := math.Sincos(float64(b.Bearing))
	return r3.Vec{X: float64(b.Radius) * sin, Y: float64(b.Radius) * cos, Z: float64(b.Offset)}
}

// tilt is the turn that a lean and a guide give to everything fixed to the
// plate, in terms of the level parts of the plate's normal, n = (nx, ny, nz).
// They make the smallest turn from z to n algebraic:
//
//	T v = (vx + nx a, vy + ny a, nz d - p)
//	p = nx vx + ny vy,  a = d - c p,  c = 1/(1+nz),  v = (vx, vy, d)
type tilt struct {
	nx, ny, nz, c float64
	sin, cos      float64 // of the guide's turn about z
	gx, gy        float64 // derivative of that turn over nx and ny
}

func newTilt(nx, ny float64, g Guide) tilt {
	nz := math.Sqrt(1 - nx*nx - ny*ny)
	t := tilt{nx: nx, ny: ny, nz: nz, c: 1 / (1 + nz), cos: 1}
	if !g.fitted {
		return t
	}
	// The pin after the smallest turn stands at w, level parts only.
	pin := r3.Vec{X: g.sin, Y: g.cos}
	w := t.smallest(pin)
	wx, wy := t.smallestSlopes(pin)
	n2 := w.X*w.X + w.Y*w.Y
	inv := 1 / math.Sqrt(n2)
	t.cos = (w.X*g.sin + w.Y*g.cos) * inv
	t.sin = (w.X*g.cos - w.Y*g.sin) * inv
	t.gx = -(w.X*wx.Y - w.Y*wx.X) / n2
	t.gy = -(w.X*wy.Y - w.Y*wy.X) / n2
	return t
}

// smallest applies the smallest turn from z to the normal.
func (t *tilt) smallest(v r3.Vec) r3.Vec {
	p := t.nx*v.X + t.ny*v.Y
	a := v.Z - t.c*p
	return r3.Vec{X: v.X + t.nx*a, Y: v.Y + t.ny*a, Z: t.nz*v.Z - p}
}

// smallestSlopes returns the derivatives of smallest over nx and ny.
func (t *tilt) smallestSlopes(v r3.Vec) (dx, dy r3.Vec) {
	p := t.nx*v.X + t.ny*v.Y
	a := v.Z - t.c*p
	k := t.c * t.c * p / t.nz // -p dc/dn = -k n
	ax, ay := -t.c*v.X-k*t.nx, -t.c*v.Y-k*t.ny
	q := v.Z / t.nz
	dx = r3.Vec{X: a + t.nx*ax, Y: t.ny * ax, Z: -t.nx*q - v.X}
	dy = r3.Vec{X: t.nx * ay, Y: a + t.ny*ay, Z: -t.ny*q - v.Y}
	return dx, dy
}

// turn applies the guide's turn about z.
func (t *tilt) turn(v r3.Vec) r3.Vec {
	return r3.Vec{X: t.cos*v.X - t.sin*v.Y, Y: t.sin*v.X + t.cos*v.Y, Z: v.Z}
}

// carry returns where the tilt takes v.
func (t *tilt) carry(v r3.Vec) r3.Vec { return t.turn(t.smallest(v)) }

// slopes returns where the tilt takes v, and its derivatives over nx and ny.
func (t *tilt) slopes(v r3.Vec) (at, dx, dy r3.Vec) {
	at = t.carry(v)
	dx, dy = t.smallestSlopes(v)
	dx, dy = t.turn(dx), t.turn(dy)
	// The guide's turn changes too: z x at, times its derivative.
	dx.X, dx.Y = dx.X-t.gx*at.Y, dx.Y+t.gx*at.X
	dy.X, dy.Y = dy.X-t.gy*at.Y, dy.Y+t.gy*at.X
	return at, dx, dy
}

// lean returns the lean whose normal has the level parts nx and ny.
func (t *tilt) lean() Lean {
	sin := math.Hypot(t.nx, t.ny)
	if sin == 0 {
		return Lean{}
	}
	k := math.Atan2(sin, t.nz) / sin
	return Lean{units.Angle(k * t.nx), units.Angle(k * t.ny)}
}

// normal returns the level parts of the normal for a lean.
func (l Lean) normal() (nx, ny float64) {
	k, _ := sinc(l.square())
	return k * float64(l.Right), k * float64(l.Forward)
}

// perLean turns slopes over nx and ny at lean l into slopes over the lean's
// two parts.
func perLean(l Lean, dx, dy r3.Vec) (right, forward r3.Vec) {
	r, f := float64(l.Right), float64(l.Forward)
	k, k2 := sinc(l.square())
	// n = k (r, f), so dn/dr = (k + k2 r r, k2 r f), and so on.
	right = r3.Add(r3.Scale(k+k2*r*r, dx), r3.Scale(k2*r*f, dy))
	forward = r3.Add(r3.Scale(k2*r*f, dx), r3.Scale(k+k2*f*f, dy))
	return right, forward
}

// sinc returns k = sin t / t and (dk/dt) / t, which is finite at t = 0, for the
// square of t.
func sinc(t2 float64) (k, k2 float64) {
	if t2 < 0.25 {
		// What the series leave out is below rounding here.
		k = 1 - t2/6*(1-t2/20*(1-t2/42*(1-t2/72*(1-t2/110*(1-t2/156)))))
		k2 = -(1 - t2/10*(1-t2/28*(1-t2/54*(1-t2/88*(1-t2/130*(1-t2/180)))))) / 3
		return k, k2
	}
	t := math.Sqrt(t2)
	sin, cos := math.Sincos(t)
	k = sin / t
	return k, (cos - k) / t2
}

// Frame is a pose worked out for reuse: where it takes what is fixed to the
// plate, or to a ring held by a guide of its own.
type Frame struct {
	tilt tilt
	pose Pose
}

// Frame returns the frame of a pose for what is held by guide. A pose that
// Validate refuses has none; its figures are NaN.
func (p Pose) Frame(guide Guide) Frame {
	nx, ny := p.Lean.normal()
	if !p.possible() {
		nx = math.NaN()
	}
	return Frame{newTilt(nx, ny, guide), p}
}

// Point returns where the ball stands.
func (f *Frame) Point(b Ball) linkage.Point {
	return f.point(f.tilt.carry(b.vec()))
}

// Slopes returns where the ball stands, and the derivatives of that over the
// lean's right and forward parts, in metres per radian. Over the height the
// derivative is (0, 0, 1).
func (f *Frame) Slopes(b Ball) (at, perRight, perForward linkage.Point) {
	v, right, forward := f.slopes(b.vec())
	return f.point(v), linkage.PointOf(right), linkage.PointOf(forward)
}

// slopes returns where v stands, counted from the plate's centre, and its
// derivatives over the lean's two parts.
func (f *Frame) slopes(v r3.Vec) (at, right, forward r3.Vec) {
	at, dx, dy := f.tilt.slopes(v)
	right, forward = perLean(f.pose.Lean, dx, dy)
	return at, right, forward
}

func (f *Frame) point(v r3.Vec) linkage.Point {
	p := linkage.PointOf(v)
	p.Z += f.pose.Height
	return p
}
