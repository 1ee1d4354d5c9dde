package network

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.org/levelhead/units"
)

const (
	// shortest is the shortest step, in radians or over the links' mean length: where
	// a shorter one is wanted there is a dead centre.
	shortest = 1e-10
	// first is about as long as a first step can be, likewise.
	first = 0.085
	// again is the size of a step, weighed from which on the slopes at
	// its start serve the next ones, too.
	again = 2e-3
	// enough is the size of an error that counts as none.
	enough = 1e-15
	// rounding is as large as an error can be that rounding makes.
	rounding = 1e-8
	// maxPolish bounds the steps at the end. Three or four are needed, and more only
	// near a dead centre, where rounding is magnified.
	maxPolish = 40
)

// maxTilt is as far as a plate is followed.
const maxTilt = 45 * units.Degree

// steepest is the third part of the normal of a plate that tilts as far.
var steepest = math.Cos(float64(maxTilt))

// Solve finds where the network stands with the inputs, in the order of Inputs: in
// radians from neutral for cranks, in metres from neutral for sliders, and for a plate
// that is an input its height and the level parts of its normal. The answer is the one
// continuous with neutral as all inputs go from there to their values together. Where
// the state already stands near, one step from there finds it; a step is taken only
// where it is proven that it leads to no other answer. The error is a
// *DeadCentreError, a *TiltError or a *units.FieldError.
func (s *State) Solve(inputs []float64) error {
	if err := s.check(inputs); err != nil {
		return err
	}
	if s.solved && s.near(inputs) {
		return nil
	}
	_, err := s.follow(inputs, 1)
	return err
}

// farthest is how far from neutral an input is followed: in radians, and in mean lengths of a
// link. It is some sixteen turns, far beyond what any servo drives, and bounds the time.
const farthest = 100

func (s *State) check(inputs []float64) error {
	n := s.net
	if n == nil {
		return errNoState
	}
	if err := sized("inputs", len(inputs), len(n.inputs), "inputs"); err != nil {
		s.solved = false
		return err
	}
	for k, x := range inputs {
		fail := func(reason string, args ...any) error {
			s.solved = false
			return &units.FieldError{Field: fmt.Sprintf("inputs[%d]", k), Words: fmt.Sprintf("network: input %d, of %q:", k+1, n.coords[n.inputs[k]].Body), Reason: fmt.Sprintf(reason, args...)}
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fail("is not finite")
		}
		if most := farthest / n.weights[n.inputs[k]]; math.Abs(x) > most {
			return fail("must be within ±%.4g, not %.4g: no network is followed farther", most, x)
		}
	}
	return nil
}

// near solves in one step from where the state stands, if that is proven.
func (s *State) near(inputs []float64) bool {
	n, v := s.net, &s.view
	for k, c := range n.inputs {
		s.way[k] = inputs[k] - v.x[c]
	}
	for _, c := range n.unknown {
		s.fix[c] = v.x[c] - s.looked[c]
	}
	s.aim(v)
	if worst, _ := s.sure(v, 1); !(worst <= 1) {
		return false
	}
	for c := range v.x {
		v.x[c] = s.looked[c] + s.fix[c] + s.tangent[c] + 0.5*s.curve[c]
	}
	for k, c := range n.inputs {
		v.x[c] = inputs[k]
	}
	copy(s.expect, v.x)
	return s.look() < 0 && s.tilted() < 0 && s.expected() && s.polish()
}

// follow goes from neutral to inputs, or as far as it can, and returns how far that is
// and what stops it.
func (s *State) follow(inputs []float64, most float64) (float64, error) {
	n := s.net
	v := &n.neutral
	var far float64
	for k, c := range n.inputs {
		s.way[k] = inputs[k] - v.x[c]
		far = max(far, math.Abs(s.way[k])*n.weights[c])
	}
	clear(s.fix)
	copy(s.looked, v.x)
	return s.walk(v, far, most)
}

// walk goes the way from v, in steps that are proven.
func (s *State) walk(v *view, far, most float64) (done float64, err error) {
	n := s.net
	s.solved, s.placed, s.fresh = false, false, false
	limit := min(most, first/far)
	for {
		s.aim(v)
		t := min(most-done, limit)
		var worst float64
		var where int
		for {
			if worst, where = s.sure(v, t); worst <= 1 {
				break
			}
			if !(t*far > shortest) {
				return done, s.lostAt(v, where, done)
			}
			t *= max(0.3, math.Cbrt(0.7/worst))
		}
		next := done + t
		if next > most*(1-1e-15) {
			next = most
		}
		if next == done && done < most {
			return done, s.lostAt(v, where, done)
		}
		copy(s.before, s.looked)
		for c := range s.expect {
			s.expect[c] = s.looked[c] + s.fix[c] + t*(s.tangent[c]+0.5*t*s.curve[c])
		}
		for k, c := range n.inputs {
			s.expect[c] = n.neutral.x[c] + next*s.way[k]
		}
		copy(s.view.x, s.expect)
		s.lengthen(next)
		block := s.look()
		if p := s.tilted(); p >= 0 {
			return done, &TiltError{Plate: n.bodies[p].name, Tilt: maxTilt, Part: done}
		}
		if block < 0 && s.expected() {
			// What fails first does so about as the cube of the step.
			done, limit, v = next, t*min(2, math.Cbrt(0.7/worst)), &s.view
			if done < most {
				continue
			}
			if s.polish() {
				return done, nil
			}
			return done, s.lostAt(v, 0, done)
		}
		// Rounding: what is proven did not come out. Go back, and go less far.
		limit = t / 2
		copy(s.view.x, s.before)
		s.lengthen(done)
		if s.look() >= 0 || !(limit*far > shortest) {
			return done, s.lostAt(v, where, done)
		}
		v = &s.view
	}
}

// lengthen gives the links the lengths that they have at a part of the way.
func (s *State) lengthen(part float64) {
	if s.longer == nil {
		return
	}
	for k := range s.lengths {
		s.lengths[k] = s.net.links[k].length - (1-part)*s.longer[k]
	}
}

// aim finds the tangent of the way from v, and the second derivative.
func (s *State) aim(v *view) {
	n := s.net
	for k, c := range n.inputs {
		s.tangent[c] = s.way[k]
	}
	rhs := s.desk.rhs
	for i := range n.links {
		var x float64
		row := n.links[i].row
		for j := row.from; j < row.to; j++ {
			if e := &n.joins[j]; e.block < 0 {
				x += v.jac[j] * s.tangent[e.coord]
			}
		}
		if s.longer != nil {
			x -= s.longer[i]
		}
		rhs[i] = x
	}
	n.forward(v, s.tangent, rhs, s.desk.small)
	if n.spare {
		s.aimEnergy(v)
	}
	for i := range n.links {
		l := &n.links[i]
		a, paceA := s.swing(v, l.endA, v.at[l.a])
		b, paceB := s.swing(v, l.endB, v.at[l.b])
		w := v.along[i]
		by := r3.Vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z}
		along := by.X*w.X + by.Y*w.Y + by.Z*w.Z
		across := by.X*by.X + by.Y*by.Y + by.Z*by.Z - along*along
		rhs[i] = across/v.span[i] + w.X*(paceA.X-paceB.X) + w.Y*(paceA.Y-paceB.Y) + w.Z*(paceA.Z-paceB.Z)
	}
	n.forward(v, s.curve, rhs, s.desk.small)
}

// aimEnergy adds to the tangent what the strains' own pull does.
func (s *State) aimEnergy(v *view) {
	n := s.net
	u := len(n.unknown)
	for k, e := range n.unknown {
		var x float64
		for _, c := range n.inputs {
			x += v.second[e*len(n.coords)+c] * s.tangent[c]
		}
		for r, c := range n.unknown {
			s.tangent[c] -= v.hess[r*u+k] * x
		}
	}
}

// look moves the bodies to the coordinates, takes the slopes and the inverse there, and
// finds Newton's correction. It returns the first block without an inverse, or -1.
func (s *State) look() int {
	n, v := s.net, &s.view
	n.move(v, s.lengths)
	n.slope(v)
	copy(s.looked, v.x)
	s.placed = true
	if i := n.factor(v, &s.desk); i >= 0 {
		return i
	}
	s.correct()
	return -1
}

// correct finds Newton's correction.
func (s *State) correct() {
	n, v := s.net, &s.view
	if n.spare {
		s.correctEnergy()
		return
	}
	n.forward(v, s.fix, v.strain, s.desk.small)
}

// correctEnergy is correct with the strains' slopes as they now are.
func (s *State) correctEnergy() {
	n, v := s.net, &s.view
	b := &n.blocks[0]
	u := len(b.unknown)
	g := s.desk.small[:u]
	clear(g)
	p := 0
	for _, k := range b.links {
		l := &n.links[k]
		for j := l.row.from; j < l.row.to; j++ {
			if c := b.row[p]; c >= 0 {
				g[c] += l.weight * v.strain[k] * v.jac[j]
			}
			p++
		}
	}
	for r, c := range b.unknown {
		var x float64
		for k := range u {
			x -= v.hess[r*u+k] * g[k]
		}
		s.fix[c] = x
	}
}

// expected reports whether Newton's correction leads where the answer is.
func (s *State) expected() bool {
	for i := range s.net.blocks {
		b := &s.net.blocks[i]
		for r, c := range b.unknown {
			off, sure := math.Abs(s.view.x[c]+s.fix[c]-s.expect[c]), 2*s.bounds[c].off+1e-12/s.net.weights[c]
			if !(off <= sure || off <= sure+s.unsure(b, r)) {
				return false
			}
		}
	}
	return true
}

// unsure returns how far the rounding of a block's links, a few units in their lengths' last
// places, moves the coordinate of a row: an arm of a hundredth of a millimetre turns
// visibly by that of a long link.
func (s *State) unsure(b *block, r int) float64 {
	var off float64
	for k, l := range b.links {
		off += math.Abs(s.view.inv[b.inv+r*len(b.links)+k]) * 0x1p-50 * s.view.span[l]
	}
	return min(off, rounding/s.net.weights[b.unknown[r]])
}

// tilted returns a plate that tilts too far, or -1.
func (s *State) tilted() int {
	for i := range s.net.bodies {
		if b := &s.net.bodies[i]; b.kind == Plate && !(s.view.places[i].stand.N.Z > steepest) {
			return i
		}
	}
	return -1
}

// polish takes Newton's correction, and the next ones, until none is left.
func (s *State) polish() bool {
	n, v := s.net, &s.view
	var last float64
	started, stalled := false, false
	for range maxPolish {
		var size float64
		for _, c := range n.unknown {
			v.x[c] += s.fix[c]
			size = max(size, math.Abs(s.fix[c])*n.weights[c])
		}
		s.placed, s.fresh = false, false
		if size <= enough || started && (size*size < 0.1*enough*last || size < 1e-13 && size >= 0.5*last) {
			s.solved = true
			return true
		}
		if !(size < 1) {
			return false
		}
		// Near a dead centre rounding is magnified: where a step with the slopes of the
		// spot is no smaller than the last, it is rounding.
		if last != 0 && size >= 0.5*last && size < rounding {
			if stalled {
				s.solved = true
				return true
			}
			stalled, last = true, size
			if s.look() >= 0 {
				return false
			}
			continue
		}
		if !started || size > again {
			started = true
			if size > again || last != 0 {
				last = 0
				if s.look() >= 0 {
					return false
				}
				continue
			}
		}
		last = size
		n.move(v, s.lengths)
		if n.spare {
			n.slope(v)
		}
		s.correct()
	}
	return false
}

// settle finds where the network stands at neutral.
func (n *Network) settle() error {
	s := n.newState()
	v := &s.view
	n.drawn(v)
	drawn := make([]float64, len(n.links))
	n.move(v, drawn)
	copy(drawn, v.span)
	longer, far := make([]float64, len(n.links)), 0.
	worst := 0
	for i := range n.links {
		longer[i] = n.links[i].length - drawn[i]
		far = max(far, math.Abs(longer[i])/n.size)
		if math.Abs(longer[i]) > math.Abs(longer[worst]) {
			worst = i
		}
	}
	s.longer = longer
	copy(s.lengths, drawn)
	n.neutral = n.newView()
	copy(n.neutral.x, v.x)
	fail := func(err error) error {
		return &FitError{n.spec.Links[worst].Name, units.Length(-longer[worst]), err}
	}
	if i := s.look(); i >= 0 {
		return fail(s.lostAt(v, i, 0))
	}
	if len(n.unknown) > 0 && far > 0 {
		if _, err := s.walk(v, far, 1); err != nil {
			return fail(err)
		}
	}
	s.solved = true
	copy(s.lengths, n.lengths())
	s.placed, s.fresh = false, false
	if err := s.linear(); err != nil {
		return fail(err)
	}
	n.neutral = *v
	n.senses = make([]float64, len(n.terms))
	for i := range n.links {
		l := &n.links[i]
		for _, e := range [2]span{l.endA, l.endB} {
			for k := e.from; k < e.to; k++ {
				n.senses[k] = math.Copysign(1, r3.Dot(v.along[i], v.slopes[k]))
			}
		}
	}
	return nil
}

// lost is lostAt the state's own view.
func (s *State) lost(block int, part float64) error { return s.lostAt(&s.view, block, part) }

// lostAt names what loses its hold in a block: where the inverse is largest.
func (s *State) lostAt(v *view, block int, part float64) error {
	n := s.net
	b := &n.blocks[block]
	m := len(b.links)
	link, coord, most := b.links[0], b.unknown[0], -1.
	for r, c := range b.unknown {
		for k, l := range b.links {
			// Over the scale of the coordinate, so that lengths and angles compare.
			x := math.Abs(v.inv[b.inv+r*m+k]) * n.weights[c]
			if x > most {
				link, coord, most = l, c, x
			}
		}
	}
	return &DeadCentreError{Link: n.spec.Links[link].Name, Body: n.coords[coord].Body, Margin: n.sine(v, link, coord), Part: part}
}

// sine returns the sine of the angle between a link and one line with a coordinate's
// motion lost: how much of the motion of its ball is along it.
func (n *Network) sine(v *view, link, coord int) float64 {
	l := &n.links[link]
	var along, lever float64
	for _, e := range [2]span{l.endA, l.endB} {
		for k := e.from; k < e.to; k++ {
			if n.terms[k].coord == coord {
				lever = max(lever, v.lever[k])
			}
		}
	}
	for j := l.row.from; j < l.row.to; j++ {
		if n.joins[j].coord == coord {
			along = v.jac[j]
		}
	}
	if lever == 0 {
		return 0
	}
	return math.Abs(along) / lever
}
