package swash

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// LegSpec describes one leg: an arm whose link ends at a ball on the plate.
type LegSpec struct {
	Ball Ball
	Arm  linkage.ArmSpec
	// Stiffness is the force along the link for its strain, link and mount
	// together (see InSeries). It matters for more than three legs only, where
	// stiffer legs give way less. Leave it 0 on all legs where it is not
	// known: they then count as equally stiff, and their forces as nothing.
	Stiffness units.Stiffness
}

// PlateSpec describes a plate and its legs.
type PlateSpec struct {
	Legs   []LegSpec    // three or more, in the order of the servos
	Guide  Guide        // the anti-rotation pin; the zero Guide is none
	Height units.Length // about where the plate stands when all arms are at 0: the start of the branch
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

// Plate is a checked PlateSpec. It is safe for use by several goroutines.
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
	// maxTilt bounds the sine of the lean between steps.
	maxTilt = 0.95
)

// NewPlate checks spec and finds the neutral pose, with all arms at 0. The error
// is a *SpecError, or what Pose reports of the neutral pose.
func NewPlate(spec PlateSpec) (*Plate, error) {
	if len(spec.Legs) < 3 {
		return nil, &SpecError{Leg: -1, Field: "Legs", Reason: fmt.Sprintf("%d of them; a plate needs three or more", len(spec.Legs))}
	}
	if !units.Finite(spec.Height) {
		return nil, &SpecError{Leg: -1, Field: "Height", Reason: "not a finite length"}
	}
	if b, ok := spec.Guide.Bearing(); ok && !units.Finite(b) {
		return nil, &SpecError{Leg: -1, Field: "Guide", Reason: "not a finite bearing"}
	}
	p := &Plate{legs: make([]leg, len(spec.Legs)), guide: spec.Guide}
	for i, s := range spec.Legs {
		b := s.Ball
		if !units.Finite(b.Bearing) || !units.Finite(b.Offset) {
			return nil, &SpecError{Leg: i, Field: "Ball", Reason: "bearing or offset is not finite"}
		}
		if !(b.Radius > 0) || !units.Finite(b.Radius) {
			return nil, &SpecError{Leg: i, Field: "Ball", Reason: fmt.Sprintf("radius %v is not above zero", b.Radius)}
		}
		arm, err := linkage.NewArm(s.Arm)
		if err != nil {
			field := "Arm"
			if e := (*linkage.SpecError)(nil); errors.As(err, &e) {
				field += "." + e.Field
			}
			return nil, &SpecError{Leg: i, Field: field, Reason: err.Error(), Err: err}
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
	at, hold, err := p.iterate(&v, attitude{h: float64(height)}, balls, math.Inf(1))
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

// Guide returns the plate's guide.
func (p *Plate) Guide() Guide { return p.guide }

// Neutral returns the pose with all arms at 0.
func (p *Plate) Neutral() Pose { return p.neutral }

// Pose returns the plate's pose for the given arm angles, one for each leg: the
// pose continuous with the neutral one, as all arms turn there from 0 together. Arms
// past a dead centre are refused with a *LegError around a *DeadCentreError, poses in
// which the legs lose hold of the plate with a *SingularError, a lean of more than 45°
// on the way with a *LeanError, arms for which there is no pose with a *NoPoseError,
// and NaN and infinities with an *InputError.
func (p *Plate) Pose(arms []units.Angle) (Pose, error) {
	if err := p.checkArms(arms); err != nil {
		return Pose{}, err
	}
	// More than three legs can have several poses of least strain: only
	// following tells which is the neutral one's.
	if len(p.legs) == 3 {
		var buf [inline]armBall
		balls := p.balls(buf[:0], arms)
		if at, err := p.solve(p.begin.of(balls), balls); err == nil {
			return p.pose(at), nil
		}
	}
	return p.follow(arms)
}

const (
	// nearby is how far from its guess PoseNear takes an answer for the right one,
	// as the lean in rad and as the height over the plate's size.
	nearby = 0.1
	// wellKnown is how far from neutral, in rad, Pose begins as near to its answer as
	// a guess would.
	wellKnown = 0.75
)

// PoseNear is Pose with a guess of the answer, such as the pose a moment ago, which
// saves a step or two where arms stand far from neutral. The answer is the same:
// where the solver ends far from the guess, the guess is dropped. Within 43° of
// neutral, and with more than three legs, guesses are not used.
func (p *Plate) PoseNear(guess Pose, arms []units.Angle) (Pose, error) {
	far := func(q units.Angle) bool { return math.Abs(float64(q)) > wellKnown }
	if len(p.legs) == 3 && guess.possible() && slices.ContainsFunc(arms, far) && p.checkArms(arms) == nil {
		from := p.attitude(guess)
		at, err := p.step(from, arms)
		if err == nil && math.Abs(at.h-from.h) < nearby*p.size && math.Hypot(at.x-from.x, at.y-from.y) < nearby {
			return p.pose(at), nil
		}
	}
	return p.Pose(arms)
}

func (p *Plate) checkArms(arms []units.Angle) error {
	if len(arms) != len(p.legs) {
		return &InputError{"arms", fmt.Sprintf("%d angles for %d legs", len(arms), len(p.legs))}
	}
	for i, q := range arms {
		if !units.Finite(q) {
			return &InputError{fmt.Sprintf("arm %d", i+1), "angle is not finite"}
		}
	}
	return nil
}

// Arms puts into dst the arm angles that hold the plate in pose, on the branch
// of the neutral pose. For a plate of more than three legs these are the angles
// that strain no link. The error is a *LegError around a *linkage.ReachError for
// the first leg that does not reach, or an *InputError.
func (p *Plate) Arms(dst []units.Angle, pose Pose) error {
	if len(dst) != len(p.legs) {
		return &InputError{"dst", fmt.Sprintf("%d angles for %d legs", len(dst), len(p.legs))}
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
