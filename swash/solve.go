package swash

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

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

// newton solves for the least sum of squared strains, weighted by stiffness,
// which is none at all for three legs, by the Gauss-Newton iteration with the
// analytic Jacobian. It returns the determinant of the legs' hold on the plate too.
func (p *Plate) newton(at attitude, balls []armBall) (attitude, float64, error) {
	// Three legs converge quadratically: the error after a step is of the
	// order of its square. More than three, in conflict, converge linearly, by
	// about the strain over the link's length each step, and only to a place of
	// least strain: elsewhere the iteration leads away.
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
