package gauge

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
)

// crank is a linkage of a bell-crank chain whose link is not of the file's length. It
// stands where the file's linkage does, moved by Newton's method until the link fits:
// that is exact, and spares finding the travel afresh, which takes a linkage
// milliseconds. Its travel and its angles of transmission are those of the file.
type crank struct {
	placed         // by the file
	link   float64 // of the build
}

// placed is a linkage of one link, whose balls have a place.
type placed interface {
	linkage.Linked
	linkage.Placed
}

// newCrank returns the crank of a linkage of a chain, and nil where it has no link. The error
// is a *units.FieldError for a link without a place.
func newCrank(file linkage.Linkage, spec linkage.Spec) (*crank, error) {
	if spec.Link() == 0 {
		return nil, nil
	}
	p, ok := file.(placed)
	if !ok {
		return nil, own(refuse("rig", "has a %T, which must be linkage.Linked and linkage.Placed, because it has a link", file))
	}
	return &crank{p, float64(spec.Link())}, nil
}

// miss returns by how much the distance between the balls is more than the link, and
// its derivatives over the arm's angle and the output.
func (c *crank) miss(in, out float64) (miss, perIn, perOut float64) {
	a, b := c.Ends(in, out)
	d := r3.Sub(a.Ball.Vec(), b.Ball.Vec())
	length := r3.Norm(d)
	w := r3.Scale(1/length, d)
	return length - c.link, r3.Dot(w, a.Slope.Vec()), -r3.Dot(w, b.Slope.Vec())
}

// fits changes either end, x, until the link fits. The error is a *linkage.TravelError.
func (c *crank) fits(x float64, miss func(x float64) (miss, per float64)) (float64, error) {
	const (
		steps = 12
		small = 1e-15 // m: the last bits of a link
	)
	for range steps {
		off, per := miss(x)
		x -= off / per
		if math.Abs(off) <= small {
			break
		}
	}
	const fit = 1e-12 // m
	if off, _ := miss(x); !(math.Abs(off) <= fit) {
		return 0, &linkage.TravelError{In: math.NaN(), Out: math.NaN(), Excess: math.NaN(), Stop: linkage.OutputInLine}
	}
	return x, nil
}

// Move implements linkage.Linkage.
func (c *crank) Move(in float64) (linkage.Motion, error) {
	m, err := c.placed.Move(in)
	if err != nil {
		return linkage.Motion{}, err
	}
	m.Out, err = c.fits(m.Out, func(out float64) (float64, float64) {
		miss, _, per := c.miss(in, out)
		return miss, per
	})
	if err != nil {
		return linkage.Motion{}, err
	}
	_, perIn, perOut := c.miss(in, m.Out)
	m.Slope = -perIn / perOut
	return m, nil
}

// Back implements linkage.Linkage.
func (c *crank) Back(out float64) (float64, error) {
	in, err := c.placed.Back(out)
	if err != nil {
		return 0, err
	}
	return c.fits(in, func(in float64) (float64, float64) {
		miss, per, _ := c.miss(in, out)
		return miss, per
	})
}

// LinkSlopes implements linkage.Linked.
func (c *crank) LinkSlopes(dst []float64, in float64) ([]float64, error) {
	m, err := c.Move(in)
	if err != nil {
		return dst, err
	}
	_, _, perOut := c.miss(in, m.Out)
	return append(dst, 1/perOut), nil
}

// newCranks returns the chains of a bell-crank machine with cranks in place of its
// linkages, and the cranks in the order of setup.Parts.Links.
func newCranks(file *swash.BellCranks, parts *setup.Parts) (spec swash.BellCrankSpec, cranks []*crank, err error) {
	spec.Height = parts.Plate.Height
	for i, to := range []*linkage.Linkage{&spec.Collective, &spec.Right, &spec.Forward} {
		members := []linkage.Linkage{file.Chain(i)}
		if chain, ok := file.Chain(i).(*linkage.Chain); ok {
			members = chain.Members()
		}
		if len(members) != len(parts.Chains[i]) {
			return spec, nil, refuse("rig", "chain %d has %d linkages of %d members", i+1, len(members), len(parts.Chains[i]))
		}
		for k := range members {
			c, err := newCrank(members[k], parts.Chains[i][k])
			if err != nil {
				return spec, nil, err
			}
			if c != nil {
				members[k] = c
				cranks = append(cranks, c)
			}
		}
		if *to, err = linkage.NewChain(members...); err != nil {
			return spec, nil, err
		}
	}
	return spec, cranks, nil
}
