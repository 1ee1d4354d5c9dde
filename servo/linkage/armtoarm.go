package linkage

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// ArmsSpec describes two arms on shafts of their own, joined by a link with a
// ball at either end. The shafts may lie at any angle to each other.
type ArmsSpec struct {
	Driving ArmSpec // with the link
	// Driven is the other arm; its Link does not matter. Outputs count from
	// its neutral direction. Of the two angles that the link reaches at
	// neutral, the nearer to 0 is the one meant.
	Driven ArmSpec
}

// ArmToArm is an arm whose link turns another arm: a four-bar in a plane, or in
// space two revolute axes at any angle joined by a ball-ended link. It implements
// Linkage: an angle goes in, an angle comes out.
type ArmToArm struct{ closure }

// NewArmToArm returns the linkage that spec describes. The error is a *units.FieldError, also where
// the link does not fit at neutral, or stands there at a dead centre.
func NewArmToArm(spec ArmsSpec) (*ArmToArm, error) {
	driving, err := NewArm(spec.Driving)
	if err != nil {
		return nil, units.In("Driving", "Driving.", err)
	}
	spec.Driven.Link = spec.Driving.Link
	driven, err := NewArm(spec.Driven)
	if err != nil {
		return nil, units.In("Driven", "Driven.", err)
	}
	s := swing{arm: driven, branch: Ahead}
	at, _ := driving.Ball(0)
	ahead, ok := s.follow(at.Vec())
	if ok {
		s.branch = Behind
		if behind, _ := s.follow(at.Vec()); math.Abs(ahead) <= math.Abs(behind) {
			s.branch = Ahead
			s.centre = ahead
		} else {
			s.centre = behind
		}
	}
	c, err := newClosure(driving, &s, Angle)
	if err != nil {
		return nil, units.In("Driving", "", err)
	}
	return &ArmToArm{c}, nil
}

// FourBar describes a four-bar in a plane, in the usual textbook frame: the crank's
// shaft at the origin, the rocker's at ground along x. Angles count
// counter-clockwise from x; inputs and outputs count from the two neutral angles, of
// which the rocker's need only be near the true one.
func FourBar(crank, coupler, rocker, ground units.Length, crankNeutral, rockerNeutral units.Angle) ArmsSpec {
	arm := func(x, radius units.Length, neutral units.Angle) ArmSpec {
		sin, cos := math.Sincos(float64(neutral))
		return ArmSpec{
			Shaft:   Point{X: x},
			Axis:    Direction{Z: 1},
			Neutral: Direction{X: cos, Y: sin},
			Radius:  radius,
			Link:    coupler,
		}
	}
	return ArmsSpec{Driving: arm(0, crank, crankNeutral), Driven: arm(ground, rocker, rockerNeutral)}
}

// swing is a follower on an arm.
type swing struct {
	arm    Arm
	branch Branch
	centre float64 // outputs lie within half a turn of it, so that they do not jump
}

func (s *swing) follow(from r3.Vec) (float64, bool) {
	q, err := s.arm.AngleTo(PointOf(from), s.branch)
	if err != nil {
		return 0, false
	}
	return s.centre + float64(Wrap(q-units.Angle(s.centre))), true
}

func (s *swing) miss(from r3.Vec) error {
	_, err := s.arm.AngleTo(PointOf(from), s.branch)
	return err
}

func (s *swing) ball(out float64) (at, slope r3.Vec, square float64) {
	p, d := s.arm.Ball(units.Angle(out))
	return p.Vec(), d.Vec(), s.arm.radius
}
