package network

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// view is what is known of a network at its coordinates x.
type view struct {
	x      []float64 // by coordinate
	places []place   // by body
	at     []r3.Vec  // by ball
	along  []r3.Vec  // by link: from its second ball to the first, at length 1
	span   []float64 // by link: between the balls
	strain []float64 // by link: of the lengths asked for
	slopes []r3.Vec  // by term: the ball's, over the coordinate
	lever  []float64 // by term: the amount of that
	curl   []float64 // by term: the second derivative's part along the link; then, by term again, that of a plate's two tilts together
	jac    []float64 // by join: the strain's slope over the coordinate
	inv    []float64 // by block: the inverse of its part of jac; of a strained network that of JᵀWJ, times JᵀW
	hess   []float64 // of a strained network: the inverse of the energy's second derivative
	second []float64 // of a strained network: Σ w F F'' over all coordinates, row by row
	det    []float64 // by block
}

// place is where a body stands: what is drawn at v at neutral is at turn v + shift.
type place struct {
	x, y, z r3.Vec // columns of the turn
	shift   r3.Vec
	// centre is a point on the shaft, or the plate's centre, and axis the shaft's
	// or line's direction.
	centre, axis r3.Vec
	stand        Stand  // of a plate or ring
	perX, perY   r3.Vec // how it turns with the parts of its normal
	// how those change
	bendXX, bendXY, bendYY r3.Vec
}

func (n *Network) newView() view {
	v := view{
		x:      make([]float64, len(n.coords)),
		places: make([]place, len(n.bodies)),
		at:     make([]r3.Vec, len(n.balls)),
		along:  make([]r3.Vec, len(n.links)),
		span:   make([]float64, len(n.links)),
		strain: make([]float64, len(n.links)),
		slopes: make([]r3.Vec, len(n.terms)),
		lever:  make([]float64, len(n.terms)),
		curl:   make([]float64, 2*len(n.terms)),
		jac:    make([]float64, len(n.joins)),
		inv:    make([]float64, n.inverse),
		det:    make([]float64, len(n.blocks)),
	}
	if n.spare {
		v.hess = make([]float64, len(n.unknown)*len(n.unknown))
		v.second = make([]float64, len(n.coords)*len(n.coords))
	}
	return v
}

// drawn puts v at the coordinates of the drawing.
func (n *Network) drawn(v *view) {
	for i := range n.bodies {
		if b := &n.bodies[i]; b.kind == Plate {
			v.x[b.coord], v.x[b.coord+1], v.x[b.coord+2] = b.height, 0, 0
		} else if b.kind != Ring {
			v.x[b.coord] = 0
		}
	}
}

func (p *place) turn(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: p.x.X*v.X + p.y.X*v.Y + p.z.X*v.Z,
		Y: p.x.Y*v.X + p.y.Y*v.Y + p.z.Y*v.Z,
		Z: p.x.Z*v.X + p.y.Z*v.Y + p.z.Z*v.Z,
	}
}

func (p *place) carry(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: p.x.X*v.X + p.y.X*v.Y + p.z.X*v.Z + p.shift.X,
		Y: p.x.Y*v.X + p.y.Y*v.Y + p.z.Y*v.Z + p.shift.Y,
		Z: p.x.Z*v.X + p.y.Z*v.Y + p.z.Z*v.Z + p.shift.Z,
	}
}

// move puts the bodies, balls and links where v.x says, with links of length lengths.
func (n *Network) move(v *view, lengths []float64) {
	for _, i := range n.order {
		n.place(v, i)
	}
	for i := range n.balls {
		b := &n.balls[i]
		if b.body < 0 {
			v.at[i] = b.at
			continue
		}
		v.at[i] = v.places[b.body].carry(b.at)
	}
	for i := range n.links {
		l := &n.links[i]
		a, b := &v.at[l.a], &v.at[l.b]
		d := r3.Vec{X: a.X - b.X, Y: a.Y - b.Y, Z: a.Z - b.Z}
		length := math.Sqrt(d.X*d.X + d.Y*d.Y + d.Z*d.Z)
		k := 1 / length
		v.along[i] = r3.Vec{X: k * d.X, Y: k * d.Y, Z: k * d.Z}
		v.span[i] = length
		v.strain[i] = length - lengths[i]
	}
}

func (n *Network) place(v *view, i int) {
	b, p := &n.bodies[i], &v.places[i]
	switch b.kind {
	case Crank:
		sin, cos := math.Sincos(v.x[b.coord])
		u, k := b.axis, 1-cos
		p.x = r3.Vec{X: k*u.X*u.X + cos, Y: k*u.X*u.Y + sin*u.Z, Z: k*u.X*u.Z - sin*u.Y}
		p.y = r3.Vec{X: k*u.X*u.Y - sin*u.Z, Y: k*u.Y*u.Y + cos, Z: k*u.Y*u.Z + sin*u.X}
		p.z = r3.Vec{X: k*u.X*u.Z + sin*u.Y, Y: k*u.Y*u.Z - sin*u.X, Z: k*u.Z*u.Z + cos}
		p.axis, p.centre = u, b.point
		if b.on >= 0 {
			c := &v.places[b.on]
			p.x, p.y, p.z = c.turn(p.x), c.turn(p.y), c.turn(p.z)
			p.axis, p.centre = c.turn(u), c.carry(b.point)
		}
		at := p.turn(b.point)
		p.shift = r3.Vec{X: p.centre.X - at.X, Y: p.centre.Y - at.Y, Z: p.centre.Z - at.Z}
	case Slider:
		out := v.x[b.coord]
		p.axis, p.centre = b.axis, b.point
		p.x, p.y, p.z, p.shift = r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}, r3.Vec{}
		if b.on >= 0 {
			c := &v.places[b.on]
			p.x, p.y, p.z, p.shift = c.x, c.y, c.z, c.shift
			p.axis, p.centre = c.turn(b.axis), c.carry(b.point)
		}
		step := r3.Vec{X: out * p.axis.X, Y: out * p.axis.Y, Z: out * p.axis.Z}
		p.shift = r3.Add(p.shift, step)
		p.centre = r3.Add(p.centre, step)
	case Plate, Ring:
		x := v.x[b.coord : b.coord+3]
		s := &p.stand
		b.mark.Set(s, x[1], x[2])
		right, forward := r3.Vec{X: 1}, r3.Vec{Y: 1}
		p.perX, p.perY = s.Turn(right), s.Turn(forward)
		p.bendXX, p.bendXY, p.bendYY = b.mark.Bend(s, right, right), b.mark.Bend(s, right, forward), b.mark.Bend(s, forward, forward)
		sin, cos := b.mark.sin, b.mark.cos
		if !b.mark.fitted {
			sin, cos = 0, 1
		}
		// On the level plate p is (sin, cos, 0) and q is (cos, -sin, 0).
		p.x = r3.Vec{X: sin*s.P.X + cos*s.Q.X, Y: sin*s.P.Y + cos*s.Q.Y, Z: sin*s.P.Z + cos*s.Q.Z}
		p.y = r3.Vec{X: cos*s.P.X - sin*s.Q.X, Y: cos*s.P.Y - sin*s.Q.Y, Z: cos*s.P.Z - sin*s.Q.Z}
		p.z = s.N
		p.axis, p.centre = s.N, r3.Vec{Z: x[0]}
		p.shift = r3.Vec{X: -b.height * s.N.X, Y: -b.height * s.N.Y, Z: x[0] - b.height*s.N.Z}
	}
}

// slope is the Jacobian of the strains, where v was moved to.
func (n *Network) slope(v *view) {
	clear(v.jac)
	for i := range n.links {
		l := &n.links[i]
		w := v.along[i]
		n.slopeEnd(v, l.endA, v.at[l.a], w)
		n.slopeEnd(v, l.endB, v.at[l.b], w)
	}
}

func (n *Network) slopeEnd(v *view, s span, at, w r3.Vec) {
	for k := s.from; k < s.to; k++ {
		t := &n.terms[k]
		p := &v.places[t.body]
		var d r3.Vec
		switch t.motion {
		case Turn:
			d = cross(&p.axis, r3.Vec{X: at.X - p.centre.X, Y: at.Y - p.centre.Y, Z: at.Z - p.centre.Z})
		case Slide:
			d = p.axis
		case Height:
			d = r3.Vec{Z: 1}
		case RightPart:
			d = cross(&p.perX, r3.Vec{X: at.X, Y: at.Y, Z: at.Z - p.centre.Z})
		case ForwardPart:
			d = cross(&p.perY, r3.Vec{X: at.X, Y: at.Y, Z: at.Z - p.centre.Z})
		}
		v.slopes[k] = d
		if t.radius > 0 {
			v.lever[k] = t.radius
		} else {
			v.lever[k] = math.Sqrt(d.X*d.X + d.Y*d.Y + d.Z*d.Z)
		}
		v.jac[t.join] += t.sign * (d.X*w.X + d.Y*w.Y + d.Z*w.Z)
		switch t.motion {
		case Turn:
			v.curl[k] = along(w, cross(&p.axis, d))
		case ForwardPart: // after the part to the right
			from := r3.Vec{X: at.X, Y: at.Y, Z: at.Z - p.centre.Z}
			v.curl[k-1] = along(w, cross(&p.bendXX, from), cross(&p.perX, v.slopes[k-1]))
			v.curl[k] = along(w, cross(&p.bendYY, from), cross(&p.perY, d))
			v.curl[len(n.terms)+k-1] = along(w, cross(&p.bendXY, from), cross(&p.perX, d))
		}
	}
}

// along returns the amount of a sum along a direction.
func along(w r3.Vec, sum ...r3.Vec) float64 {
	var x float64
	for i := range sum {
		x += w.X*sum[i].X + w.Y*sum[i].Y + w.Z*sum[i].Z
	}
	return math.Abs(x)
}

func cross(a *r3.Vec, b r3.Vec) r3.Vec {
	return r3.Vec{X: a.Y*b.Z - a.Z*b.Y, Y: a.Z*b.X - a.X*b.Z, Z: a.X*b.Y - a.Y*b.X}
}
