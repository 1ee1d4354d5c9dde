package swash

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// LegEffect tells what small changes of one leg do to the swashplate while all other legs
// stay as they are, and what a small change of the plate asks of the leg's arm. A leg is one
// servo arm with its link and its ball on the plate.
//
// The derivatives are analytic, and exact to rounding. Those of more than three legs
// count how strained links turn as the plate yields, and hold only in the pose that
// Pose gives for the arms.
type LegEffect struct {
	ArmEffect          // with Margin, the lever of this leg's link over its arm's radius
	PerLink   PoseRate // of the pose, per metre of link length
	PerRadius PoseRate // of the pose, per metre of arm radius
	PerOffset PoseRate // of the pose, per metre of the ball's offset along the plate's normal
	ArmPer    PoseRate // of the arm's angle, over the pose, at the same strain of the link: rad/m, rad/rad, rad/rad
}

// LegEffects puts into dst the effects of every leg at a pose with the given arm
// angles. The error is a *SingularError where the legs lose hold of the plate, a *LegError
// around a *DeadCentreError, or a *units.FieldError. Legs lose hold by their directions or, with
// more than three, by their strains.
func (p *Plate) LegEffects(dst []LegEffect, pose Pose, arms []units.Angle) error {
	return p.eachEffect(len(dst), pose, arms, func(i int, e LegEffect) { dst[i] = e })
}

// Effects implements Mechanism. The errors are those of LegEffects.
func (p *Plate) Effects(dst []ArmEffect, pose Pose, arms []units.Angle) error {
	return p.eachEffect(len(dst), pose, arms, func(i int, e LegEffect) { dst[i] = e.ArmEffect })
}

// eachEffect calls put with the effects of each leg, of which room for n is there.
func (p *Plate) eachEffect(n int, pose Pose, arms []units.Angle, put func(i int, e LegEffect)) error {
	if n != len(p.legs) {
		return refuse("dst", "room for %d effects; the plate has %d legs", n, len(p.legs))
	}
	var buf [inline]strainSlopes
	w, inv, slopes, err := p.effectSystem(buf[:0], pose, arms)
	if err != nil {
		return err
	}
	for i := range p.legs {
		put(i, p.legEffect(&p.legs[i], &w, &inv, &slopes[i], arms[i]))
	}
	return nil
}

// turning is the frame of a pose, and how it turns with the tilt.
type turning struct {
	Frame
	right, forward r3.Vec
}

// effectSystem returns the frame of a pose that the legs hold, the inverse of the normal
// equations of small changes there, and each leg's slopes, in dst if they fit.
func (p *Plate) effectSystem(dst []strainSlopes, pose Pose, arms []units.Angle) (w turning, inv inverse, slopes []strainSlopes, err error) {
	if err := p.checkArms(arms); err != nil {
		return w, inv, nil, err
	}
	if err := pose.Validate(); err != nil {
		return w, inv, nil, err
	}
	if err := p.held(pose, arms); err != nil {
		return w, inv, nil, err
	}
	w.Frame = pose.Frame(p.guide)
	w.right, w.forward = w.turns()
	var normal system
	for i := range p.legs {
		l := &p.legs[i]
		s := l.slopes(&w, arms[i])
		normal.addSquare(r3.Scale(l.weight, s.scaled(p.size)))
		dst = append(dst, s)
	}
	if len(p.legs) > 3 {
		if err := p.stiffen(&normal, &w, arms); err != nil {
			return w, inv, nil, err
		}
	}
	normal.invert(&inv) // the legs hold the plate here
	return w, inv, dst, nil
}

// legEffect solves the normal equations for one leg.
func (p *Plate) legEffect(l *leg, w *turning, normal *inverse, s *strainSlopes, arm units.Angle) LegEffect {
	x := normal.times(r3.Scale(l.weight*l.weight, s.scaled(p.size)))
	// A longer link relaxes its strain one for one, and the plate yields
	// until the strains are least again.
	perLink := p.rate(x)
	e := LegEffect{
		ArmEffect: ArmEffect{
			PerArm:        perLink.Scale(-float64(s.Lever)),
			Margin:        s.Margin(l.arm.Radius()),
			OffSquare:     s.OffSquare,
			BallLinkAngle: s.BallLinkAngle,
		},
		PerLink:   perLink,
		PerRadius: perLink.Scale(-s.Spoke),
		PerOffset: perLink.Scale(-s.offset),
		ArmPer:    s.pose.Scale(-1 / float64(s.Lever)),
	}
	if len(p.legs) > 3 {
		p.swung(&e, l, w, normal, arm)
	}
	return e
}

// rate returns the solver's step x, whose tilt counts in parts of the plate's
// size, as a rate.
func (p *Plate) rate(x r3.Vec) PoseRate { return PoseRate{x.X, x.Y / p.size, x.Z / p.size} }

// strainSlopes are the derivatives of one leg's strain.
type strainSlopes struct {
	linkage.Stance // its Lever is that over the arm angle, its Spoke that over the radius
	pose           PoseRate
	offset         float64 // over the ball's offset
}

// scaled returns the slopes over the pose with the tilt's parts over size, so
// that all are numbers near 1.
func (s *strainSlopes) scaled(size float64) r3.Vec {
	return r3.Vec{X: s.pose.Height, Y: s.pose.Right / size, Z: s.pose.Forward / size}
}

func (l *leg) slopes(w *turning, q units.Angle) strainSlopes {
	at := w.stand.Carry(l.ball)
	s := l.arm.Stance(q, w.raised(at))
	along := r3.Vec(s.Along)
	moment := r3.Cross(along, at)
	return strainSlopes{
		Stance: s,
		pose:   PoseRate{-along.Z, r3.Dot(moment, w.right), r3.Dot(moment, w.forward)},
		offset: -r3.Dot(along, w.stand.N),
	}
}
