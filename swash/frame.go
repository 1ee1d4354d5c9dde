package swash

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/units"
)

// Guide is what keeps a swashplate, or the rotating ring on it, from turning about its own
// normal. On the plate it is the anti-rotation guide, a pin in a vertical slot. On the ring it
// is the ring driver (scissors, washout driver). The pin or driver stays in the vertical plane
// of its bearing. The zero Guide is none: the plate then tilts by the smallest turn from level.
type Guide = network.Mark

// GuideAt returns the guide at a bearing, counted from the nose, clockwise seen from above.
func GuideAt(bearing units.Angle) Guide { return network.MarkAt(bearing) }

// Ball is where a ball sits on the swashplate or on its rotating ring.
type Ball struct {
	Bearing units.Angle  // on the level plate, from the nose, clockwise seen from above
	Radius  units.Length // from the plate's axis, more than 0
	Offset  units.Length // along the plate's normal, positive above its centre
}

// on returns the ball's parts along the p, q and n of a stand with the guide.
func (b Ball) on(g Guide) r3.Vec {
	bearing, _ := g.Bearing()
	sin, cos := math.Sincos(float64(b.Bearing - bearing))
	return r3.Vec{X: float64(b.Radius) * cos, Y: float64(b.Radius) * sin, Z: float64(b.Offset)}
}

// stand is how a plate or a ring stands, and how that changes with the level parts of
// its normal.
type stand = network.Stand

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
	return Frame{guide, guide.Stand(n.X, n.Y), p}
}

// Point returns where the ball stands in the machine's frame, NaN for a pose that has no
// frame.
func (f *Frame) Point(b Ball) linkage.Point { return f.point(b.on(f.guide)) }

// Slopes returns where the ball stands, and the derivatives of that over the
// tilt's right and forward parts, in metres per radian. Over the height the
// derivative is (0, 0, 1).
func (f *Frame) Slopes(b Ball) (at, perRight, perForward linkage.Point) {
	v := f.stand.Carry(b.on(f.guide))
	right, forward := f.turns()
	return f.raised(v), linkage.PointOf(r3.Cross(right, v)), linkage.PointOf(r3.Cross(forward, v))
}

// turns returns how the stand turns with the tilt's two parts.
func (f *Frame) turns() (right, forward r3.Vec) {
	r, fw := f.pose.Tilt.steps()
	return f.stand.Turn(r), f.stand.Turn(fw)
}

// point returns where what has the parts v along the stand's p, q and n stands.
func (f *Frame) point(v r3.Vec) linkage.Point { return f.raised(f.stand.Carry(v)) }

// raised returns what is at v from the plate's centre.
func (f *Frame) raised(v r3.Vec) linkage.Point {
	p := linkage.PointOf(v)
	p.Z += f.pose.Height
	return p
}
