package network

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// PartKind is what of a network can be other than described.
type PartKind int

// The kinds of parts.
const (
	Length  PartKind = iota + 1 // of a link, in metres
	Place                       // of a ball on its body, in metres along an axis of the machine at neutral
	Seat                        // of a crank's shaft or a slider's line, with all it carries, likewise
	Lie                         // of the same, turned about its point: in radians about an axis of the machine at neutral
	Bearing                     // of a plate's or a ring's mark, in radians, clockwise seen from above
)

func (k PartKind) String() string {
	if k < Length || k > Bearing {
		return "unknown part"
	}
	return [...]string{"length", "place", "seat", "lie", "bearing"}[k-1]
}

// Part is one number of a description that a build can have wrong. Make it with
// Network.Part or Network.Parts.
type Part struct {
	kind  PartKind
	index int // of the link, ball or body
	axis  int // 0 to 2: x, y and z
	net   *Network
}

// Kind returns what the part is.
func (p Part) Kind() PartKind { return p.kind }

// Name returns the name of the link, ball or body that the part is of.
func (p Part) Name() string {
	if p.net == nil {
		return ""
	}
	switch p.kind {
	case Length:
		return p.net.spec.Links[p.index].Name
	case Place:
		return p.net.spec.Balls[p.index].Name
	}
	return p.net.spec.Bodies[p.index].Name
}

// Axis returns the axis of a place, a seat or a lie: 0 is right, 1 is forward, 2 is up.
func (p Part) Axis() int { return p.axis }

func (p Part) String() string {
	if p.kind == Length || p.kind == Bearing {
		return fmt.Sprintf("%v of %q", p.kind, p.Name())
	}
	return fmt.Sprintf("%v of %q, %c", p.kind, p.Name(), "xyz"[p.axis])
}

// Part returns a part by its kind, the name of what it is of, and the axis, which only a
// place, a seat and a lie have. The error is a *units.FieldError.
func (n *Network) Part(kind PartKind, name string, axis int) (Part, error) {
	for _, p := range n.Parts() {
		if p.kind == kind && p.Name() == name && p.axis == axis {
			return p, nil
		}
	}
	return Part{}, refuse("part", "there is no %v of %q with axis %d", kind, name, axis)
}

// Parts returns all parts of a network.
func (n *Network) Parts() []Part {
	var list []Part
	for i := range n.links {
		list = append(list, Part{Length, i, 0, n})
	}
	for i := range n.balls {
		for axis := range 3 {
			list = append(list, Part{Place, i, axis, n})
		}
	}
	for i := range n.bodies {
		switch b := &n.bodies[i]; b.kind {
		case Crank, Slider:
			for axis := range 3 {
				list = append(list, Part{Seat, i, axis, n}, Part{Lie, i, axis, n})
			}
		default:
			if b.mark.fitted {
				list = append(list, Part{Bearing, i, 0, n})
			}
		}
	}
	return list
}

// Changed returns the network's description with a part changed by so much, in metres or
// radians, and what it carries with it. All links keep their lengths. The error is an
// *units.FieldError.
func (n *Network) Changed(p Part, by float64) (Spec, error) {
	s := n.Spec()
	if p.net != n {
		return s, refuse("part", "is of another network")
	}
	if math.IsNaN(by) || math.IsInf(by, 0) {
		return s, refuse("by", "is not finite")
	}
	e := axes[p.axis]
	switch p.kind {
	case Length:
		s.Links[p.index].Length += units.Length(by)
	case Place:
		b := &s.Balls[p.index]
		b.At = linkage.PointOf(r3.Add(b.At.Vec(), r3.Scale(by, e)))
	case Bearing:
		m := &s.Bodies[p.index].Mark
		*m = MarkAt(m.bearing + units.Angle(by))
	default:
		centre := s.Bodies[p.index].Point.Vec()
		turn := r3.NewRotation(by, e)
		point := func(q linkage.Point) linkage.Point {
			v := q.Vec()
			if p.kind == Seat {
				return linkage.PointOf(r3.Add(v, r3.Scale(by, e)))
			}
			return linkage.PointOf(r3.Add(centre, turn.Rotate(r3.Sub(v, centre))))
		}
		for i := range s.Bodies {
			if !n.carried(i, p.index) {
				continue
			}
			b := &s.Bodies[i]
			b.Point = point(b.Point)
			if p.kind == Lie {
				b.Axis = linkage.Direction(turn.Rotate(r3.Vec(b.Axis)))
			}
		}
		for i := range s.Balls {
			if n.carried(n.balls[i].body, p.index) {
				s.Balls[i].At = point(s.Balls[i].At)
			}
		}
	}
	return s, nil
}

// carried reports whether body i is body on or carried by it.
func (n *Network) carried(i, on int) bool {
	for ; i >= 0; i = n.bodies[i].on {
		if i == on {
			return true
		}
	}
	return false
}

var axes = [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
