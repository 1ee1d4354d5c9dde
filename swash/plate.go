package swash

import (
	"errors"
	"fmt"
	"math"

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

// InSeries returns the stiffness of parts that stand one behind the other, such as
// a link, its balls and the servo's mount.
func InSeries(parts ...units.Stiffness) units.Stiffness {
	var give units.Stiffness
	for _, k := range parts {
		give += 1 / k
	}
	return 1 / give
}

// PlateSpec describes a plate and its legs.
type PlateSpec struct {
	Legs   []LegSpec    // three or more, in the order of the servos
	Guide  Guide        // the anti-rotation pin; the zero Guide is none
	Height units.Length // about where the plate stands when all arms are at 0: the start of the branch
}

// leg is a checked LegSpec.
type leg struct {
	ball      r3.Vec // in the plate
	arm       linkage.Arm
	branch    linkage.Branch
	stiffness float64 // N/m; 0 where it is not known
	weight    float64 // root of the stiffness over the stiffest leg's; 1 where it is not known
}

// Plate is a checked PlateSpec. It is safe for use by several goroutines.
type Plate struct {
	legs    []leg
	guide   Guide
	size    float64 // mean distance of the balls from the plate's axis
	neutral Pose
	hold    float64 // determinant of the legs' hold at neutral
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
		p.legs[i] = leg{ball: b.vec(), arm: arm, stiffness: float64(s.Stiffness)}
		p.size += float64(b.Radius) / float64(len(spec.Legs))
	}
	if err := p.weigh(); err != nil {
		return nil, err
	}
	if err := p.settle(spec.Height); err != nil {
		return nil, err
	}
	return p, nil
}

// weigh gives each leg its weight in the least squares on strain.
func (p *Plate) weigh() error {
	var stiffest float64
	for i, l := range p.legs {
		if !(l.stiffness >= 0) || math.IsInf(l.stiffness, 0) || (l.stiffness == 0) != (p.legs[0].stiffness == 0) {
			return &SpecError{Leg: i, Field: "Stiffness", Reason: fmt.Sprintf("%v N/m; give one above zero for every leg, or 0 for all", l.stiffness)}
		}
		stiffest = math.Max(stiffest, l.stiffness)
	}
	for i := range p.legs {
		p.legs[i].weight = 1
		if stiffest > 0 {
			p.legs[i].weight = math.Sqrt(p.legs[i].stiffness / stiffest)
		}
	}
	return nil
}

// settle finds the neutral pose from a height near it, and from that the
// branch of each leg and the sense in which the legs hold the plate.
func (p *Plate) settle(height units.Length) error {
	var buf [inline]armBall
	balls := p.balls(buf[:0], make([]units.Angle, len(p.legs)))
	at, hold, err := p.newton(attitude{h: float64(height)}, balls)
	if err != nil {
		return err
	}
	p.neutral, p.hold = at.pose(p.guide), hold
	if !(math.Abs(hold) > singular) {
		return &SingularError{0}
	}
	t := newTilt(at.nx, at.ny, p.guide)
	for i := range p.legs {
		m := p.legs[i].margin(&t, at.h, balls[i])
		if !(math.Abs(m) > singular) {
			return &LegError{i, &DeadCentreError{m}}
		}
		p.legs[i].branch = linkage.Behind
		if m > 0 {
			p.legs[i].branch = linkage.Ahead
		}
	}
	return nil
}

// Servos implements Mechanism: there is one for each leg.
func (p *Plate) Servos() int { return len(p.legs) }

// Guide returns the plate's guide.
func (p *Plate) Guide() Guide { return p.guide }

// Neutral returns the pose with all arms at 0.
func (p *Plate) Neutral() Pose { return p.neutral }

// attitude is a pose in the solver's unknowns: the height, and the level parts
// of the normal.
type attitude struct{ h, nx, ny float64 }

func (a attitude) pose(g Guide) Pose {
	t := newTilt(a.nx, a.ny, g)
	return Pose{units.Length(a.h), t.lean()}
}

func (p Pose) attitude() attitude {
	nx, ny := p.Lean.normal()
	return attitude{float64(p.Height), nx, ny}
}

// Pose returns the plate's pose for the given arm angles, one for each leg: the
// pose continuous with the neutral one. Arms past a dead centre are refused
// with a *LegError around a *DeadCentreError, poses in which the legs lose hold
// of the plate with a *SingularError, arms for which there is no pose with a
// *NoPoseError, and NaN and infinities with an *InputError.
func (p *Plate) Pose(arms []units.Angle) (Pose, error) {
	if err := p.checkArms(arms); err != nil {
		return Pose{}, err
	}
	// More than three legs can have several poses of least strain: only
	// following tells which is the neutral one's.
	if len(p.legs) == 3 {
		if at, err := p.step(p.neutral.attitude(), arms); err == nil {
			return at.pose(p.guide), nil
		}
	}
	return p.follow(arms)
}

// nearby is how far from its guess PoseNear takes an answer for the right one, as
// the lean in rad and as the height over the plate's size.
const nearby = 0.1

// PoseNear is Pose with a guess of the answer, such as the pose a moment ago, which
// saves a step or two. The answer is the same: where the solver ends far from the
// guess, the guess is dropped. With more than three legs guesses are not used.
func (p *Plate) PoseNear(guess Pose, arms []units.Angle) (Pose, error) {
	if len(p.legs) == 3 && guess.possible() && p.checkArms(arms) == nil {
		from := guess.attitude()
		at, err := p.step(from, arms)
		if err == nil && math.Abs(at.h-from.h) < nearby*p.size && math.Hypot(at.nx-from.nx, at.ny-from.ny) < nearby {
			return at.pose(p.guide), nil
		}
	}
	return p.Pose(arms)
}

// step solves from one attitude to the arms, and sees that the answer lies on
// the neutral pose's branch.
func (p *Plate) step(from attitude, arms []units.Angle) (attitude, error) {
	var buf [inline]armBall
	balls := p.balls(buf[:0], arms)
	at, hold, err := p.newton(from, balls)
	if err != nil {
		return at, err
	}
	return at, p.sound(at, hold, balls)
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

// follow goes from neutral to arms in small steps, so that the pose found is
// on the neutral one's branch or the place where that branch ends is found.
func (p *Plate) follow(arms []units.Angle) (Pose, error) {
	const stride = 0.04 // rad
	var farthest float64
	for _, q := range arms {
		farthest = math.Max(farthest, math.Abs(float64(q)))
	}
	steps := int(math.Ceil(math.Min(farthest, 2*math.Pi)/stride)) + 1
	var buf [inline]units.Angle
	part := append(buf[:0], arms...)
	at := p.neutral.attitude()
	for k := 1; k <= steps; k++ {
		for i, q := range arms {
			part[i] = q * units.Angle(float64(k)/float64(steps))
		}
		var err error
		if at, err = p.step(at, part); err != nil {
			return Pose{}, err
		}
	}
	return at.pose(p.guide), nil
}

// armBall is an arm's ball and its derivative over the arm's angle.
type armBall struct{ at, slope r3.Vec }

// balls appends the legs' arm balls to dst.
func (p *Plate) balls(dst []armBall, arms []units.Angle) []armBall {
	for i := range p.legs {
		at, slope := p.legs[i].arm.Ball(arms[i])
		dst = append(dst, armBall{at.Vec(), slope.Vec()})
	}
	return dst
}

// newton solves for the least sum of squared strains, weighted by stiffness, which is none at all for
// three legs, by the Gauss-Newton iteration with the analytic Jacobian. It
// returns the determinant of the legs' hold on the plate too.
func (p *Plate) newton(at attitude, balls []armBall) (attitude, float64, error) {
	// Three legs converge quadratically: the error after a step is of the
	// order of its square. More than three, in conflict, converge linearly.
	small := 1e-8
	if len(p.legs) > 3 {
		small = 1e-14
	}
	last := math.Inf(1)
	for range maxSteps {
		n := p.normal(at, balls)
		step, det, ok := n.solve()
		if !ok {
			return at, 0, &SingularError{0}
		}
		at.h -= step.X * p.size
		at.nx -= step.Y
		at.ny -= step.Z
		if s2 := at.nx*at.nx + at.ny*at.ny; s2 > maxTilt*maxTilt {
			k := maxTilt / math.Sqrt(s2)
			at.nx, at.ny = at.nx*k, at.ny*k
		}
		size := math.Abs(step.X) + math.Abs(step.Y) + math.Abs(step.Z)
		if size < small || (size < 1e-12 && size >= last) {
			return at, p.holdOf(det), nil
		}
		last = size
	}
	return at, 0, p.misfit(at, balls)
}

// holdOf returns the determinant of the legs' hold on the plate from that of
// one step's equations, which for more than three legs are the normal ones.
func (p *Plate) holdOf(det float64) float64 {
	if len(p.legs) > 3 {
		return math.Sqrt(math.Max(det, 0))
	}
	return det
}

// system is three linear equations for a step of height (over the plate's
// size) and of the normal's level parts.
type system struct {
	a, b, c r3.Vec // rows
	rhs     r3.Vec
}

// solve uses Cramer's rule, by cross products of the rows. It returns the
// determinant too.
func (s *system) solve() (x r3.Vec, det float64, ok bool) {
	bc := r3.Cross(s.b, s.c)
	det = r3.Dot(s.a, bc)
	if !(math.Abs(det) > 1e-18) || math.IsInf(det, 0) {
		return r3.Vec{}, det, false
	}
	ca, ab := r3.Cross(s.c, s.a), r3.Cross(s.a, s.b)
	k := s.rhs
	return r3.Scale(1/det, r3.Vec{
		X: k.X*bc.X + k.Y*ca.X + k.Z*ab.X,
		Y: k.X*bc.Y + k.Y*ca.Y + k.Z*ab.Y,
		Z: k.X*bc.Z + k.Y*ca.Z + k.Z*ab.Z,
	}), det, true
}

// strain returns one leg's strain and its gradient over the unknowns, all over
// the plate's size so that they are numbers near 1.
func (p *Plate) strain(l *leg, t *tilt, h float64, ball r3.Vec) (e float64, row r3.Vec) {
	at, dx, dy := t.slopes(l.ball)
	at.Z += h
	d := r3.Sub(ball, at)
	length := math.Sqrt(r3.Norm2(d))
	k := -1 / (length * p.size)
	e = (length - float64(l.arm.Link())) / p.size
	return e, r3.Vec{X: -d.Z / length, Y: k * r3.Dot(d, dx), Z: k * r3.Dot(d, dy)}
}

// normal returns the equations of one step: the strains themselves for three
// legs, the normal equations for more.
func (p *Plate) normal(at attitude, balls []armBall) system {
	t := newTilt(at.nx, at.ny, p.guide)
	var s system
	if len(p.legs) == 3 {
		s.rhs.X, s.a = p.strain(&p.legs[0], &t, at.h, balls[0].at)
		s.rhs.Y, s.b = p.strain(&p.legs[1], &t, at.h, balls[1].at)
		s.rhs.Z, s.c = p.strain(&p.legs[2], &t, at.h, balls[2].at)
		return s
	}
	for i := range p.legs {
		l := &p.legs[i]
		e, row := p.strain(l, &t, at.h, balls[i].at)
		row = r3.Scale(l.weight, row)
		s.addSquare(row)
		s.rhs = r3.Add(s.rhs, r3.Scale(l.weight*e, row))
	}
	return s
}

// addSquare adds a row's part of the normal equations.
func (s *system) addSquare(row r3.Vec) {
	s.a = r3.Add(s.a, r3.Scale(row.X, row))
	s.b = r3.Add(s.b, r3.Scale(row.Y, row))
	s.c = r3.Add(s.c, r3.Scale(row.Z, row))
}

// margin returns the lever of the link about the shaft over the arm's radius: 0
// is a dead centre, and its sign is that of the leg's branch.
func (l *leg) margin(t *tilt, h float64, ball armBall) float64 {
	at := t.carry(l.ball)
	at.Z += h
	d := r3.Sub(ball.at, at)
	return r3.Dot(d, ball.slope) / (math.Sqrt(r3.Norm2(d)) * float64(l.arm.Radius()))
}

// sound reports whether a pose lies on the neutral one's branch.
func (p *Plate) sound(at attitude, hold float64, balls []armBall) error {
	if m := hold / p.hold; !(m > singular) {
		return &SingularError{m}
	}
	t := newTilt(at.nx, at.ny, p.guide)
	for i := range p.legs {
		l := &p.legs[i]
		if m := l.margin(&t, at.h, balls[i]) * float64(l.branch); !(m > singular) {
			return &LegError{i, &DeadCentreError{m}}
		}
	}
	return nil
}

// held reports whether the legs hold the plate in a pose that their arms reach.
func (p *Plate) held(pose Pose, arms []units.Angle) error {
	var buf [inline]armBall
	balls := p.balls(buf[:0], arms)
	at := pose.attitude()
	s := p.normal(at, balls)
	return p.sound(at, p.holdOf(r3.Dot(s.a, r3.Cross(s.b, s.c))), balls)
}

// misfit reports the leg that fits worst.
func (p *Plate) misfit(at attitude, balls []armBall) error {
	t := newTilt(at.nx, at.ny, p.guide)
	worst := &NoPoseError{}
	for i := range p.legs {
		e, _ := p.strain(&p.legs[i], &t, at.h, balls[i].at)
		if m := units.Length(e * p.size); math.Abs(float64(m)) >= math.Abs(float64(worst.Misfit)) {
			worst.Leg, worst.Misfit = i, m
		}
	}
	return worst
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
		q, err := l.arm.AngleTo(f.point(f.tilt.carry(l.ball)), l.branch)
		if err != nil {
			return &LegError{i, err}
		}
		dst[i] = q
	}
	return nil
}

// Fight is what links in conflict do to one servo.
type Fight struct {
	Strain units.Length // of the link: above 0 stretched
	Force  units.Force  // along the link: above 0 pulls its ends together
	Torque units.Torque // at the servo's arm that the force asks for, in the sense of positive arm angles
}

// Fights puts into dst how much the servos fight in a pose with the given arms:
// with three legs, and with more that agree, not at all. Forces and torques are
// nothing where the legs' stiffness is not known. The error is an *InputError.
func (p *Plate) Fights(dst []Fight, pose Pose, arms []units.Angle) error {
	if err := p.checkArms(arms); err != nil {
		return err
	}
	if len(dst) != len(p.legs) {
		return &InputError{"dst", fmt.Sprintf("%d fights for %d legs", len(dst), len(p.legs))}
	}
	if err := pose.Validate(); err != nil {
		return err
	}
	f := pose.Frame(p.guide)
	for i := range p.legs {
		l := &p.legs[i]
		at := f.point(f.tilt.carry(l.ball))
		s := l.arm.Stance(arms[i], at)
		ball, _ := l.arm.Ball(arms[i])
		strain := r3.Norm(r3.Sub(ball.Vec(), at.Vec())) - float64(l.arm.Link())
		force := strain * l.stiffness
		dst[i] = Fight{units.Length(strain), units.Force(force), units.Torque(force * float64(s.Lever))}
	}
	return nil
}
