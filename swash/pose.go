package swash

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// Tilt is how a swashplate stands off square to the mast: a vector that points at the plate's
// low side, by its parts to the right and forward. Its length is the angle of tilt.
type Tilt struct {
	Right   units.Angle // positive: the right side is low
	Forward units.Angle // positive: the front is low
}

// TiltTo returns the tilt of the given amount with its low side at a bearing, counted from the
// nose, clockwise seen from above.
func TiltTo(amount, bearing units.Angle) Tilt {
	sin, cos := math.Sincos(float64(bearing))
	return Tilt{amount * units.Angle(sin), amount * units.Angle(cos)}
}

// Amount returns the angle between the mast and the plate's normal, never negative.
func (l Tilt) Amount() units.Angle {
	return units.Angle(math.Hypot(float64(l.Right), float64(l.Forward)))
}

// LowSide returns the bearing of the plate's lowest point, from 0° at the nose, clockwise seen
// from above, to below 360°. A level plate has none; 0 stands for it.
func (l Tilt) LowSide() units.Angle { return Bearing(float64(l.Right), float64(l.Forward)) }

// LowSideShown is LowSide for people: 0 for a plate that is tilted by less than Level.
func (l Tilt) LowSideShown() units.Angle {
	if l.Amount() < Level {
		return 0
	}
	return l.LowSide()
}

// Level is the tilt below which a plate counts as level, so that rounding shows no low side.
const Level = 1e-7 * units.Degree

// String says the tilt for people: "5.2°, low side towards 180°", or "level".
func (l Tilt) String() string {
	if l.Amount() < Level {
		return "level"
	}
	return fmt.Sprintf("%v, low side towards %v", units.Round(l.Amount(), 2), units.Round(l.LowSide(), 0))
}

// Bearing returns the bearing of a level vector by its parts to the right and
// forward, from 0° at the nose, clockwise seen from above, to below 360°. It is 0 for the
// vector of no length, and from half a millionth of a degree below 360°, which rounding
// would show as 360° on one machine and as 0° on another.
func Bearing(right, forward float64) units.Angle {
	b := units.Angle(math.Atan2(right, forward))
	switch {
	case b > 0:
		return b
	case b >= -0.5e-6*units.Degree:
		return 0
	}
	return b + 2*math.Pi
}

// Sub returns the tilt l minus m, part by part.
func (l Tilt) Sub(m Tilt) Tilt { return Tilt{l.Right - m.Right, l.Forward - m.Forward} }

// Pose is where the swashplate stands.
type Pose struct {
	Height units.Length // of the plate's centre along the mast, positive up, from the level that the legs' shafts count from
	Tilt   Tilt
}

// String says the pose for people: "61.4 mm high, tilt 5.2°, low side towards 180°".
func (p Pose) String() string {
	if p.Tilt.Amount() < Level {
		return fmt.Sprintf("%v high, level", units.Round(p.Height, 2))
	}
	return fmt.Sprintf("%v high, tilt %v", units.Round(p.Height, 2), p.Tilt)
}

// Validate reports a pose that no plate can take, as a *units.FieldError: one that is
// not finite, or tilts by 90° or more.
func (p Pose) Validate() error {
	if p.possible() {
		return nil
	}
	field := "Tilt"
	switch {
	case !units.Finite(p.Height):
		field = "Height"
	case !units.Finite(p.Tilt.Right):
		field = "Tilt.Right"
	case !units.Finite(p.Tilt.Forward):
		field = "Tilt.Forward"
	}
	return &units.FieldError{Field: field, Words: "swash: pose:", Reason: fmt.Sprintf("must be finite and tilt by less than 90°; its height is %.4g mm and its tilt %.4g°",
		p.Height.Millimetres(), p.Tilt.Amount().Degrees())}
}

func (p Pose) possible() bool {
	return units.Finite(p.Height) && p.Tilt.square() < math.Pi*math.Pi/4
}

// square returns the square of the tilt's amount, in rad².
func (l Tilt) square() float64 {
	return float64(l.Right)*float64(l.Right) + float64(l.Forward)*float64(l.Forward)
}

// PoseRate is how fast a pose changes with something, such as an arm's angle: its height in
// metres, and the two parts of its tilt in radians, per SI unit of that thing. It can also be
// the slopes of something over a pose, in its SI unit per metre and per radian.
type PoseRate struct {
	Height, Right, Forward float64
}

// Scale returns the rate times k: for a small change of k, the change of the pose.
func (r PoseRate) Scale(k float64) PoseRate {
	return PoseRate{k * r.Height, k * r.Right, k * r.Forward}
}

// Add returns the sum of two rates: what two small changes do together.
func (r PoseRate) Add(s PoseRate) PoseRate {
	return PoseRate{r.Height + s.Height, r.Right + s.Right, r.Forward + s.Forward}
}

// Dot returns how fast something changes that has the slopes s over the pose, while the pose
// changes at rate r: the chain rule.
func (r PoseRate) Dot(s PoseRate) float64 {
	return r.Height*s.Height + r.Right*s.Right + r.Forward*s.Forward
}

// Moved returns the pose changed by c, in metres and radians, part by part.
func (p Pose) Moved(c PoseRate) Pose {
	p.Height += units.Length(c.Height)
	p.Tilt.Right += units.Angle(c.Right)
	p.Tilt.Forward += units.Angle(c.Forward)
	return p
}

// PoseChange returns the change of pose that changes three quantities by the given amounts, to
// first order. The quantities have the given slopes over the pose. It reports false where no
// single change does that.
func PoseChange(slopes [3]PoseRate, by [3]float64) (PoseRate, bool) {
	vec := func(r PoseRate) r3.Vec { return r3.Vec{X: r.Height, Y: r.Right, Z: r.Forward} }
	s := system{vec(slopes[0]), vec(slopes[1]), vec(slopes[2]), r3.Vec{X: by[0], Y: by[1], Z: by[2]}}
	x, _, ok := s.solve()
	return PoseRate{x.X, x.Y, x.Z}, ok
}
