package linkage

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// ArmSpec describes an arm on a shaft and the link on its ball.
type ArmSpec struct {
	Shaft   Point        // a point on the shaft axis, in the plane of the ball
	Axis    Direction    // shaft axis; positive arm angles turn about it right-handed
	Neutral Direction    // direction of the arm at angle 0, square to Axis
	Radius  units.Length // from the shaft axis to the arm's ball, above 0
	Link    units.Length // between the link's ball centres, above 0
}

// squareTolerance is how far the neutral direction can be from square to the
// shaft axis, in radians: more is a mistake in the description, less is the
// rounding of its numbers and is taken out.
const squareTolerance = 1e-6

// Arm is a checked ArmSpec. It is a value: copying it is safe and cheap.
type Arm struct {
	shaft, neutral, square r3.Vec // square is Axis x Neutral: the arm at +90°
	radius, link           float64
}

// NewArm returns the arm that spec describes. The error is a *units.FieldError.
func NewArm(spec ArmSpec) (Arm, error) {
	if at := spec.Shaft.notFinite(); at != "" {
		return Arm{}, words.Refuse("Shaft"+at, "must be a finite position, not %v m", spec.Shaft.Vec())
	}
	for _, l := range []struct {
		field string
		value units.Length
	}{{"Radius", spec.Radius}, {"Link", spec.Link}} {
		if !(l.value > 0) || !units.Finite(l.value) {
			return Arm{}, words.Refuse(l.field, "must be more than 0 mm, not %v", l.value)
		}
	}
	axis, ok := spec.Axis.unit()
	if !ok {
		return Arm{}, words.Refuse("Axis"+spec.Axis.notFinite(), "must be finite and not all zero, not %v", spec.Axis)
	}
	neutral, ok := spec.Neutral.unit()
	if !ok {
		return Arm{}, words.Refuse("Neutral"+spec.Neutral.notFinite(), "must be finite and not all zero, not %v", spec.Neutral)
	}
	if off := math.Asin(r3.Dot(axis, neutral)); math.Abs(off) > squareTolerance {
		return Arm{}, words.Refuse("Neutral", "must be square to Axis; it is %.4g° off", math.Abs(units.Angle(off).Degrees()))
	}
	neutral = r3.Unit(r3.Sub(neutral, r3.Scale(r3.Dot(axis, neutral), axis)))
	return Arm{
		shaft:   spec.Shaft.Vec(),
		neutral: neutral,
		square:  r3.Cross(axis, neutral),
		radius:  float64(spec.Radius),
		link:    float64(spec.Link),
	}, nil
}

// Shaft returns the point on the shaft axis in the plane of the arm's ball.
func (a *Arm) Shaft() Point { return PointOf(a.shaft) }

// Axis returns the shaft axis at length 1, about which positive arm angles turn
// right-handed.
func (a *Arm) Axis() Direction {
	u := r3.Cross(a.neutral, a.square)
	return Direction{u.X, u.Y, u.Z}
}

// Radius returns the distance from the shaft axis to the arm's ball.
func (a *Arm) Radius() units.Length { return units.Length(a.radius) }

// Link returns the length of the link between its ball centres.
func (a *Arm) Link() units.Length { return units.Length(a.link) }

// Ball returns where the arm's ball is at angle q, and its derivative, in
// metres per radian of arm angle. A NaN or infinite q gives NaN.
func (a *Arm) Ball(q units.Angle) (at, slope Point) {
	sin, cos := math.Sincos(float64(q))
	along, across := a.radius*cos, a.radius*sin
	n, s := &a.neutral, &a.square
	at = PointOf(r3.Vec{
		X: a.shaft.X + along*n.X + across*s.X,
		Y: a.shaft.Y + along*n.Y + across*s.Y,
		Z: a.shaft.Z + along*n.Z + across*s.Z,
	})
	slope = PointOf(r3.Vec{X: along*s.X - across*n.X, Y: along*s.Y - across*n.Y, Z: along*s.Z - across*n.Z})
	return at, slope
}

// Branch tells which of the two angles that reach a ball an arm uses. It
// changes only at a dead centre, where the two meet.
type Branch int8

// The branches, named by the side of the line from the shaft to the target on
// which the arm lies: behind it or ahead of it in the sense of positive angles.
// The lever of an arm has the sign of its branch.
const (
	Behind Branch = -1
	Ahead  Branch = 1
)

// AngleTo returns the arm angle, from -180° to 180°, at which the link just
// spans to target. The error is a *ReachError, which says by how much the link is too short
// or too long at any angle.
func (a *Arm) AngleTo(target Point, branch Branch) (units.Angle, error) {
	d := r3.Sub(target.Vec(), a.shaft)
	p, s := r3.Dot(d, a.neutral), r3.Dot(d, a.square)
	c := (a.radius*a.radius + r3.Norm2(d) - a.link*a.link) / (2 * a.radius)
	// p cos q + s sin q = c. The angle between the arm and the line to the
	// target comes from its sine and cosine, not from acos, which would lose
	// half of the digits near a dead centre.
	sine2 := p*p + s*s - c*c
	if !(sine2 >= 0) {
		return 0, a.reachError(d)
	}
	q := math.Atan2(s, p) + float64(branch)*math.Atan2(math.Sqrt(sine2), c)
	return Wrap(units.Angle(q)), nil
}

// Wrap returns the angle from -180° to 180° that differs from a by whole turns.
func Wrap(a units.Angle) units.Angle {
	if a >= -math.Pi && a <= math.Pi {
		return a // spares a slow remainder
	}
	return units.Angle(math.Remainder(float64(a), 2*math.Pi))
}

// reachError measures by how much the link misses a target at d from the shaft.
func (a *Arm) reachError(d r3.Vec) error {
	inPlane := math.Hypot(r3.Dot(d, a.neutral), r3.Dot(d, a.square))
	offPlane := r3.Dot(d, r3.Cross(a.neutral, a.square))
	gap := math.Hypot(inPlane-a.radius, offPlane) - a.link
	if gap < 0 {
		gap = math.Hypot(inPlane+a.radius, offPlane) - a.link
	}
	return &ReachError{Gap: units.Length(gap)}
}

// Stance is how an arm stands to its link.
type Stance struct {
	Along Direction    // direction of the link, from its far ball to the arm's, at length 1
	Lever units.Length // of the link about the shaft: torque over force; its sign is that of the branch
	// Spoke is the cosine of the angle between the arm, from shaft to ball, and Along:
	// 0 is square, and it is positive where a longer arm would stretch the link.
	Spoke float64
	// OffSquare is the angle by which the arm has turned past square to the
	// link, seen along the shaft: positive where a smaller arm angle would be
	// square.
	OffSquare units.Angle
	// BallLinkAngle is the angle by which the link tilts out of the plane in which the
	// arm turns, 0 to 90°: what the ball link on the arm must allow.
	BallLinkAngle units.Angle
}

// Stance returns how the arm at angle q stands to a link that ends at target, whatever the
// length of the Link in the spec.
func (a *Arm) Stance(q units.Angle, target Point) Stance {
	at, slope := a.Ball(q)
	s := a.stance(at, slope, target.Vec())
	a.angles(&s)
	return s
}

// stance is Stance without its angles, for the arm's ball and its slope.
func (a *Arm) stance(at, slope Point, target r3.Vec) Stance {
	w := r3.Unit(r3.Sub(at.Vec(), target))
	return Stance{
		Along: Direction(w),
		Lever: units.Length(r3.Dot(w, slope.Vec())),
		Spoke: r3.Dot(w, r3.Sub(at.Vec(), a.shaft)) / a.radius,
	}
}

// angles puts the angles into what stance returned.
func (a *Arm) angles(s *Stance) {
	spoke, lever := s.Spoke, float64(s.Lever)
	s.OffSquare = units.Angle(math.Atan2(math.Copysign(spoke, spoke*lever), math.Abs(lever)/a.radius))
	out := r3.Dot(r3.Vec(s.Along), r3.Cross(a.neutral, a.square))
	s.BallLinkAngle = units.Angle(math.Asin(math.Min(1, math.Abs(out))))
}

// Margin returns the lever of the link over the arm's radius, as an amount: what is left of
// the arm. 0 is a dead centre. It is the sine of the angle between arm and link, seen along
// the shaft, times the cosine of BallLinkAngle. So it is 1 only for a square arm whose link
// lies in the plane in which the arm turns: 0.94 where a square arm's link is 20° out of it.
func (s Stance) Margin(radius units.Length) float64 { return math.Abs(float64(s.Lever / radius)) }
