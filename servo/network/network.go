package network

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// Network is a checked Spec. It is safe for use by several goroutines, each with a
// State of its own.
type Network struct {
	spec   Spec
	bodies []body // as in Spec
	order  []int  // of bodies, each after what carries it
	balls  []ball
	links  []link
	terms  []term // of all links' ends
	joins  []join // of all links' rows

	coords  []Coordinate
	inputs  []int // coordinates
	unknown []int // coordinates, in the order of the blocks
	blocks  []block
	inverse int  // numbers in the inverses of all blocks
	widest  int  // unknowns of the largest block
	spare   bool // there are more links than unknowns: least strain
	known   bool // stiffness

	size    float64   // mean length of the links
	weights []float64 // by coordinate: make it a number of the order of an angle
	neutral view      // at neutral
	senses  []float64
}

// Motion is what a coordinate counts.
type Motion int

// The motions.
const (
	Turn   Motion = iota // of a crank from neutral, in radians
	Slide                // of a slider from neutral, in metres
	Height               // of a plate's centre, in metres
	RightPart
	ForwardPart // the level parts of a plate's normal, numbers below 1: above 0 the right or the front is low
)

func (m Motion) String() string {
	return [...]string{"turn", "slide", "height", "normal's part to the right", "normal's part forward"}[m]
}

// Coordinate is one number of those that tell where a network stands.
type Coordinate struct {
	Body   string
	Motion Motion
	Input  bool
}

// body is a checked Body.
type body struct {
	name   string
	kind   Kind
	on     int // -1 is the frame
	point  r3.Vec
	axis   r3.Vec
	height float64
	mark   Mark
	coord  int // the first of its coordinates; a ring's are its plate's
}

type ball struct {
	body int // -1 is the frame
	at   r3.Vec
}

// link is a checked Link.
type link struct {
	a, b       int // balls
	length     float64
	weight     float64 // stiffness over the stiffest link's; 1 where it is not known
	stiffness  float64
	endA, endB span // of terms
	row        span // of joins
}

// span is a part of a list.
type span struct{ from, to int }

// term is what one joint does to a ball at a link's end. Those of an end stand in
// order, each after those that carry it.
type term struct {
	body, coord int
	motion      Motion
	join        int     // of the link's row
	radius      float64 // of the ball about the shaft, where it is fixed; 0 where that changes
	sign        float64 // 1 at the link's first end, -1 at the other
}

// join is a place in a link's row where the Jacobian is not nothing.
type join struct {
	coord int
	block int // of an unknown; -1 for an input
}

// New checks a description and finds where the network stands at neutral, with every
// input as drawn: from the drawing, in which links need not fit, as their lengths
// change from the drawn ones to their own. The error is a *units.FieldError, a *CarrierError,
// a *LooseError or a *FitError.
func New(spec Spec) (*Network, error) {
	n := &Network{spec: spec.clone()}
	for _, check := range []func() error{n.takeBodies, n.takeBalls, n.takeLinks, n.rank} {
		if err := check(); err != nil {
			return nil, err
		}
	}
	return n, n.settle()
}

// shortestLink is the least length of a link: a thousandth of a millimetre. Less is a slip of the
// unit, and takes forever to be followed to from the drawing.
const shortestLink = 1 * units.Millimetre / 1000

// takeBodies checks the bodies, puts each after what carries it, and gives them their
// coordinates.
func (n *Network) takeBodies() error {
	index := map[string]int{"": -1}
	for i, b := range n.spec.Bodies {
		fail := func(field, format string, args ...any) error {
			return fault("body", b.Name, i, field, format, args...)
		}
		if _, twice := index[b.Name]; twice {
			if b.Name == "" {
				return fail("Name", "is empty; that is the frame's")
			}
			return fail("Name", "is that of another body")
		}
		index[b.Name] = i
		if !(b.Play >= 0) || !units.Finite(b.Play) {
			return fail("Play", "%v is not a length of 0 or more", b.Play)
		}
		made := body{name: b.Name, kind: b.Kind, mark: b.Mark, on: -1}
		switch b.Kind {
		case Crank, Slider:
			axis, ok := unit(b.Axis)
			if !ok {
				return fail("Axis"+notFinite(r3.Vec(b.Axis)), "%v has no direction", b.Axis)
			}
			if at := notFinite(b.Point.Vec()); at != "" {
				return fail("Point"+at, "position %v is not finite", b.Point.Vec())
			}
			made.point, made.axis = b.Point.Vec(), axis
		case Plate, Ring:
			if m, ok := b.Mark.Bearing(); ok && !units.Finite(m) {
				return fail("Mark", "is not a finite bearing")
			}
			if !units.Finite(b.Height) {
				return fail("Height", "is not a finite length")
			}
			made.height = float64(b.Height)
		default:
			return fail("Kind", "%d is none of those declared", int(b.Kind))
		}
		n.bodies = append(n.bodies, made)
	}
	for i, b := range n.spec.Bodies {
		fail := func(field, format string, args ...any) error {
			return fault("body", b.Name, i, field, format, args...)
		}
		on, ok := index[b.On]
		switch {
		case !ok:
			return fail("On", "there is no body %q", b.On)
		case b.Kind == Plate && on >= 0:
			return fail("On", "a plate is on the mast, which %q is not part of", b.On)
		case b.Kind == Ring && (on < 0 || n.bodies[on].kind != Plate):
			return fail("On", "%q is no plate; a ring is on one", b.On)
		case b.Kind == Ring && b.Input:
			return fail("Input", "a ring stands as its plate does")
		}
		n.bodies[i].on = on
		if b.Kind == Ring {
			n.bodies[i].height = n.bodies[on].height
		}
		n.bodies[i].coord = len(n.coords)
		for _, m := range map[Kind][]Motion{Crank: {Turn}, Slider: {Slide}, Plate: {Height, RightPart, ForwardPart}}[b.Kind] {
			if b.Input {
				n.inputs = append(n.inputs, len(n.coords))
			}
			n.coords = append(n.coords, Coordinate{b.Name, m, b.Input})
		}
	}
	for i := range n.bodies {
		if n.bodies[i].kind == Ring {
			n.bodies[i].coord = n.bodies[n.bodies[i].on].coord
		}
	}
	return n.sortBodies()
}

// sortBodies puts each body after what carries it.
func (n *Network) sortBodies() error {
	const (
		waiting = iota
		begun
		placed
	)
	state := make([]int, len(n.bodies))
	for i := range n.bodies {
		var path []int // to what carries i
		for j := i; j >= 0 && state[j] != placed; j = n.bodies[j].on {
			if state[j] == begun {
				var circle []string
				for k := len(path) - 1; k >= 0; k-- {
					circle = append([]string{n.bodies[path[k]].name}, circle...)
					if path[k] == j {
						break
					}
				}
				return &CarrierError{circle}
			}
			state[j] = begun
			path = append(path, j)
		}
		for k := len(path) - 1; k >= 0; k-- {
			state[path[k]] = placed
			n.order = append(n.order, path[k])
		}
	}
	return nil
}

func (n *Network) takeBalls() error {
	index := map[string]int{"": -1}
	for i, b := range n.bodies {
		index[b.name] = i
	}
	names := map[string]bool{}
	for i, b := range n.spec.Balls {
		fail := func(field, format string, args ...any) error {
			return fault("ball", b.Name, i, field, format, args...)
		}
		on, ok := index[b.Body]
		switch {
		case b.Name == "":
			return fail("Name", "is empty")
		case names[b.Name]:
			return fail("Name", "is that of another ball")
		case !ok:
			return fail("Body", "there is no body %q", b.Body)
		case notFinite(b.At.Vec()) != "":
			return fail("At"+notFinite(b.At.Vec()), "position %v is not finite", b.At.Vec())
		case !(b.Play >= 0) || !units.Finite(b.Play):
			return fail("Play", "%v is not a length of 0 or more", b.Play)
		}
		names[b.Name] = true
		n.balls = append(n.balls, ball{on, b.At.Vec()})
	}
	return nil
}

func (n *Network) takeLinks() error {
	index := map[string]int{}
	for i, b := range n.spec.Balls {
		index[b.Name] = i
	}
	names := map[string]bool{}
	var stiffest units.Stiffness
	if len(n.spec.Links) == 0 {
		n.size = 1 // of what inputs alone move
	}
	for i := range n.spec.Links {
		l := &n.spec.Links[i]
		fail := func(field, format string, args ...any) error {
			return fault("link", l.Name, i, field, format, args...)
		}
		a, okA := index[l.A]
		b, okB := index[l.B]
		switch {
		case l.Name == "":
			return fail("Name", "is empty")
		case names[l.Name]:
			return fail("Name", "is that of another link")
		case !okA:
			return fail("A", "there is no ball %q", l.A)
		case !okB:
			return fail("B", "there is no ball %q", l.B)
		}
		names[l.Name] = true
		drawn := r3.Norm(r3.Sub(n.balls[a].at, n.balls[b].at))
		if l.Length == 0 {
			l.Length = units.Length(drawn)
		}
		switch {
		case !(drawn > 0) || math.IsInf(drawn, 0):
			return fail("A", "the two balls are drawn %v m apart", drawn)
		case !(l.Length > 0) || !units.Finite(l.Length):
			return fail("Length", "%v is not above zero", l.Length)
		case l.Length < shortestLink:
			return fail("Length", "%v is shorter than %v: that is no link", l.Length, shortestLink)
		case !(l.Stiffness >= 0) || math.IsInf(float64(l.Stiffness), 0) || (l.Stiffness == 0) != (n.spec.Links[0].Stiffness == 0):
			return fail("Stiffness", "%v N/m; give one above zero for every link, or 0 for all", float64(l.Stiffness))
		}
		stiffest = max(stiffest, l.Stiffness)
		n.size += float64(l.Length) / float64(len(n.spec.Links))
		made := link{a: a, b: b, length: float64(l.Length), weight: 1, stiffness: float64(l.Stiffness)}
		if n.join(&made); made.row.from == made.row.to {
			return fail("A", "the two balls move alike: nothing changes their distance")
		}
		n.links = append(n.links, made)
	}
	n.weights = make([]float64, len(n.coords))
	for c := range n.coords {
		n.weights[c] = 1
		if m := n.coords[c].Motion; m == Slide || m == Height {
			n.weights[c] = 1 / n.size
		}
	}
	if n.known = stiffest > 0; n.known {
		for i := range n.links {
			n.links[i].weight = n.links[i].stiffness / float64(stiffest)
		}
	}
	return nil
}

// join gives a link the joints on which the distance of its balls depends. What carries
// both ends does not change it.
func (n *Network) join(l *link) {
	a, b := n.carriers(n.balls[l.a].body), n.carriers(n.balls[l.b].body)
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	places := map[int]int{} // of coordinates in the row
	l.row.from = len(n.joins)
	add := func(list []int, at r3.Vec, sign float64) span {
		s := span{from: len(n.terms)}
		for i, k := range list {
			b := &n.bodies[k]
			for j, m := range motions(b.kind) {
				c := b.coord + j
				p, ok := places[c]
				if !ok {
					p = len(n.joins)
					places[c] = p
					n.joins = append(n.joins, join{coord: c, block: -1})
				}
				t := term{body: k, coord: c, motion: m, join: p, sign: sign}
				if m == Turn && i == len(list)-1 {
					t.radius = r3.Norm(r3.Cross(b.axis, r3.Sub(at, b.point)))
				}
				n.terms = append(n.terms, t)
			}
		}
		s.to = len(n.terms)
		return s
	}
	l.endA = add(a, n.balls[l.a].at, 1)
	l.endB = add(b, n.balls[l.b].at, -1)
	l.row.to = len(n.joins)
}

// carriers returns what a body is carried by, from the frame on, and the body itself. A
// ring moves as its plate does, by a turn of its own.
func (n *Network) carriers(b int) []int {
	var list []int
	for ; b >= 0; b = n.bodies[b].on {
		list = append([]int{b}, list...)
		if n.bodies[b].kind == Ring {
			break
		}
	}
	return list
}

// motions returns what a body is free to do.
func motions(k Kind) []Motion {
	switch k {
	case Crank:
		return []Motion{Turn}
	case Slider:
		return []Motion{Slide}
	}
	return []Motion{Height, RightPart, ForwardPart}
}

// Spec returns the description, with the lengths that were left to the drawing.
func (n *Network) Spec() Spec { return n.spec.clone() }

// Coordinates returns what tells where the network stands: those of each body, in the
// order of the description.
func (n *Network) Coordinates() []Coordinate { return append([]Coordinate(nil), n.coords...) }

// Inputs returns which of the coordinates are inputs, in the order in which Solve
// takes them.
func (n *Network) Inputs() []int { return append([]int(nil), n.inputs...) }

// Coordinate returns the index of the first of a body's coordinates, a ring's being
// its plate's, and whether there is such a body.
func (n *Network) Coordinate(body string) (int, bool) {
	for i := range n.bodies {
		if n.bodies[i].name == body {
			return n.bodies[i].coord, true
		}
	}
	return 0, false
}

// Ball returns the index of a ball in the description, and whether there is such a one.
func (n *Network) Ball(name string) (int, bool) {
	for i := range n.spec.Balls {
		if n.spec.Balls[i].Name == name {
			return i, true
		}
	}
	return 0, false
}

// Link returns the index of a link in the description, and whether there is such a one.
func (n *Network) Link(name string) (int, bool) {
	for i := range n.spec.Links {
		if n.spec.Links[i].Name == name {
			return i, true
		}
	}
	return 0, false
}

// Strained reports whether there are more links than freedoms, so that links can
// fight.
func (n *Network) Strained() bool { return n.spare }

// notFinite returns the path of the first coordinate that is no finite number, such as ".X",
// and "" where there is none.
func notFinite(v r3.Vec) string {
	for i, x := range [...]float64{v.X, v.Y, v.Z} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return [...]string{".X", ".Y", ".Z"}[i]
		}
	}
	return ""
}

// unit returns a direction at length 1; one that is nothing or not finite has none.
func unit(d linkage.Direction) (r3.Vec, bool) {
	largest := math.Max(math.Abs(d.X), math.Max(math.Abs(d.Y), math.Abs(d.Z)))
	if !(largest > 0) || math.IsInf(largest, 0) {
		return r3.Vec{}, false
	}
	return r3.Unit(r3.Vec{X: d.X / largest, Y: d.Y / largest, Z: d.Z / largest}), true
}
