package swash

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// attitude is a pose in the solver's unknowns, in the guide's own frame: y points
// along its bearing, x a right angle clockwise from there. Without a guide that is the
// machine's frame.
type attitude struct {
	h float64
	// Without a guide x and y are the level parts of the normal. With one x is that
	// part too, and y is the sine of p's angle below the level: so the stand needs no
	// more than two roots.
	//
	//	p = (0, w, -y),  q = (m, -x y, -x w),  n = (x, m y, m w),  m² = 1 - x², w² = 1 - y²
	x, y float64
}

// pose returns the attitude as a pose.
func (p *Plate) pose(a attitude) Pose {
	n := r3.Vec{X: a.x}
	if p.guide.Fitted() {
		m := math.Sqrt(1 - a.x*a.x)
		n.Y, n.Z = m*a.y, m*math.Sqrt(1-a.y*a.y)
	} else {
		n.Y, n.Z = a.y, math.Sqrt(1-a.x*a.x-a.y*a.y)
	}
	return Pose{units.Length(a.h), tilt(p.guide.Outward(n))}
}

func (p *Plate) attitude(at Pose) attitude {
	n := p.guide.Inward(at.Tilt.normal())
	if p.guide.Fitted() {
		n.Y /= math.Sqrt(1 - n.X*n.X)
	}
	return attitude{float64(at.Height), n.X, n.Y}
}

// less returns the attitude minus a step, whose height counts in sizes, and keeps
// the sine of the tilt at most steepestStep.
func (a attitude) less(step r3.Vec, size float64) attitude {
	a.h -= step.X * size
	a.x -= step.Y
	a.y -= step.Z
	if s2 := a.x*a.x + a.y*a.y; s2 > steepestStep*steepestStep {
		k := steepestStep / math.Sqrt(s2)
		a.x, a.y = a.x*k, a.y*k
	}
	return a
}

// step solves from one attitude to the arms, and sees that the answer lies on the
// neutral pose's branch, if the attitude it starts from does: see near.
func (p *Plate) step(from attitude, arms []units.Angle, to accuracy) (attitude, error) {
	var buf [inline]armBall
	return p.solve(from, p.balls(buf[:0], arms), to)
}

// accuracy is how well Gauss and Newton's iteration finds an attitude: it ends with the
// first step, in rad and in the plate's sizes, below that.
type accuracy float64

const (
	exact accuracy = 1e-14
	rough accuracy = 1e-3 // on the way elsewhere: what is left is of the order of its square, or of its product with the links' strain
)

// solve finds where the legs let the plate stand, or with more than three where it
// has the least sum of squared strains, weighted by stiffness. It refuses what lies
// too far from the attitude it starts from to be surely the nearest, and what the legs
// do not hold.
func (p *Plate) solve(from attitude, balls []armBall, to accuracy) (attitude, error) {
	var v view
	at, hold, err := p.iterate(&v, from, balls, near, to)
	switch {
	case err != nil:
		return at, err
	case v.N.Z < steepest:
		return at, &TiltError{tilt(v.N).Amount()}
	}
	return at, p.sound(&v, hold, balls)
}

// steepest is the cosine of maxTilt.
var steepest = math.Cos(float64(maxTilt))

// iterate is solve without the look at the branch, and starts within so far of the
// answer. It leaves v at the answer, and returns the determinant of the legs' hold on
// the plate too.
func (p *Plate) iterate(v *view, from attitude, balls []armBall, within float64, to accuracy) (at attitude, hold float64, err error) {
	if len(p.legs) == 3 {
		return p.newton(v, from, balls, within)
	}
	return p.gaussNewton(v, from, balls, within, to)
}

// near is how large Newton's first step may be, as a part of the distance over which
// the equations bend by as much as they slope. By Kantorovich's theorem (1948), from
// memory, below a half there is one answer near, and only one.
const near = 0.5

// errFar tells follow that an answer lies too far away for a step.
var errFar = errors.New("too far for one step")

// bending bounds the second derivative of an excess over an attitude's unknowns. It is
// about 2 at neutral, and below 8 for a tilt up to maxTilt and balls up to half as far
// again from the axis as the mean.
const bending = 8

// follow goes from neutral to arms in steps short enough to tell the neutral pose's
// branch from others, so that the pose found is on it or the place where that branch
// ends is found.
func (p *Plate) follow(arms []units.Angle) (Pose, error) {
	const (
		longest  = 0.06 // rad: few need a shorter one
		shortest = 1e-5 // rad
	)
	var farthest float64
	for _, q := range arms {
		farthest = math.Max(farthest, math.Abs(float64(q)))
	}
	var buf [inline]units.Angle
	part := append(buf[:0], arms...)
	var ballBuf [inline]armBall
	balls := ballBuf[:0]
	var v view
	at := p.attitude(p.neutral)
	stride := longest / math.Max(longest, farthest) // as a part of the way
	for done := 0.0; done < 1; {
		next := math.Min(1, done+stride)
		for i, q := range arms {
			part[i] = q * units.Angle(next)
		}
		to := rough
		if next == 1 {
			to = exact
		}
		there, err := p.step(at, part, to)
		switch {
		case err == nil:
			at, done, stride = there, next, math.Min(2*stride, longest/farthest)
		case stride*farthest < shortest && err == errFar:
			balls := p.balls(balls[:0], part)
			v.set(p, at)
			return Pose{}, &SingularError{p.holdIn(&v, balls) / p.hold}
		case stride*farthest < shortest:
			return Pose{}, err
		default:
			stride /= 2
		}
	}
	return p.pose(at), nil
}

// armBall is an arm's ball and its derivative over the arm's angle, in the guide's
// frame, and the angle's sine.
type armBall struct {
	at, slope r3.Vec
	sin       float64
}

// balls appends the legs' arm balls to dst.
func (p *Plate) balls(dst []armBall, arms []units.Angle) []armBall {
	for i := range p.legs {
		l := &p.legs[i]
		sin, cos := math.Sincos(float64(arms[i]))
		o, u := &l.out, &l.up
		dst = append(dst, armBall{
			r3.Vec{X: l.shaft.X + cos*o.X + sin*u.X, Y: l.shaft.Y + cos*o.Y + sin*u.Y, Z: l.shaft.Z + cos*o.Z + sin*u.Z},
			r3.Vec{X: cos*u.X - sin*o.X, Y: cos*u.Y - sin*o.Y, Z: cos*u.Z - sin*o.Z},
			sin,
		})
	}
	return dst
}

// view is what the solver looks at in an attitude: the plate's stand in the guide's
// frame, and how it turns with the attitude's x and y.
type view struct {
	h float64
	stand
	perX, perY r3.Vec
	m, w       float64 // as in attitude, with a guide
}

// move puts v at an attitude, but for how it turns there.
func (v *view) move(p *Plate, at attitude) {
	v.h = at.h
	if !p.guide.Fitted() {
		p.guide.Set(&v.stand, at.x, at.y)
		return
	}
	m, w := math.Sqrt(1-at.x*at.x), math.Sqrt(1-at.y*at.y)
	v.m, v.w = m, w
	v.P = r3.Vec{Y: w, Z: -at.y}
	v.Q = r3.Vec{X: m, Y: -at.x * at.y, Z: -at.x * w}
	v.N = r3.Vec{X: at.x, Y: m * at.y, Z: m * w}
}

// set puts v at an attitude.
func (v *view) set(p *Plate, at attitude) {
	v.move(p, at)
	if !p.guide.Fitted() {
		v.perX, v.perY = v.Turn(r3.Vec{X: 1}), v.Turn(r3.Vec{Y: 1})
		return
	}
	k := 1 / v.m
	v.perX = r3.Vec{Y: k * v.P.Y, Z: k * v.P.Z} // about p
	v.perY = r3.Vec{X: -1 / v.w}                // about the guide's plane's normal
}

// span returns the vector from a leg's arm ball to its plate ball, and where that ball
// is from the plate's centre.
func (l *leg) span(v *view, ball r3.Vec) (d, at r3.Vec) {
	at = v.Carry(l.ball)
	return r3.Vec{X: at.X - ball.X, Y: at.Y - ball.Y, Z: at.Z + v.h - ball.Z}, at
}

// row returns the work that pull, at the plate's ball at, does over the unknowns: over
// the height in the plate's sizes, and over the attitude's x and y.
func (p *Plate) row(v *view, at, pull r3.Vec) r3.Vec {
	moment := r3.Cross(at, pull)
	return r3.Vec{X: p.size * pull.Z, Y: r3.Dot(moment, v.perX), Z: r3.Dot(moment, v.perY)}
}

// excess returns by how much half the square of a leg's span is more than half that
// of its link, over link and size, so that it is a number near 1.
func (l *leg) excess(d r3.Vec) float64 { return 0.5 * l.scale * (r3.Norm2(d) - l.link2) }

// newton solves three legs by Newton's iteration on their excess, with the analytic
// Jacobian.
func (p *Plate) newton(v *view, at attitude, balls []armBall, within float64) (attitude, float64, error) {
	const (
		small  = 1e-3  // a step from which on its Jacobian serves the next ones, too
		enough = 1e-13 // of an error, in rad and in the plate's sizes
	)
	var s system
	var inv inverse
	for k := range maxSteps {
		v.set(p, at)
		p.three(&s, v, balls)
		det := s.invert(&inv)
		if det == 0 {
			return at, 0, &SingularError{0}
		}
		step := inv.times(s.rhs)
		at = at.less(step, p.size)
		size := amount(step)
		bend := bending * inv.most() * size
		if k == 0 && !(bend <= within) {
			return at, 0, errFar
		}
		if 0.5*bend*size < enough { // of the error left
			return at, det, nil
		}
		// A further step with the old Jacobian leaves about the ratio of the two of its
		// own size, or twice that for the first.
		for chords := 0; size < small && chords < 2; chords++ {
			v.move(p, at)
			step = inv.times(p.excesses(v, balls))
			at = at.less(step, p.size)
			last := size
			if size = amount(step); 2*size*size < enough*last {
				return at, det, nil
			}
		}
	}
	return at, 0, p.misfit(at, balls)
}

// amount returns the sum of the amounts of a step's parts.
func amount(step r3.Vec) float64 { return math.Abs(step.X) + math.Abs(step.Y) + math.Abs(step.Z) }

// excesses returns the excess of each of three legs.
func (p *Plate) excesses(v *view, balls []armBall) r3.Vec {
	a, _ := p.legs[0].span(v, balls[0].at)
	b, _ := p.legs[1].span(v, balls[1].at)
	c, _ := p.legs[2].span(v, balls[2].at)
	return r3.Vec{X: p.legs[0].excess(a), Y: p.legs[1].excess(b), Z: p.legs[2].excess(c)}
}

// three puts into s the equations of one step for three legs.
func (p *Plate) three(s *system, v *view, balls []armBall) {
	s.rhs.X = p.equation(&s.a, &p.legs[0], v, balls[0].at)
	s.rhs.Y = p.equation(&s.b, &p.legs[1], v, balls[1].at)
	s.rhs.Z = p.equation(&s.c, &p.legs[2], v, balls[2].at)
}

func (p *Plate) equation(row *r3.Vec, l *leg, v *view, ball r3.Vec) (excess float64) {
	b := &l.ball
	atX := b.X*v.P.X + b.Y*v.Q.X + b.Z*v.N.X
	atY := b.X*v.P.Y + b.Y*v.Q.Y + b.Z*v.N.Y
	atZ := b.X*v.P.Z + b.Y*v.Q.Z + b.Z*v.N.Z
	dx, dy, dz := atX-ball.X, atY-ball.Y, atZ+v.h-ball.Z
	excess = 0.5 * l.scale * (dx*dx + dy*dy + dz*dz - l.link2)
	dx, dy, dz = l.scale*dx, l.scale*dy, l.scale*dz
	mx, my, mz := atY*dz-atZ*dy, atZ*dx-atX*dz, atX*dy-atY*dx
	row.X = p.size * dz
	row.Y = mx*v.perX.X + my*v.perX.Y + mz*v.perX.Z
	row.Z = mx*v.perY.X + my*v.perY.Y + mz*v.perY.Z
	return excess
}

// gaussNewton solves more than three legs by the Gauss-Newton iteration with the
// analytic Jacobian.
func (p *Plate) gaussNewton(v *view, at attitude, balls []armBall, within float64, to accuracy) (attitude, float64, error) {
	// In conflict they converge linearly, by about the strain over the link's
	// length each step, and only to a place of least strain: elsewhere the
	// iteration leads away.
	last := math.Inf(1)
	var inv inverse
	for k := range maxSteps {
		v.set(p, at)
		n := p.normal(v, balls)
		det := n.invert(&inv)
		if det == 0 {
			return at, 0, &SingularError{0}
		}
		step := inv.times(n.rhs)
		at = at.less(step, p.size)
		size := amount(step)
		if k == 0 && !(bending*math.Sqrt(inv.most())*size <= within) {
			return at, 0, errFar
		}
		if size < float64(to) || (size < 1e-12 && size >= last) {
			return at, holdOfSquares(det), nil
		}
		last = size
	}
	return at, 0, p.misfit(at, balls)
}

// holdOfSquares returns the determinant of the legs' hold from that of the normal
// equations.
func holdOfSquares(det float64) float64 { return math.Sqrt(max(det, 0)) }

// system is three linear equations for a step of height (over the plate's
// size) and of the attitude's x and y.
type system struct {
	a, b, c r3.Vec // rows
	rhs     r3.Vec
}

// det returns the determinant.
func (s *system) det() float64 { return r3.Dot(s.a, r3.Cross(s.b, s.c)) }

// solve returns the solution and the determinant.
func (s *system) solve() (x r3.Vec, det float64, ok bool) {
	var inv inverse
	det = s.invert(&inv)
	return inv.times(s.rhs), det, det != 0
}

// inverse is the columns of the inverse of a system's matrix.
type inverse [3]r3.Vec

// invert uses Cramer's rule, by cross products of the rows. It returns the
// determinant, and 0 where that is lost in rounding or no number.
func (s *system) invert(inv *inverse) (det float64) {
	bc := r3.Cross(s.b, s.c)
	det = r3.Dot(s.a, bc)
	if !(math.Abs(det) > 1e-18) || math.IsInf(det, 0) {
		return 0
	}
	k := 1 / det
	inv[0], inv[1], inv[2] = r3.Scale(k, bc), r3.Scale(k, r3.Cross(s.c, s.a)), r3.Scale(k, r3.Cross(s.a, s.b))
	return det
}

// most returns a bound of the amount that it makes of three numbers up to 1.
func (v *inverse) most() float64 { return amount(v[0]) + amount(v[1]) + amount(v[2]) }

func (v *inverse) times(k r3.Vec) r3.Vec {
	return r3.Vec{
		X: k.X*v[0].X + k.Y*v[1].X + k.Z*v[2].X,
		Y: k.X*v[0].Y + k.Y*v[1].Y + k.Z*v[2].Y,
		Z: k.X*v[0].Z + k.Y*v[1].Z + k.Z*v[2].Z,
	}
}

// strain returns one leg's strain and its gradient over the unknowns, all over
// the plate's size so that they are numbers near 1.
func (p *Plate) strain(l *leg, v *view, ball r3.Vec) (e float64, row r3.Vec) {
	d, at := l.span(v, ball)
	length := math.Sqrt(r3.Norm2(d))
	return (length - float64(l.arm.Link())) / p.size, p.row(v, at, r3.Scale(1/(length*p.size), d))
}

// normal returns the normal equations of one step for the strains.
func (p *Plate) normal(v *view, balls []armBall) (s system) {
	for i := range p.legs {
		l := &p.legs[i]
		e, row := p.strain(l, v, balls[i].at)
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
func (l *leg) margin(v *view, ball *armBall) float64 {
	d, _ := l.span(v, ball.at)
	return l.moment(v, ball) / (r3.Norm(d) * float64(l.arm.Radius()))
}

// moment returns the moment about the shaft of the link's span.
func (l *leg) moment(v *view, ball *armBall) float64 {
	d, _ := l.span(v, ball.at)
	return -r3.Dot(d, ball.slope)
}

// sound reports whether the legs hold a pose, none at its dead centre.
func (p *Plate) sound(v *view, hold float64, balls []armBall) error {
	if m := hold / p.hold; !(m > singular) {
		return &SingularError{m}
	}
	for i := range p.legs {
		l := &p.legs[i]
		if !(l.moment(v, &balls[i])*float64(l.branch) > singular*l.square) {
			return &LegError{i, &DeadCentreError{l.margin(v, &balls[i]) * float64(l.branch)}}
		}
	}
	return nil
}

// held reports whether the legs hold the plate in a pose that their arms reach.
func (p *Plate) held(pose Pose, arms []units.Angle) error {
	_, err := p.margin(pose, arms)
	return err
}

// margin is held with the legs' hold on the plate, as a part of that at neutral.
func (p *Plate) margin(pose Pose, arms []units.Angle) (float64, error) {
	var buf [inline]armBall
	balls := p.balls(buf[:0], arms)
	var v view
	v.set(p, p.attitude(pose))
	hold := p.holdIn(&v, balls)
	return hold / p.hold, p.sound(&v, hold, balls)
}

// holds implements holder.
func (p *Plate) holds(pose Pose, arms []units.Angle) error {
	// No link is strained, so that strains take nothing from a good hold.
	const good = 1e3 * singular
	margin, err := p.margin(pose, arms)
	if err != nil || margin > good || len(p.legs) == 3 {
		return err
	}
	_, _, _, err = p.effectSystem(nil, pose, arms)
	return err
}

// holdIn returns the determinant of the legs' hold on the plate.
func (p *Plate) holdIn(v *view, balls []armBall) float64 {
	var s system
	if len(p.legs) == 3 {
		p.three(&s, v, balls)
		return s.det()
	}
	s = p.normal(v, balls)
	return holdOfSquares(s.det())
}

// misfit reports the leg that fits worst.
func (p *Plate) misfit(at attitude, balls []armBall) error {
	var v view
	v.move(p, at)
	worst := &NoPoseError{}
	for i := range p.legs {
		l := &p.legs[i]
		d, _ := l.span(&v, balls[i].at)
		m := units.Length(r3.Norm(d)) - l.arm.Link()
		if math.Abs(float64(m)) >= math.Abs(float64(worst.Misfit)) {
			worst.Leg, worst.Misfit = i, m
		}
	}
	return worst
}
