package swash

import (
	"math"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// Layout is where the balls of the servo links sit on a swashplate, in the order of the
// servos.
type Layout []Ball

// ThreeAt120 returns three balls evenly spaced, the first at bearing first and
// the others clockwise from there.
func ThreeAt120(first units.Angle, radius units.Length) Layout {
	return spread(first, radius, 0, 120, 240)
}

// ThreeAt135 returns a ball at bearing first and two at 135° to either side of
// it, all at one radius.
func ThreeAt135(first units.Angle, radius units.Length) Layout {
	return spread(first, radius, 0, 135, 225)
}

// ThreeAt140 returns a ball at bearing first and two at 140° to either side of
// it, all at one radius.
func ThreeAt140(first units.Angle, radius units.Length) Layout {
	return spread(first, radius, 0, 140, 220)
}

// ThreeAt90 returns a ball at bearing first and two at 90° to either side of
// it, all at one radius.
func ThreeAt90(first units.Angle, radius units.Length) Layout {
	return spread(first, radius, 0, 90, 270)
}

// FourAt90 returns four balls evenly spaced, the first at bearing first and the
// others clockwise from there.
func FourAt90(first units.Angle, radius units.Length) Layout {
	return spread(first, radius, 0, 90, 180, 270)
}

func spread(first units.Angle, radius units.Length, degrees ...float64) Layout {
	l := make(Layout, len(degrees))
	for i, d := range degrees {
		l[i] = Ball{Bearing: first + units.Angle(d)*units.Degree, Radius: radius}
	}
	return l
}

// Toward is the way a level servo arm under the plate points, as seen from above.
type Toward string

// The ways an arm can point: away from the mast, to it, or square to both.
const (
	Outward          Toward = "outward"
	Inward           Toward = "inward"
	Clockwise        Toward = "clockwise"
	CounterClockwise Toward = "counter-clockwise"
)

// Upright returns the leg that a ruler can measure. At neutral, with the plate level at a
// height, its link stands vertical and its servo arm lies level, square to the link. The arm
// is from shaft to ball, and the link between ball centres. Another toward than the four is a
// *units.FieldError; NewPlate checks the rest.
func Upright(ball Ball, height, arm, link units.Length, toward Toward) (LegSpec, error) {
	sin, cos := math.Sincos(float64(ball.Bearing))
	out := linkage.Direction{X: sin, Y: cos}
	var dir linkage.Direction
	switch toward {
	case Outward:
		dir = out
	case Inward:
		dir = linkage.Direction{X: -out.X, Y: -out.Y}
	case Clockwise:
		dir = linkage.Direction{X: out.Y, Y: -out.X}
	case CounterClockwise:
		dir = linkage.Direction{X: -out.Y, Y: out.X}
	default:
		return LegSpec{}, refuse("toward", "must be %q, %q, %q or %q, not %q",
			Outward, Inward, Clockwise, CounterClockwise, toward)
	}
	return LegSpec{
		Ball: ball,
		Arm: linkage.ArmSpec{
			Shaft: linkage.Point{
				X: ball.Radius*units.Length(out.X) - arm*units.Length(dir.X),
				Y: ball.Radius*units.Length(out.Y) - arm*units.Length(dir.Y),
				Z: height + ball.Offset - link,
			},
			Axis:    linkage.Direction{X: dir.Y, Y: -dir.X}, // dir x z: a positive turn raises the ball
			Neutral: dir,
			Radius:  arm,
			Link:    link,
		},
	}, nil
}
