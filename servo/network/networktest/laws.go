package networktest

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/units"
)

// The package doc gives the reasons of these.
const (
	rounding  = 1e-12 // of the size, or of a radian
	slope     = 1e-10 // of a derivative, over the largest of its part
	jump      = 1e-6  // of the size or of a radian, between neighbours
	longest   = 8e-3  // of differences' steps, in radians or of the size
	leastHold = 0.02  // at which inverses are looked at
	farthest  = 99    // inputs that are followed, in radians or sizes
)

// at holds the network to the laws of one set of inputs.
func (c *checker) at(in, neutral []float64) {
	s := c.state(c.net)
	err := s.Solve(in)
	if err != nil {
		c.refused(s, in, err)
		return
	}
	hold := s.Hold()
	x := c.read(s)
	for i, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			c.fail(1, "%v of %q is %v", c.coords[i].Motion, c.coords[i].Body, v)
			return
		}
	}
	// A state takes its equations from wherever it was: so may rounding.
	off := rounding / max(min(1, math.Abs(hold)), 1e-9)
	off = max(off, c.blur(s))
	c.kept(s, x, off)
	c.continuous(in, neutral, x, off)
	c.mirrored(in, x, off)
	c.listed(in, x, off)
	c.allocates(s, in, neutral)
	if err := s.Solve(in); err != nil {
		c.fail(6, "Solve answered, and then refuses: %v", err)
		return
	}
	c.derivatives(s, in)
	c.power(s, x)
	if hold > leastHold {
		c.inverse(in, neutral, x, off/leastHold)
	}
}

// blur returns by how much rounding of the links alone moves a coordinate, by its scale: a
// long link on a tiny arm turns it by far more than its own last bits.
func (c *checker) blur(s state) (most float64) {
	const bits = 0x1p-50
	per := make([]float64, len(c.coords))
	for _, p := range c.parts {
		if p.Kind() != network.Length || s.Effect(per, p) != nil {
			continue
		}
		for i := range c.coords {
			most = max(most, bits*c.widest*math.Abs(per[i])/c.scale(i))
		}
	}
	return most
}

func (c *checker) read(s state) []float64 {
	x := make([]float64, len(c.coords))
	if err := s.Coordinates(x); err != nil {
		c.fail(8, "Coordinates refuses after Solve: %v", err)
	}
	return x
}

// scale is what a coordinate's error is measured by.
func (c *checker) scale(i int) float64 {
	if m := c.coords[i].Motion; m == network.Slide || m == network.Height {
		return c.size
	}
	return 1
}

// same compares coordinates, by their index in the description.
func (c *checker) same(law int, what string, got, want []float64, off float64) {
	for i := range want {
		if d := math.Abs(got[i] - want[i]); !(d <= off*c.scale(i)) {
			c.fail(law, what+": %v of %q is %.17g, not %.17g: off by %.3g", c.coords[i].Motion, c.coords[i].Body, got[i], want[i], d)
		}
	}
}

// kept holds an answer to law 1.
func (c *checker) kept(s state, x []float64, off float64) {
	for i, b := range c.spec.Balls {
		want := carry(c.spec, x, b.Body, b.At.Vec())
		if d := r3.Norm(r3.Sub(s.Position(i).Vec(), want)); !(d <= rounding*(c.size+r3.Norm(want))) {
			c.fail(1, "ball %q stands at %.12g, and its body carries it to %.12g", b.Name, s.Position(i).Vec(), want)
		}
	}
	got := make([]units.Length, len(c.spec.Links))
	if err := s.Strains(got); err != nil {
		c.fail(8, "Strains refuses after Solve: %v", err)
		return
	}
	for i, want := range strains(c.spec, x) {
		if d := math.Abs(float64(got[i]) - want); !(d <= rounding*c.size) {
			c.fail(1, "the strain of %q is %.6g, and between its balls it is %.6g", c.spec.Links[i].Name, float64(got[i]), want)
		}
		if !c.net.Strained() && !(math.Abs(want) <= off*c.size) {
			c.fail(1, "link %q is %.3g longer than its length", c.spec.Links[i].Name, want)
		}
	}
	if !c.net.Strained() {
		return
	}
	moved := slices.Clone(x)
	here := energy(c.spec, x)
	for i := range x {
		if c.coords[i].Input {
			continue
		}
		at := func(step float64) float64 {
			moved[i] = x[i] + step
			defer func() { moved[i] = x[i] }()
			return energy(c.spec, moved)
		}
		h := c.step(i) / 2
		up, down := at(h), at(-h)
		if !(up > here && down > here) {
			c.fail(1, "the strains have the energy %.9g, and no more with %v of %q changed: %.9g and %.9g", here, c.coords[i].Motion, c.coords[i].Body, down, up)
		}
		// The way to the least, by Newton's step with this one alone.
		bend := (up + down - 2*here) / (h * h)
		unit := func(int) float64 { return here + bend*h*h }
		near := func(by float64) ([]float64, bool) { return []float64{at(by)}, true }
		g, unsure, ok := differences(h, bend*c.scale(i)/unit(0), noiseOf(c.scale(i), unit, near), unit, near)
		if !ok {
			continue
		}
		if step := (math.Abs(g[0]) - unsure*unit(0)) / bend; !(step <= 1e-9*c.scale(i)) {
			c.fail(1, "the strains' energy is least %.3g away, over %v of %q", step, c.coords[i].Motion, c.coords[i].Body)
		}
	}
}

// step is a step over a coordinate in which energy bends little: shorter where a link is short.
func (c *checker) step(i int) float64 { return longest / 2 * c.scale(i) * min(1, c.shortest/c.widest) }

// derivatives holds an answer to law 2.
func (c *checker) derivatives(s state, in []float64) {
	all := len(c.coords)
	got := make([]float64, all)
	compare := func(what string, got, want []float64, unsure, least float64) {
		most := least
		for i := range got {
			most = max(most, math.Abs(want[i])/c.scale(i))
		}
		for i := range got {
			if d := math.Abs(got[i] - want[i]); !(d <= (slope*most+unsure)*c.scale(i)) {
				c.fail(2, "over %s %v of %q goes by %.12g, by differences by %.12g", what, c.coords[i].Motion, c.coords[i].Body, got[i], want[i])
			}
		}
	}
	effect := func(p network.Part) func(by float64) ([]float64, bool) {
		return func(by float64) ([]float64, bool) {
			t := c.changed(p, by)
			if t == nil || t.Solve(in) != nil {
				return nil, false
			}
			x := make([]float64, all)
			return x, t.Coordinates(x) == nil
		}
	}
	noise := 0.
	if len(c.parts) > 0 {
		noise = noiseOf(c.size, c.scale, effect(c.parts[0]))
	}
	for k, i := range c.net.Inputs() {
		if err := s.InputEffect(got, k); err != nil {
			c.fail(2, "InputEffect refuses: %v", err)
			return
		}
		moved, t := slices.Clone(in), c.state(c.net)
		want, unsure, ok := differences(longest*c.scale(i), 1/c.scale(i), noise, c.scale, func(by float64) ([]float64, bool) {
			moved[k] = in[k] + by
			if t.Solve(moved) != nil {
				return nil, false
			}
			return c.read(t), true
		})
		if ok {
			compare("input "+c.coords[i].Body, got, want, unsure, 1/c.scale(i))
		}
	}
	outputs := make([]float64, all)
	for i := range outputs {
		outputs[i] = math.Sin(float64(3*i + 1)) // as good as any
	}
	sums := make([]float64, len(c.parts))
	if err := s.Gradient(sums, outputs, c.parts); err != nil {
		c.fail(2, "Gradient refuses: %v", err)
		return
	}
	for k, p := range c.parts {
		if err := s.Effect(got, p); err != nil {
			c.fail(2, "Effect refuses: %v", err)
			return
		}
		var sum, scale float64
		for i, g := range got {
			sum += outputs[i] * g
			scale += math.Abs(g)
		}
		if d := math.Abs(sums[k] - sum); !(d <= 1e-10*(scale+math.Abs(sum))+1e-14) {
			c.fail(2, "the gradient over %v is %.12g, and the sum of effects %.12g", p, sums[k], sum)
		}
		h, least := longest, 1.
		if p.Kind() != network.Lie && p.Kind() != network.Bearing {
			h, least = longest*c.size, 1/c.size
		}
		want, unsure, ok := differences(h, least, noise, c.scale, effect(p))
		if !ok {
			continue // changed, it cannot get there
		}
		compare(p.String(), got, want, unsure, least)
	}
}

// changed returns a state of the network with a part changed, or nil where New refuses it.
// It is made once for all inputs.
func (c *checker) changed(p network.Part, by float64) state {
	k := change{p, by}
	s, made := c.changes[k]
	if made {
		return s
	}
	if spec, err := c.net.Changed(p, by); err == nil {
		if n, err := network.New(spec); err == nil {
			s = c.state(n)
		}
	}
	c.changes[k] = s
	return s
}

// power holds an answer to law 3.
func (c *checker) power(s state, x []float64) {
	load := c.net.NewLoad()
	for i := range load {
		load[i] = math.Cos(float64(2*i+1)) / c.scale(i)
	}
	none := c.net.NewLoad()
	n := len(c.net.Inputs())
	torques, idle := make([]float64, n), make([]float64, n)
	forces, fights := make([]units.Force, len(c.spec.Links)), make([]units.Force, len(c.spec.Links))
	if err := errors.Join(s.Carry(torques, forces, load), s.Carry(idle, fights, none)); err != nil {
		c.fail(3, "Carry refuses: %v", err)
		return
	}
	step := make([]float64, len(c.coords))
	for k := range torques {
		if err := s.InputEffect(step, k); err != nil {
			c.fail(3, "InputEffect refuses: %v", err)
			return
		}
		work, scale := torques[k]-idle[k], math.Abs(torques[k])
		for i, d := range step {
			work += load[i] * d
			scale += math.Abs(load[i] * d)
		}
		if !(math.Abs(work) <= 1e-10*scale) {
			c.fail(3, "input %d gives the work %.12g over its coordinate, and %.3g is lost", k+1, torques[k]-idle[k], work)
		}
	}
	// The links' forces hold every unknown: those the load adds, and those of fights.
	for i := range x {
		if c.coords[i].Input {
			continue
		}
		moved := slices.Clone(x)
		unit := func(int) float64 { return c.size }
		strain := func(by float64) ([]float64, bool) {
			moved[i] = x[i] + by
			return strains(c.spec, moved), true
		}
		slopes, unsure, ok := differences(longest*c.scale(i), 1/c.scale(i), noiseOf(c.scale(i), unit, strain), unit, strain)
		if !ok {
			continue
		}
		var left, scale, fight, most, blur float64
		stiff := 0. // what rounding of the strains can make of the forces
		for l, d := range slopes {
			left += float64(forces[l]-fights[l]) * d
			scale += math.Abs(float64(forces[l]-fights[l]) * d)
			fight += float64(fights[l]) * d
			most += math.Abs(float64(fights[l]) * d)
			blur += (math.Abs(float64(forces[l])) + 2*math.Abs(float64(fights[l]))) * unsure * c.size
			stiff += float64(c.spec.Links[l].Stiffness) * math.Abs(d) * rounding * c.size
		}
		if !(math.Abs(fight) <= slope*most+stiff+blur) {
			c.fail(3, "the fights leave %.3g on %v of %q", fight, c.coords[i].Motion, c.coords[i].Body)
		}
		if left -= load[i]; !c.net.Strained() && !(math.Abs(left) <= slope*(scale+math.Abs(load[i]))+blur) {
			c.fail(3, "the links leave %.3g of a load on %v of %q", left, c.coords[i].Motion, c.coords[i].Body)
		}
	}
}

// inverse holds an answer to law 4, with the first bodies that will do for inputs.
func (c *checker) inverse(in, neutral, x []float64, off float64) {
	if c.net.Strained() {
		return
	}
	spec, ok := c.turned()
	if !ok {
		return
	}
	n, err := network.New(spec)
	if err != nil {
		return
	}
	// From a drawing that links do not fit, the two can have gone to two branches.
	s := c.state(n)
	start := c.read(s)
	var from, given []float64
	for _, i := range c.net.Inputs() {
		from = append(from, start[i])
	}
	for _, i := range n.Inputs() {
		given = append(given, x[i])
	}
	if !c.meets(from, start) {
		if c.fits(start) && !c.fits(c.drawing()) {
			return
		}
		from = neutral
	}
	if !c.oneWay(in, from, n.Inputs()) {
		return
	}
	if s.Solve(given) != nil {
		return // on the way there it has dead centres of its own
	}
	if h := s.Hold(); !(h > leastHold) {
		return
	}
	c.same(4, "the other way round", c.read(s), x, off)
}

// drawing returns the coordinates of the drawing.
func (c *checker) drawing() []float64 {
	x := make([]float64, len(c.coords))
	for i := range x {
		if b, _ := find(c.spec, c.coords[i].Body); c.coords[i].Motion == network.Height {
			x[i] = float64(b.Height)
		}
	}
	return x
}

// fits reports whether every link has its length at x.
func (c *checker) fits(x []float64) bool {
	for _, e := range strains(c.spec, x) {
		if !(math.Abs(e) <= jump*c.size) {
			return false
		}
	}
	return true
}

// meets reports whether the network answers inputs with x.
func (c *checker) meets(inputs, x []float64) bool {
	s := c.state(c.net)
	if s.Solve(inputs) != nil {
		return false
	}
	for i, v := range c.read(s) {
		if !(math.Abs(v-x[i]) <= jump*c.scale(i)) {
			return false
		}
	}
	return true
}

// oneWay reports whether the outputs keep telling of the inputs as these go from from to
// in: where a servo passes its own dead centre what it drives turns back, and two of its
// angles have the same answer.
func (c *checker) oneWay(in, from []float64, outputs []int) bool {
	const samples = 32
	s := c.state(c.net)
	slopes := mat.NewDense(len(in), len(in), nil)
	step := make([]float64, len(c.coords))
	var first float64
	for i := range samples + 1 {
		way := make([]float64, len(in))
		for k := range in {
			way[k] = from[k] + float64(i)/samples*(in[k]-from[k])
		}
		if s.Solve(way) != nil {
			return false
		}
		for k := range in {
			if s.InputEffect(step, k) != nil {
				return false
			}
			for o, j := range outputs {
				slopes.Set(o, k, step[j])
			}
		}
		if i == 0 {
			first = mat.Det(slopes)
		}
		if !(mat.Det(slopes)/first > leastHold) {
			return false
		}
	}
	return true
}

// turned returns the description with other bodies for inputs.
func (c *checker) turned() (network.Spec, bool) {
	want := len(c.net.Inputs())
	spec := c.net.Spec()
	for i := range spec.Bodies {
		spec.Bodies[i].Input = false
	}
	for _, plates := range []bool{true, false} {
		for i := len(spec.Bodies) - 1; i >= 0; i-- {
			b := &spec.Bodies[i]
			f := freedoms(b.Kind)
			if f == 0 || f > want || (b.Kind == network.Plate) != plates || c.spec.Bodies[i].Input {
				continue
			}
			b.Input = true
			want -= f
		}
	}
	return spec, want == 0
}

// mirrored holds an answer to law 5: right for left.
func (c *checker) mirrored(in, x []float64, off float64) {
	spec := c.net.Spec()
	flip := func(p *linkage.Point) { p.X = -p.X }
	for i := range spec.Bodies {
		b := &spec.Bodies[i]
		flip(&b.Point)
		if b.Kind == network.Slider {
			b.Axis.X = -b.Axis.X
		} else {
			b.Axis.Y, b.Axis.Z = -b.Axis.Y, -b.Axis.Z // turns the same way in the mirror
		}
		if m, ok := b.Mark.Bearing(); ok {
			b.Mark = network.MarkAt(-m)
		}
	}
	for i := range spec.Balls {
		flip(&spec.Balls[i].At)
	}
	n, err := network.New(spec)
	if err != nil {
		c.fail(5, "New refuses the mirror image: %v", err)
		return
	}
	image := func(x []float64, index func(i int) int) []float64 {
		x = slices.Clone(x)
		for i := range x {
			if c.coords[index(i)].Motion == network.RightPart {
				x[i] = -x[i]
			}
		}
		return x
	}
	s := c.state(n)
	if err := s.Solve(image(in, func(k int) int { return c.net.Inputs()[k] })); err != nil {
		c.fail(5, "the mirror image refuses: %v", err)
		return
	}
	c.same(5, "in the mirror", image(c.read(s), func(i int) int { return i }), x, 10*off)
}

// continuous holds an answer to law 6.
func (c *checker) continuous(in, neutral, x []float64, off float64) {
	const samples, halvings = 16, 40
	s := c.state(c.net)
	at := func(part float64) ([]float64, bool) {
		way := make([]float64, len(in))
		for k := range in {
			way[k] = neutral[k] + part*(in[k]-neutral[k])
		}
		if part == 1 {
			copy(way, in)
		}
		if err := s.Solve(way); err != nil {
			c.fail(6, "what has an answer has none at %.17g of the way: %v", part, err)
			return nil, false
		}
		return c.read(s), true
	}
	gap := func(i int, a, b []float64) float64 { return math.Abs(a[i]-b[i]) / c.scale(i) }
	far := func(a, b []float64) (most float64) {
		for i := range a {
			most = max(most, gap(i, a, b))
		}
		return most
	}
	// lopsided tells in which half a coordinate jumps: what only moves does so in both.
	lopsided := func(a, m, b []float64) (most float64) {
		for i := range m {
			if d := gap(i, a, m) - gap(i, m, b); math.Abs(d) > math.Abs(most) {
				most = d
			}
		}
		return most
	}
	before, ok := at(0)
	if !ok {
		return
	}
	for i := range samples {
		low, high := float64(i)/samples, float64(i+1)/samples
		there, ok := at(high)
		if !ok {
			return
		}
		next := there
		for k := 0; k < halvings && far(before, there) > jump; k++ {
			middle := low + (high-low)/2
			m, ok := at(middle)
			if !ok {
				return
			}
			if lopsided(before, m, there) > 0 {
				high, there = middle, m
			} else {
				low, before = middle, m
			}
		}
		if far(before, there) > jump {
			c.fail(6, "a coordinate jumps by %.3g at %.9g of the way", far(before, there), low)
		}
		before = next
	}
	c.same(6, "come from near by", before, x, off)
}

// listed holds an answer to law 9: all in the other order.
func (c *checker) listed(in, x []float64, off float64) {
	spec := c.net.Spec()
	slices.Reverse(spec.Bodies)
	slices.Reverse(spec.Balls)
	slices.Reverse(spec.Links)
	n, err := network.New(spec)
	if err != nil {
		c.fail(9, "New refuses the description in the other order: %v", err)
		return
	}
	// Coordinates of one body keep their order.
	there := make([]int, len(c.coords))
	for i, co := range c.coords {
		first, _ := n.Coordinate(co.Body)
		mine, _ := c.net.Coordinate(co.Body)
		there[i] = first + i - mine
	}
	given := make([]float64, len(in))
	for k, i := range n.Inputs() {
		for l, j := range c.net.Inputs() {
			if there[j] == i {
				given[k] = in[l]
			}
		}
	}
	s := c.state(n)
	if err := s.Solve(given); err != nil {
		c.fail(9, "in the other order it refuses: %v", err)
		return
	}
	got := make([]float64, len(x))
	for i := range x {
		got[i] = s.Coordinate(there[i])
	}
	c.same(9, "in the other order", got, x, off)
}

// allocates holds the network to law 7.
func (c *checker) allocates(s state, in, neutral []float64) {
	const runs = 5
	step := make([]float64, len(c.coords))
	torques, forces := make([]float64, len(in)), make([]units.Force, len(c.spec.Links))
	load := c.net.NewLoad()
	sums := make([]float64, len(c.parts))
	for name, f := range map[string]func(){
		"Solve": func() { _ = s.Solve(in); _ = s.Solve(neutral) },
		"Effect": func() {
			for _, p := range c.parts {
				_ = s.Effect(step, p)
			}
		},
		"InputEffect": func() { _ = s.InputEffect(step, 0) },
		"Gradient":    func() { _ = s.Gradient(sums, step, c.parts) },
		"Carry":       func() { _ = s.Carry(torques, forces, load) },
		"Play":        func() { _ = s.Play(step) },
	} {
		if len(in) == 0 && name == "InputEffect" || s.Solve(in) != nil {
			continue // an error may
		}
		if a := testing.AllocsPerRun(runs, f); a > 0 {
			c.fail(7, name+" allocates %v times", a)
		}
	}
}

// refused holds a refusal of finite inputs to law 8.
func (c *checker) refused(s state, in []float64, err error) {
	var field *units.FieldError
	var dead *network.DeadCentreError
	var tilt *network.TiltError
	switch {
	case errors.As(err, &dead):
		_, link := c.net.Link(dead.Link)
		_, body := c.net.Coordinate(dead.Body)
		if !link || !body {
			c.fail(8, "Solve's error names what there is not: %v", err)
		}
		if !(dead.Part >= 0 && dead.Part <= 1) || !(dead.Margin >= 0 && dead.Margin <= 1+1e-9) {
			c.fail(8, "Solve's error tells of the part %v and the margin %v", dead.Part, dead.Margin)
		}
	case errors.As(err, &tilt):
		if b, _ := find(c.spec, tilt.Plate); b.Kind != network.Plate {
			c.fail(8, "Solve's error names no plate: %v", err)
		}
	case errors.As(err, &field):
		// Of an input farther than any is followed: radians, or lengths of a link.
		far := false
		for k, x := range in {
			far = far || field.Field == fmt.Sprintf("inputs[%d]", k) && math.Abs(x) > farthest*min(1, c.size)
		}
		if !far {
			c.fail(8, "Solve refuses an input that is not far: %v", err)
		}
	default:
		c.fail(8, "Solve's error is a %T: %v", err, err)
	}
	c.silent(s)
}

// silent sees that a state that failed tells nothing.
func (c *checker) silent(s state) {
	if len(c.coords) > 0 && !math.IsNaN(s.Coordinate(0)) {
		c.fail(8, "after an error Coordinate is %v", s.Coordinate(0))
	}
	if len(c.spec.Balls) > 0 && !math.IsNaN(float64(s.Position(0).X)) {
		c.fail(8, "after an error Position is %v", s.Position(0))
	}
	if !math.IsNaN(s.Hold()) {
		c.fail(8, "after an error Hold is %v", s.Hold())
	}
	x := make([]float64, len(c.coords))
	var input *units.FieldError
	for name, err := range map[string]error{
		"Coordinates": s.Coordinates(x),
		"Strains":     s.Strains(make([]units.Length, len(c.spec.Links))),
		"Play":        s.Play(x),
		"Carry":       s.Carry(nil, nil, c.net.NewLoad()),
	} {
		if !errors.As(err, &input) {
			c.fail(8, "after an error "+name+" gives %v", err)
		}
	}
}

// refusals holds the network to law 8 where inputs are no numbers, or too many.
func (c *checker) refusals(neutral []float64) {
	s := c.state(c.net)
	var input *units.FieldError
	for k := range neutral {
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			in := slices.Clone(neutral)
			in[k] = bad
			if err := s.Solve(in); !errors.As(err, &input) {
				c.fail(8, "Solve takes %v, and gives %v", bad, err)
			}
			c.silent(s)
		}
	}
	if err := s.Solve(append(slices.Clone(neutral), 0)); !errors.As(err, &input) {
		c.fail(8, "Solve takes one input too many, and gives %v", err)
	}
	c.silent(s)
	if err := s.Solve(neutral); err != nil {
		c.fail(8, "Solve refuses neutral after an error: %v", err)
	}
	x := make([]float64, len(c.coords)+1)
	if err := s.Coordinates(x); !errors.As(err, &input) {
		c.fail(8, "Coordinates takes one number too many, and gives %v", err)
	}
}
