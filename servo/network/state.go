package network

import (
	"math"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// State is where a network stands. Make it with NewState and use it again and again:
// nothing it does allocates, except to report an error. It is not for several
// goroutines at once. What it answers is of the inputs that Solve last took; after a
// Solve that failed it answers NaN and errors.
type State struct {
	net  *Network
	view view
	desk desk

	solved bool
	placed bool // the bodies stand where view.x says
	fresh  bool // the view's slopes and inverse are of view.x
	// what the last step left, for the next one to begin with
	looked []float64 // by coordinate: where the slopes and the inverse are of

	way     []float64 // by input: from the start to the end
	longer  []float64 // by link, likewise; nil where lengths stay
	lengths []float64 // by link: where it is
	tangent []float64 // by coordinate, over the way
	curve   []float64 // by coordinate, the tangent's own
	fix     []float64 // by coordinate: Newton's correction
	expect  []float64 // by coordinate: where the answer is, but for off
	before  []float64 // by coordinate: where the step began
	bounds  []bounds  // by coordinate
	pull    []float64 // by coordinate, of a strained network: how much the links' pull on it changes
	bent    []float64 // likewise, where the box is wide
	move    []float64 // by coordinate
	hold    []float64 // by link
}

// NewState returns a state at neutral.
func (n *Network) NewState() *State {
	s := n.newState()
	s.copyNeutral()
	return s
}

func (n *Network) newState() *State {
	all := len(n.coords)
	numbers := make([]float64, 9*all)
	next := func() []float64 {
		part := numbers[:all:all]
		numbers = numbers[all:]
		return part
	}
	return &State{
		net: n, view: n.newView(), desk: n.newDesk(), lengths: n.lengths(), way: make([]float64, len(n.inputs)),
		looked: next(), tangent: next(), fix: next(), expect: next(), before: next(), pull: next(), bent: next(), move: next(), curve: next(),
		bounds: make([]bounds, all),
		hold:   make([]float64, len(n.links)),
	}
}

// copyNeutral puts the state at neutral.
func (s *State) copyNeutral() {
	v, from := &s.view, &s.net.neutral
	copy(v.x, from.x)
	copy(v.places, from.places)
	copy(v.at, from.at)
	copy(v.along, from.along)
	copy(v.span, from.span)
	copy(v.strain, from.strain)
	copy(v.slopes, from.slopes)
	copy(v.lever, from.lever)
	copy(v.curl, from.curl)
	copy(v.jac, from.jac)
	copy(v.inv, from.inv)
	copy(v.hess, from.hess)
	copy(v.second, from.second)
	copy(v.det, from.det)
	copy(s.looked, v.x)
	s.solved, s.placed, s.fresh = true, true, true
}

// Network returns the network that the state is of.
func (s *State) Network() *Network { return s.net }

// Coordinate returns a coordinate, by its index in Coordinates: radians, metres, or a
// number without a unit. Special cases are: an index out of range, or a state that
// holds no answer, gives NaN.
func (s *State) Coordinate(i int) float64 {
	if !s.solved || i < 0 || i >= len(s.view.x) {
		return math.NaN()
	}
	return s.view.x[i]
}

// Coordinates puts all coordinates into dst. The error is a *units.FieldError.
func (s *State) Coordinates(dst []float64) error {
	if err := s.ready(); err != nil {
		return err
	}
	if err := sized("dst", len(dst), len(s.view.x), "coordinates"); err != nil {
		return err
	}
	copy(dst, s.view.x)
	return nil
}

// Position returns where a ball stands, by its index in the description. Special
// cases are: an index out of range, or a state that holds no answer, gives NaN.
func (s *State) Position(ball int) linkage.Point {
	if !s.solved || ball < 0 || ball >= len(s.view.at) {
		nan := units.Length(math.NaN())
		return linkage.Point{X: nan, Y: nan, Z: nan}
	}
	s.stand()
	return linkage.PointOf(s.view.at[ball])
}

// Strains puts into dst how much longer than its own length each link is. Where there
// are no more links than freedoms that is rounding. The error is a *units.FieldError.
func (s *State) Strains(dst []units.Length) error {
	if err := s.ready(); err != nil {
		return err
	}
	if err := sized("dst", len(dst), len(s.net.links), "links"); err != nil {
		return err
	}
	s.stand()
	for i, x := range s.view.strain {
		dst[i] = units.Length(x)
	}
	return nil
}

// Hold returns how well the links hold the network, over how well they do at neutral: 1
// there and 0 at a dead centre. It is the least, over the sets of unknowns that links
// find together, of the determinant of the links' slopes. Special cases are: a state
// that holds no answer gives NaN.
func (s *State) Hold() float64 {
	if s.linear() != nil {
		return math.NaN()
	}
	least := math.Inf(1)
	for i, d := range s.view.det {
		least = min(least, d/s.net.neutral.det[i])
	}
	return least
}

// stand puts the bodies where the coordinates say.
func (s *State) stand() {
	if !s.placed {
		s.net.move(&s.view, s.lengths)
		s.placed = true
	}
}

// linear makes the slopes and the inverse those of the answer.
func (s *State) linear() error {
	if err := s.ready(); err != nil {
		return err
	}
	if s.fresh {
		return nil
	}
	s.stand()
	s.net.slope(&s.view)
	if i := s.net.factor(&s.view, &s.desk); i >= 0 {
		return s.lost(i, 1)
	}
	copy(s.looked, s.view.x)
	s.fresh = true
	return nil
}

func (s *State) ready() error {
	if !s.solved {
		return refuse("state", "holds no answer: the last Solve failed")
	}
	return nil
}

func sized(field string, got, want int, what string) error {
	if got != want {
		return refuse(field, "%d numbers for %d %s", got, want, what)
	}
	return nil
}
