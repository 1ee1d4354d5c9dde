package linkagetest

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
)

// ends holds a linkage that is linkage.Placed to law 9.
func (c *checker) ends(samples []float64) {
	p, ok := c.linkage.(linkage.Placed)
	if !ok {
		return
	}
	linked, _ := p.(linkage.Linked)
	a, b := p.Ends(0, c.neutral.Out)
	link := float64(a.Ball.Distance(b.Ball))
	for _, in := range samples {
		m, ok := c.answer(in)
		if !ok {
			continue
		}
		a, b := p.Ends(in, m.Out)
		c.along(in, "driving", a, func(by float64) linkage.Point { a, _ := p.Ends(in+by, m.Out); return a.Ball }, c.inScale)
		c.along(in, "driven", b, func(by float64) linkage.Point { _, b := p.Ends(in, m.Out+by); return b.Ball }, c.outScale)
		d := r3.Sub(a.Ball.Vec(), b.Ball.Vec())
		reach := r3.Norm(a.Slope.Vec())*c.inScale + r3.Norm(b.Slope.Vec())*c.outScale + link
		if off := math.Abs(r3.Norm(d) - link); !(off <= slopeTolerance*reach) {
			c.fail(9, in, "the link is %.9g m long, and %.9g m at neutral", r3.Norm(d), link)
			continue
		}
		if linked == nil {
			continue
		}
		slopes, err := linked.LinkSlopes(nil, in)
		if err != nil || len(slopes) != 1 {
			c.fail(9, in, "LinkSlopes gives %v, %v, and there is one link", slopes, err)
			continue
		}
		if want := -1 / r3.Dot(r3.Unit(d), b.Slope.Vec()); !(math.Abs(slopes[0]-want) <= slopeTolerance*math.Abs(want)) {
			c.fail(9, in, "LinkSlopes gives %.9g, and the ends of the link %.9g", slopes[0], want)
		}
	}
}

// along compares the slope of an end's ball with differences of its places, over a scale of what
// moves it.
func (c *checker) along(in float64, which string, end linkage.End, at func(by float64) linkage.Point, scale float64) {
	const step = 1e-5 // of the scale
	h := step * scale
	difference := r3.Scale(1/(2*h), r3.Sub(at(h).Vec(), at(-h).Vec()))
	if off := r3.Norm(r3.Sub(difference, end.Slope.Vec())); !(off <= slopeTolerance*r3.Norm(end.Slope.Vec())) {
		c.fail(9, in, "the "+which+" end's Slope is %.6g, and differences of its Ball %.6g", end.Slope.Vec(), difference)
	}
}
