package swash

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// LegEffect tells what small changes of one leg do to the plate, all other legs
// held, and what a small change of the plate asks of the leg's arm.
//
// The derivatives are analytic. They are exact for three legs, and for more
// where no link is strained; strained links leave them off by about the strain
// over the link's length.
type LegEffect struct {
	PerArm    PoseRate // of the pose, per radian of arm angle
	PerLink   PoseRate // per metre of link length
	PerRadius PoseRate // per metre of arm radius
	PerOffset PoseRate // per metre of the ball's offset along the plate's normal
	ArmPer    PoseRate // of the arm's angle, over the pose: rad/m, rad/rad, rad/rad
	// Margin is the lever of the link about the shaft over the arm's radius:
	// the sine of the angle between them, seen along the shaft, where the
	// link lies in the arm's plane. It is 1 for a square leg and 0 at a dead
	// centre.
	Margin float64
	// OffSquare is the angle by which the arm has turned past square to the
	// link, seen along the shaft, above 0 where the ball is too high.
	OffSquare units.Angle
	// Cone is the angle by which the link leans away from the shaft's plane
	// of rotation: what the ball link on the arm must allow.
	Cone units.Angle
}

// Load is what pulls on the plate: a force along the mast, and moments that
// would tip it.
type Load struct {
	Down    units.Force  // pushes the plate down the mast
	Right   units.Torque // tips the right side down
	Forward units.Torque // tips the front down
}

// Torque returns the torque with which the servo must turn its arm, positive in
// the sense that raises the ball, to hold the load: by virtual work. Friction
// and the parts' weight are not in it.
func (e *LegEffect) Torque(l Load) units.Torque {
	work := -float64(l.Down)*e.PerArm.Height + float64(l.Right)*e.PerArm.Right + float64(l.Forward)*e.PerArm.Forward
	return units.Torque(-work)
}

// Effects puts into dst the effects of every leg at a pose with the given arm
// angles. The error is a *SingularError where the legs lose hold of the plate, a
// *LegError around a *DeadCentreError, or an *InputError.
func (p *Plate) Effects(dst []LegEffect, pose Pose, arms []units.Angle) error {
	if err := p.checkArms(arms); err != nil {
		return err
	}
	if len(dst) != len(p.legs) {
		return &InputError{"dst", fmt.Sprintf("%d effects for %d legs", len(dst), len(p.legs))}
	}
	if err := pose.Validate(); err != nil {
		return err
	}
	f := pose.Frame(p.guide)
	var normal system
	for i := range p.legs {
		s := p.legs[i].slopes(&f, arms[i])
		normal.addSquare(s.scaled(p.size))
	}
	for i := range p.legs {
		l := &p.legs[i]
		s := l.slopes(&f, arms[i])
		margin := s.lever / float64(l.arm.Radius())
		if m := margin * float64(l.branch); !(m > singular) {
			return &LegError{i, &DeadCentreError{m}}
		}
		normal.rhs = s.scaled(p.size)
		x, _, ok := normal.solve()
		if !ok {
			return &SingularError{0}
		}
		// A longer link relaxes its strain one for one, and the plate gives
		// way until the strains are least again.
		perLink := PoseRate{x.X, x.Y / p.size, x.Z / p.size}
		dst[i] = LegEffect{
			PerArm:    perLink.Scale(-s.lever),
			PerLink:   perLink,
			PerRadius: perLink.Scale(-s.spoke),
			PerOffset: perLink.Scale(-s.offset),
			ArmPer:    s.pose.Scale(-1 / s.lever),
			Margin:    math.Abs(margin),
			OffSquare: units.Angle(math.Atan2(s.spoke*float64(l.branch), math.Abs(s.lever)/float64(l.arm.Radius()))),
			Cone:      s.cone,
		}
	}
	return nil
}

// strainSlopes are the derivatives of one leg's strain.
type strainSlopes struct {
	pose   PoseRate
	lever  float64 // over the arm angle, metres per radian
	spoke  float64 // over the arm radius
	offset float64 // over the ball's offset
	cone   units.Angle
}

// scaled returns the slopes over the pose with the lean's parts over size, so
// that all are numbers near 1.
func (s *strainSlopes) scaled(size float64) r3.Vec {
	return r3.Vec{X: s.pose.Height, Y: s.pose.Right / size, Z: s.pose.Forward / size}
}

func (l *leg) slopes(f *Frame, q units.Angle) strainSlopes {
	at, dx, dy := f.tilt.slopes(l.ball)
	right, forward := perLean(f.pose.Lean, dx, dy)
	at.Z += float64(f.pose.Height)
	ball, slope := l.arm.Ball(q)
	spoke := r3.Sub(ball.Vec(), l.arm.Shaft().Vec())
	w := r3.Unit(r3.Sub(ball.Vec(), at)) // along the link, from plate to arm
	axis := l.arm.Axis()
	return strainSlopes{
		pose:   PoseRate{-w.Z, -r3.Dot(w, right), -r3.Dot(w, forward)},
		lever:  r3.Dot(w, slope.Vec()),
		spoke:  r3.Dot(w, spoke) / float64(l.arm.Radius()),
		offset: -r3.Dot(w, f.tilt.carry(r3.Vec{Z: 1})),
		cone:   units.Angle(math.Asin(math.Min(1, math.Abs(w.X*axis.X+w.Y*axis.Y+w.Z*axis.Z)))),
	}
}
