package networktest

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/units"
)

// LawError reports a law that a network breaks.
type LawError struct {
	Law    int
	Name   string    // of the law
	Inputs []float64 // where it was first seen
	Detail string    // what is wrong there, and by how much
	More   int       // the number of other places where the same is wrong
}

func (e *LawError) Error() string {
	more := ""
	if e.More > 0 {
		more = fmt.Sprintf(" (and at %d other places)", e.More)
	}
	return fmt.Sprintf("networktest: law %d, %s: at inputs %.9g: %s%s", e.Law, e.Name, e.Inputs, e.Detail, more)
}

// names are the laws by their numbers.
var names = [...]string{
	1: "links kept",
	2: "derivatives",
	3: "power in is power out",
	4: "inverse",
	5: "mirror image",
	6: "continuous with neutral",
	7: "no allocation",
	8: "honest errors",
	9: "order of listing",
}

// Check holds a description to every law at neutral and at each of the inputs, which
// the network can refuse with a *network.DeadCentreError or a *network.TiltError. It
// returns nil, or all that is broken: *[LawError] values joined by [errors.Join]; or why
// network.New refuses the description.
//
// Check counts allocations, so a test that calls it must not be parallel.
func Check(spec network.Spec, inputs ...[]float64) error {
	return check(spec, inputs, math.MaxInt, newState)
}

// Test draws descriptions with inputs, and checks each. Of the parts it looks at a few,
// spread over all. A draw may skip. The test must not be parallel.
func Test(t rapid.TB, draw func(*rapid.T) (network.Spec, []float64)) {
	t.Helper()
	const parts = 6
	rapid.Check(t, func(t *rapid.T) {
		spec, inputs := draw(t)
		if err := check(spec, [][]float64{inputs}, parts, newState); err != nil {
			t.Fatal(err)
		}
	})
}

// Fuzz makes descriptions and inputs of the fuzzer's numbers. What build or network.New
// refuses is passed over, as long as it is refused with a typed error. The seeds are
// numbers to start from.
func Fuzz(f *testing.F, build func(numbers [8]float64) (network.Spec, []float64), seeds ...[8]float64) {
	for _, n := range seeds {
		f.Add(n[0], n[1], n[2], n[3], n[4], n[5], n[6], n[7])
		for i, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e-300, 0} {
			m := n
			m[i] = bad
			f.Add(m[0], m[1], m[2], m[3], m[4], m[5], m[6], m[7])
		}
	}
	const parts = 2
	f.Fuzz(func(t *testing.T, n0, n1, n2, n3, n4, n5, n6, n7 float64) {
		spec, inputs := build([8]float64{n0, n1, n2, n3, n4, n5, n6, n7})
		if _, err := network.New(spec); err != nil {
			if !typed(err) {
				t.Errorf("New refuses with a %T: %v", err, err)
			}
			return
		}
		if err := check(spec, [][]float64{inputs}, parts, newState); err != nil {
			t.Error(err)
		}
	})
}

// typed reports whether an error is of a type that New declares.
func typed(err error) bool {
	var spec *units.FieldError
	var circle *network.CarrierError
	var loose *network.LooseError
	var fit *network.FitError
	return errors.As(err, &spec) || errors.As(err, &circle) || errors.As(err, &loose) || errors.As(err, &fit)
}

// state is what the laws ask of a network.State. The kit's own tests ask it of states
// that lie.
type state interface {
	Solve(inputs []float64) error
	Coordinate(i int) float64
	Coordinates(dst []float64) error
	Position(ball int) linkage.Point
	Strains(dst []units.Length) error
	Hold() float64
	Effect(dst []float64, p network.Part) error
	InputEffect(dst []float64, input int) error
	Gradient(dst, weights []float64, parts []network.Part) error
	Carry(torques []float64, forces []units.Force, load network.Load) error
	Play(dst []float64) error
}

func newState(n *network.Network) state { return n.NewState() }

// checker is one network on trial.
type checker struct {
	net      *network.Network
	state    func(*network.Network) state
	spec     network.Spec
	coords   []network.Coordinate
	size     float64 // mean length of the links
	shortest float64 // of them
	widest   float64 // how far a ball is from a shaft or a line, or a link is long
	parts    []network.Part
	changes  map[change]state

	inputs []float64 // where it is looked at
	seen   map[string]*LawError
	broken []error
}

// change is a part that is other than described, and by how much.
type change struct {
	part network.Part
	by   float64
}

func check(spec network.Spec, inputs [][]float64, parts int, newState func(*network.Network) state) error {
	n, err := network.New(spec)
	if err != nil {
		return err
	}
	c := &checker{net: n, state: newState, spec: n.Spec(), coords: n.Coordinates(), seen: map[string]*LawError{}, changes: map[change]state{}, shortest: math.Inf(1)}
	for _, l := range c.spec.Links {
		c.shortest = min(c.shortest, float64(l.Length))
		c.size += float64(l.Length) / float64(len(c.spec.Links))
	}
	c.widest = c.size
	for _, ball := range c.spec.Balls {
		if b, _ := find(c.spec, ball.Body); b.Kind == network.Crank {
			c.widest = max(c.widest, r3.Norm(r3.Sub(ball.At.Vec(), b.Point.Vec())))
		}
	}
	if len(c.spec.Links) == 0 {
		c.size = 1 // of what inputs alone move
	}
	all := n.Parts()
	for i := range min(parts, len(all)) {
		c.parts = append(c.parts, all[i*len(all)/min(parts, len(all))])
	}
	neutral := make([]float64, len(n.Inputs()))
	s := c.state(n)
	for k, i := range n.Inputs() {
		neutral[k] = s.Coordinate(i)
	}
	for _, in := range append([][]float64{neutral}, inputs...) {
		c.inputs = in
		c.at(in, neutral)
	}
	c.inputs = neutral
	c.refusals(neutral)
	return errors.Join(c.broken...)
}

// fail records that a law is broken. What is told by the same format is the same
// failure, and recorded once.
func (c *checker) fail(law int, format string, args ...any) {
	key := fmt.Sprint(law, format)
	if e := c.seen[key]; e != nil {
		e.More++
		return
	}
	e := &LawError{Law: law, Name: names[law], Inputs: append([]float64(nil), c.inputs...), Detail: fmt.Sprintf(format, args...)}
	c.seen[key] = e
	c.broken = append(c.broken, e)
}
