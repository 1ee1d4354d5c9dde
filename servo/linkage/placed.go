package linkage

import "example.org/levelhead/units"

// Placed is a Linkage that stands somewhere in the machine, so that it can be drawn, and its
// link measured.
type Placed interface {
	Linkage
	// Ends returns how the two ends of the link stand at an input and an output, whether
	// or not its length fits between them there: in a Linked, the distance from the one
	// ball to the other at the output of Move is the length of its one link. Where there
	// is no link, as with a pin in a slot, the ends are the point of each part where the
	// two touch, and at the output of Move they are one. A NaN or infinity gives NaN.
	Ends(in, out float64) (driving, driven End)
}

// End is one end of a link, and what it is on.
type End struct {
	Ball Point
	// Slope is the derivative of Ball: over the input at the driving end, and over the
	// output at the driven one. It is in metres per radian, or metres per metre.
	Slope Point
	OnArm bool  // whether the ball is on an arm; else it is on a line
	Shaft Point // of the arm, in the plane of its ball
}

// end returns the ball of an arm as an end of its link.
func (a *Arm) end(q float64) End {
	at, slope := a.Ball(units.Angle(q))
	return End{Ball: at, Slope: slope, OnArm: true, Shaft: a.Shaft()}
}

// Ends implements Placed.
func (c *closure) Ends(in, out float64) (driving, driven End) {
	if c.follow == nil {
		return driving, driven
	}
	return c.arm.end(in), c.follow.end(out)
}

func (s *swing) end(out float64) End { return s.arm.end(out) }

func (l *line) end(out float64) End {
	at, slope, _ := l.ball(out)
	return End{Ball: PointOf(at), Slope: PointOf(slope)}
}
