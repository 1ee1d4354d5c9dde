package linkage

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

// LineSpec describes an arm whose link moves a ball along a straight line.
type LineSpec struct {
	Arm   ArmSpec
	Ball  Point     // on the line: outputs count from there
	Along Direction // of the line; outputs are positive this way
	// Side tells which of the two places that the link reaches is meant: Ahead
	// of the arm's ball along the line, or Behind it. The zero value is the one
	// nearer to Ball at neutral.
	Side Branch
}

// ArmToLine is an arm whose link moves a ball along a straight line: a
// slider-crank, in a plane or in space. A swashplate's ball under collective is one.
// It implements Linkage: an angle goes in, a length comes out.
type ArmToLine struct{ closure }

// NewArmToLine returns the linkage that spec describes. The error is a *units.FieldError, also where
// the link does not fit at neutral, or stands there at a dead centre.
func NewArmToLine(spec LineSpec) (*ArmToLine, error) {
	arm, err := NewArm(spec.Arm)
	if err != nil {
		return nil, units.In("Arm", "", err)
	}
	return newArmToLine(arm, spec.Ball, spec.Along, spec.Side)
}

// LineOf returns an arm already built as an ArmToLine: its link moves a ball, drawn
// at ball, along a straight line. The error is that of NewArmToLine.
func LineOf(arm Arm, ball Point, along Direction) (*ArmToLine, error) {
	return newArmToLine(arm, ball, along, 0)
}

func newArmToLine(arm Arm, ball Point, along Direction, side Branch) (*ArmToLine, error) {
	if at := ball.notFinite(); at != "" {
		return nil, words.Refuse("Ball"+at, "must be a finite position, not %v m", ball.Vec())
	}
	unit, ok := along.unit()
	if !ok {
		return nil, words.Refuse("Along"+along.notFinite(), "must be finite and not all zero, not %v", along)
	}
	l := line{from: ball.Vec(), along: unit, link: arm.link, side: side}
	switch side {
	case Ahead, Behind:
	case 0:
		l.side = l.nearer(arm)
	default:
		return nil, words.Refuse("Side", "must be Ahead, Behind or 0, not %d", side)
	}
	c, err := newClosure(arm, &l, Length)
	if err != nil {
		return nil, units.In("Arm", "", err)
	}
	return &ArmToLine{c}, nil
}

// SliderCrank describes a slider-crank in a plane: the crank turns about the
// origin from an angle against the slider's direction, and the slider moves on a
// line that passes the shaft at an offset. Inputs count from neutral, outputs from
// the shaft's own place along the line; the slider is ahead of the crank.
func SliderCrank(crank, rod, offset units.Length, neutral units.Angle) LineSpec {
	sin, cos := math.Sincos(float64(neutral))
	return LineSpec{
		Arm: ArmSpec{
			Axis:    Direction{Z: 1},
			Neutral: Direction{X: cos, Y: sin},
			Radius:  crank,
			Link:    rod,
		},
		Ball:  Point{Y: offset},
		Along: Direction{X: 1},
		Side:  Ahead,
	}
}

// line is a follower on a straight line.
type line struct {
	from, along r3.Vec
	link        float64
	side        Branch
}

// nearer returns the side on which the output at neutral is nearer to 0.
func (l line) nearer(arm Arm) Branch {
	at, _ := arm.Ball(0)
	l.side = Ahead
	ahead, _ := l.follow(at.Vec())
	l.side = Behind
	if behind, _ := l.follow(at.Vec()); math.Abs(behind) < math.Abs(ahead) {
		return Behind
	}
	return Ahead
}

func (l *line) follow(from r3.Vec) (float64, bool) {
	d := r3.Sub(from, l.from)
	y := r3.Dot(d, l.along)
	across := r3.Norm2(r3.Sub(d, r3.Scale(y, l.along)))
	rest := l.link*l.link - across
	if !(rest >= 0) {
		return 0, false
	}
	return y + float64(l.side)*math.Sqrt(rest), true
}

func (l *line) miss(from r3.Vec) error {
	d := r3.Sub(from, l.from)
	return &ReachError{units.Length(r3.Norm(r3.Sub(d, r3.Scale(r3.Dot(d, l.along), l.along))) - l.link)}
}

func (l *line) ball(out float64) (at, slope r3.Vec, square float64) {
	return r3.Add(l.from, r3.Scale(out, l.along)), l.along, 1
}
