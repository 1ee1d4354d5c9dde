package swash

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// Tilt is how a plate stands off square to the mast: towards the right and
// forward, as the two parts of a vector that points at the low side.
type Tilt struct {
	Right   units.Angle // above 0: the right side is low
	Forward units.Angle // above 0: the front is low
}

// TiltTo returns the tilt of the given amount with its low side at bearing.
func TiltTo(amount, bearing units.Angle) Tilt {
	sin, cos := math.Sincos(float64(bearing))
	return Tilt{amount * units.Angle(sin), amount * units.Angle(cos)}
}

// Amount returns the angle between the mast and the plate's normal.
func (l Tilt) Amount() units.Angle {
	return units.Angle(math.Hypot(float64(l.Right), float64(l.Forward)))
}

// LowSide returns the bearing of the plate's lowest point, in [0°, 360°). A
// level plate has none; 0 stands for it.
func (l Tilt) LowSide() units.Angle { return Bearing(float64(l.Right), float64(l.Forward)) }

// Bearing returns the bearing of a level vector by its parts to the right and
// forward, in [0°, 360°). It is 0 for the vector of no length.
func Bearing(right, forward float64) units.Angle {
	b := math.Atan2(right, forward)
	if b < 0 {
		b += 2 * math.Pi
	}
	return units.Angle(b)
}

// Sub returns the tilt l - m, part by part.
func (l Tilt) Sub(m Tilt) Tilt { return Tilt{l.Right - m.Right, l.Forward - m.Forward} }

// Pose is where the plate stands.
type Pose struct {
	Height units.Length // of the plate's centre on the mast
	Tilt   Tilt
}

// Validate reports a pose that no plate can take, as an *InputError: one that is
// not finite, or tilts by 90° or more.
func (p Pose) Validate() error {
	if p.possible() {
		return nil
	}
	return &InputError{"pose", fmt.Sprintf("height %.4g mm and tilt %.4g° are not a height and a tilt below 90°",
		p.Height.Millimetres(), p.Tilt.Amount().Degrees())}
}

func (p Pose) possible() bool {
	return units.Finite(p.Height) && p.Tilt.square() < math.Pi*math.Pi/4
}

// square returns the square of the tilt's amount, in rad².
func (l Tilt) square() float64 {
	return float64(l.Right)*float64(l.Right) + float64(l.Forward)*float64(l.Forward)
}

// PoseRate is how fast a pose changes with something: its height in metres, and
// the two parts of its tilt in radians, per SI unit of that thing.
type PoseRate struct {
	Height, Right, Forward float64
}

// Scale returns the rate times k.
func (r PoseRate) Scale(k float64) PoseRate {
	return PoseRate{k * r.Height, k * r.Right, k * r.Forward}
}

// Add returns the sum of two rates.
func (r PoseRate) Add(s PoseRate) PoseRate {
	return PoseRate{r.Height + s.Height, r.Right + s.Right, r.Forward + s.Forward}
}

// Dot returns the rate at which a quantity changes that has the slopes s over
// the pose: the chain rule.
func (r PoseRate) Dot(s PoseRate) float64 {
	return r.Height*s.Height + r.Right*s.Right + r.Forward*s.Forward
}

// Moved returns the pose changed by c.
func (p Pose) Moved(c PoseRate) Pose {
	p.Height += units.Length(c.Height)
	p.Tilt.Right += units.Angle(c.Right)
	p.Tilt.Forward += units.Angle(c.Forward)
	return p
}

// PoseChange returns the change of pose that changes three quantities, which
// have the given slopes over the pose, by the given amounts, to first order. It
// reports false where the slopes do not tell the three apart.
func PoseChange(slopes [3]PoseRate, by [3]float64) (PoseRate, bool) {
	vec := func(r PoseRate) r3.Vec { return r3.Vec{X: r.Height, Y: r.Right, Z: r.Forward} }
	s := system{vec(slopes[0]), vec(slopes[1]), vec(slopes[2]), r3.Vec{X: by[0], Y: by[1], Z: by[2]}}
	x, _, ok := s.solve()
	return PoseRate{x.X, x.Y, x.Z}, ok
}
