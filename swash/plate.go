package swash

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// LegSpec describes one leg: a servo arm whose link ends at a ball on the swashplate.
type LegSpec struct {
	Ball Ball            // on the plate
	Arm  linkage.ArmSpec // with the link; a positive turn should raise the ball
	// Stiffness is the force along the link for its strain, link and mount
	// together (see InSeries). It matters for more than three legs only, where
	// stiffer legs yield less. Leave it 0 on all legs where it is not
	// known: they then count as equally stiff, and their forces as 0.
	Stiffness units.Stiffness
}

// PlateSpec describes a swashplate on its servos.
type PlateSpec struct {
	Legs   []LegSpec    // three or more, in the order of the servos
	Guide  Guide        // the anti-rotation guide; the zero Guide is none
	Height units.Length // of the plate's centre with all arms at 0, in the frame of the legs; within a few millimetres is enough
}

// leg is a checked LegSpec.
type leg struct {
	ball      r3.Vec // along p, q and n of the plate's stand
	arm       linkage.Arm
	branch    linkage.Branch
	stiffness float64 // N/m; 0 where it is not known
	weight    float64 // root of the stiffness over the stiffest leg's; 1 where it is not known
	// The shaft, and the arm at 0° and at 90°, in the guide's frame.
	shaft, out, up r3.Vec
	link2          float64 // square of the link's length
	square         float64 // moment about the shaft of the link's span where it stands square to the arm
	scale          float64 // 1 over link and plate's size
}

// Plate is a swashplate whose servos act on it directly. It implements Mechanism, never
// changes, and is safe for use by several goroutines.
type Plate struct {
	legs    []leg
	guide   Guide
	size    float64 // mean distance of the balls from the plate's axis
	neutral Pose
	hold    float64 // determinant of the legs' hold at neutral
	begin   start   // of three legs
}

const (
	// singular is the part of the neutral determinant, and of an arm's
	// radius, below which a pose or a leg counts as a dead centre.
	singular = 1e-6
	// inline is how many legs or servos are served without allocating.
	inline = 8
	// maxSteps bounds Newton's iteration. It needs four or five steps, and
	// more only for links in conflict, where it converges linearly.
	maxSteps = 60
	// steepestStep bounds the sine of the tilt between steps.
	steepestStep = 0.95
)

// MaxLength is the largest length that is taken: ten times that of the largest model. What is more
// is a slip of the unit, such as 120 m for 120 mm.
const MaxLength = 10 * units.Metre

// NewPlate returns the plate that spec describes, with its neutral pose, all arms at 0. The
// error is a *units.FieldError, or what Pose reports of the neutral pose.
func NewPlate(spec PlateSpec) (*Plate, error) {
	if len(spec.Legs) < 3 {
		return nil, refuse("Legs", "must be three or more, not %d", len(spec.Legs))
	}
	if !units.Finite(spec.Height) {
		return nil, refuse("Height", "must be finite, not %v", spec.Height)
	}
	if spec.Height > MaxLength || spec.Height < -MaxLength {
		return nil, refuse("Height", "must be within ±%v, not %v", MaxLength, spec.Height)
	}
	if b, ok := spec.Guide.Bearing(); ok && !units.Finite(b) {
		return nil, refuse("Guide", "must have a finite bearing, not %v", b)
	}
	p := &Plate{legs: make([]leg, len(spec.Legs)), guide: spec.Guide}
	for i, s := range spec.Legs {
		b, path := s.Ball, fmt.Sprintf("Legs[%d]", i)
		if !units.Finite(b.Bearing) || !units.Finite(b.Offset) {
			field := ".Ball.Bearing"
			if units.Finite(b.Bearing) {
				field = ".Ball.Offset"
			}
			return nil, refuse(path+field, "must have a finite bearing and offset, not %v and %v", b.Bearing, b.Offset)
		}
		if !(b.Radius > 0) || !units.Finite(b.Radius) {
			return nil, refuse(path+".Ball.Radius", "must have a radius of more than 0 mm, not %v", b.Radius)
		}
		if b.Radius > MaxLength {
			return nil, refuse(path+".Ball.Radius", "must have a radius of %v at most, not %v", MaxLength, b.Radius)
		}
		arm, err := linkage.NewArm(s.Arm)
		if err != nil {
			return nil, units.In(path+".Arm", fmt.Sprintf("swash: servo %d: Arm.", i+1), err)
		}
		at, slope := arm.Ball(0)
		shaft := arm.Shaft().Vec()
		p.legs[i] = leg{
			ball: b.on(spec.Guide), arm: arm, stiffness: float64(s.Stiffness),
			shaft: spec.Guide.Inward(shaft), out: spec.Guide.Inward(r3.Sub(at.Vec(), shaft)), up: spec.Guide.Inward(slope.Vec()),
		}
		p.size += float64(b.Radius) / float64(len(spec.Legs))
	}
	for i := range p.legs {
		l := &p.legs[i]
		link := float64(l.arm.Link())
		l.link2, l.square, l.scale = link*link, link*float64(l.arm.Radius()), 1/(link*p.size)
	}
	if err := p.weigh(); err != nil {
		return nil, err
	}
	if err := p.settle(spec.Height); err != nil {
		return nil, err
	}
	return p, nil
}

// settle finds the neutral pose from a height near it, and from that the
// branch of each leg and the sense in which the legs hold the plate.
func (p *Plate) settle(height units.Length) error {
	var buf [inline]armBall
	balls := p.balls(buf[:0], make([]units.Angle, len(p.legs)))
	var v view
	at, hold, err := p.iterate(&v, attitude{h: float64(height)}, balls, math.Inf(1), exact)
	if err != nil {
		return err
	}
	p.neutral, p.hold = p.pose(at), hold
	if !(math.Abs(hold) > singular) {
		return &SingularError{0}
	}
	for i := range p.legs {
		m := p.legs[i].margin(&v, &balls[i])
		if !(math.Abs(m) > singular) {
			return &LegError{i, &DeadCentreError{m}}
		}
		p.legs[i].branch = linkage.Behind
		if m > 0 {
			p.legs[i].branch = linkage.Ahead
		}
	}
	if len(p.legs) == 3 {
		p.begin = p.start(at, balls)
	}
	return nil
}

// Servos implements Mechanism: there is one for each leg.
func (p *Plate) Servos() int { return len(p.legs) }

// Guide returns the plate's anti-rotation guide, the zero Guide where it has none.
func (p *Plate) Guide() Guide { return p.guide }

// Neutral returns the pose with all arms at 0, which need not be level.
func (p *Plate) Neutral() Pose { return p.neutral }

// Pose returns the plate's pose for the given arm angles, one for each leg: the one that the
// plate reaches from neutral as all arms turn there from 0 together. It is good to 1e-9 mm
// and 1e-9°. The errors are
//
//	*LegError around a *DeadCentreError  an arm at a dead centre or past it
//	*SingularError                       the legs lose hold of the plate
//	*TiltError                           more than 45° of tilt on the way
//	*NoPoseError                         no pose for these arms
//	*units.FieldError                    NaN, infinities, or not one angle for each leg
func (p *Plate) Pose(arms []units.Angle) (Pose, error) {
	if err := p.checkArms(arms); err != nil {
		return Pose{}, err
	}
	// More than three legs can have several poses of least strain: only
	// following tells which is the neutral one's.
	if len(p.legs) == 3 {
		var buf [inline]armBall
		balls := p.balls(buf[:0], arms)
		if at, err := p.solve(p.begin.of(balls), balls, exact); err == nil {
			return p.pose(at), nil
		}
	}
	return p.follow(arms)
}

const (
	// nearby is how far from its guess PoseNear takes an answer for the right one,
	// as the tilt in rad and as the height over the plate's size.
	nearby = 0.1
	// wellKnown is how far from neutral, in rad, Pose begins as near to its answer as
	// a guess would.
	wellKnown = 0.75
)

// PoseNear is Pose with a guess of the answer, such as the pose a moment ago. The guess saves a
// step or two where arms stand far from neutral. The answer is the same: PoseNear drops a
// guess that is far from it. It uses none with more than three legs, or with all arms within
// 43° of neutral.
func (p *Plate) PoseNear(guess Pose, arms []units.Angle) (Pose, error) {
	far := func(q units.Angle) bool { return math.Abs(float64(q)) > wellKnown }
	if len(p.legs) == 3 && guess.possible() && slices.ContainsFunc(arms, far) && p.checkArms(arms) == nil {
		from := p.attitude(guess)
		at, err := p.step(from, arms, exact)
		if err == nil && math.Abs(at.h-from.h) < nearby*p.size && math.Hypot(at.x-from.x, at.y-from.y) < nearby {
			return p.pose(at), nil
		}
	}
	return p.Pose(arms)
}

func (p *Plate) checkArms(arms []units.Angle) error {
	if len(p.legs) == 0 {
		return errNoPlate
	}
	if len(arms) != len(p.legs) {
		return refuse("arms", "%d angles; give one for each of the %d servos", len(arms), len(p.legs))
	}
	for i, q := range arms {
		if !units.Finite(q) {
			return refuse(fmt.Sprintf("arms[%d]", i), "the angle must be finite, not %v", q)
		}
	}
	return nil
}

// Arms puts into dst the arm angles that hold the plate in a pose, each on the side of its
// dead centres on which it is at neutral. They are good to 1e-10°. With more than three legs
// they strain no link. The error is a *LegError around a *linkage.ReachError for
// the first leg that does not reach, or a *units.FieldError.
func (p *Plate) Arms(dst []units.Angle, pose Pose) error {
	if len(p.legs) == 0 {
		return errNoPlate
	}
	if len(dst) != len(p.legs) {
		return refuse("dst", "room for %d angles; the plate has %d servos", len(dst), len(p.legs))
	}
	if err := pose.Validate(); err != nil {
		return err
	}
	f := pose.Frame(p.guide)
	for i := range p.legs {
		l := &p.legs[i]
		q, err := l.arm.AngleTo(f.point(l.ball), l.branch)
		if err != nil {
			return &LegError{i, err}
		}
		dst[i] = q
	}
	return nil
}
