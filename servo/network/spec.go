package network

import (
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// Kind is what a body is free to do.
type Kind int

// The kinds of bodies.
const (
	// Crank turns about a shaft: a servo arm, a bell crank, a blade grip, a mixing arm.
	Crank Kind = iota + 1
	// Slider moves along a line and turns with what carries it: a rod in a guide, a
	// washout base on the mast.
	Slider
	// Plate is the swashplate: its centre moves along the mast, and it tilts.
	Plate
	// Ring is a ring on a plate, with which it shares the centre and the normal, and
	// has a mark of its own: the rotating ring with its driver.
	Ring
)

func (k Kind) String() string {
	switch k {
	case Crank:
		return "crank"
	case Slider:
		return "slider"
	case Plate:
		return "plate"
	case Ring:
		return "ring"
	}
	return "unknown kind"
}

// Body is a part that moves. The frame of the machine is the body named "", which is
// always there and does not move.
type Body struct {
	Name string
	Kind Kind
	// On names the body that carries the shaft of a crank, the line of a slider, or
	// the ring: "" is the frame. A plate is on the mast, which is the frame's.
	On string
	// Point and Axis are of a crank or a slider: a point on the shaft and the shaft's
	// direction, about which it turns right-handed, or a point on the line and its
	// direction.
	Point linkage.Point
	Axis  linkage.Direction
	// Height and Mark are of a plate: the height of its centre at neutral, and its
	// guide. A ring has a Mark alone.
	Height units.Length
	Mark   Mark
	// Input tells that the body's coordinates are given and not found: those of a
	// servo arm, or of the plate where the servos' angles are wanted.
	Input bool
	// Play is how far the body can shift on its shaft or line, from one side to the
	// other, square to it; 0 where that is not known.
	Play units.Length
}

// Ball is a ball fixed to a body.
type Ball struct {
	Name string
	Body string // "" is the frame
	At   linkage.Point
	Play units.Length // from one end to the other, along the link; 0 where it is not known
}

// Link keeps two balls apart.
type Link struct {
	Name   string
	A, B   string       // the balls' names
	Length units.Length // between the balls' centres; 0 takes it from the drawing, where it then fits
	// Stiffness is the force along the link for its strain. It matters where there
	// are more links than freedoms. Leave it 0 on all links where it is not known:
	// they then count as equally stiff, and their forces as nothing.
	Stiffness units.Stiffness
}

// Spec describes a network as it is drawn at neutral: every crank and slider at 0,
// every plate level at its height, all places and directions in the machine's frame.
// Names are free, but no two bodies, balls or links have the same one. The order
// matters for the order of coordinates alone.
type Spec struct {
	Bodies []Body
	Balls  []Ball
	Links  []Link
}

// clone returns a copy that shares nothing.
func (s Spec) clone() Spec {
	return Spec{append([]Body(nil), s.Bodies...), append([]Ball(nil), s.Balls...), append([]Link(nil), s.Links...)}
}
