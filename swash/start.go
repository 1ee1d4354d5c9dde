package swash

import "gonum.org/v1/gonum/spatial/r3"

// start tells about where a plate of three legs stands, for Newton's iteration to
// begin at: its attitude as a power series to second order in the sines s of the arm
// angles, about neutral. Steps count the height in the plate's sizes.
type start struct {
	at            attitude
	size          float64
	guided        bool
	first         [3]r3.Vec // dx/ds
	square, cross [3]r3.Vec // d²x/ds²/2 of each arm, and d²x/ds ds of each with the next
}

// of returns the attitude for the arms' balls, to second order.
func (s *start) of(balls []armBall) attitude {
	a, b, c := balls[0].sin, balls[1].sin, balls[2].sin
	x := r3.Scale(-a, r3.Add(s.first[0], r3.Add(r3.Scale(a, s.square[0]), r3.Scale(b, s.cross[0]))))
	y := r3.Scale(-b, r3.Add(s.first[1], r3.Add(r3.Scale(b, s.square[1]), r3.Scale(c, s.cross[1]))))
	z := r3.Scale(-c, r3.Add(s.first[2], r3.Add(r3.Scale(c, s.square[2]), r3.Scale(a, s.cross[2]))))
	at := s.at.less(r3.Add(x, r3.Add(y, z)), s.size)
	if s.guided {
		at.x += 0.5 * at.x * at.y * at.y
	}
	return at
}

// start works out the series at the neutral attitude, where the arms' balls are.
//
// With d from arm ball A to plate ball B, each leg keeps G = d . d / 2. So with x
// the unknowns and subscripts for derivatives over the sines,
//
//	J x_i  + d . (-A_i) = 0
//	J x_ij + d_i . d_j + d . (B_ij - A_ij) = 0,  B_ij without its part J x_ij
func (p *Plate) start(at attitude, balls []armBall) start {
	s := start{at: at, size: p.size, guided: p.guide.fitted}
	var v view
	var rows system
	var inverse inverse
	v.set(p, at)
	p.three(&rows, &v, balls)
	rows.invert(&inverse)
	var span, end [3]r3.Vec // d and where B is from the plate's centre
	var arm [3]r3.Vec       // A from the shaft; at neutral A_ii is minus that
	for i := range p.legs {
		l := &p.legs[i]
		span[i], end[i] = l.span(&v, balls[i].at)
		arm[i] = l.out
		s.first[i] = r3.Scale(l.scale*r3.Dot(span[i], balls[i].slope), inverse[i])
	}
	guide := Guide{cos: 1, fitted: p.guide.fitted} // in its own frame
	v.stand = guide.stand(v.n.X, v.n.Y)            // with its a
	second := func(i, j int) r3.Vec {
		si, sj := level(s.first[i]), level(s.first[j])
		ti, tj, bend := v.turn(si), v.turn(sj), guide.bend(&v.stand, si, sj)
		var g [3]float64
		for k := range p.legs {
			bi, bj := r3.Cross(ti, end[k]), r3.Cross(tj, end[k])
			bi.Z += p.size * s.first[i].X
			bj.Z += p.size * s.first[j].X
			b := r3.Add(r3.Cross(bend, end[k]), r3.Cross(ti, r3.Cross(tj, end[k])))
			if i == k {
				bi = r3.Sub(bi, balls[k].slope)
			}
			if j == k {
				bj = r3.Sub(bj, balls[k].slope)
			}
			if i == k && j == k {
				b = r3.Add(b, arm[k])
			}
			g[k] = -p.legs[k].scale * (r3.Dot(bi, bj) + r3.Dot(span[k], b))
		}
		return inverse.times(r3.Vec{X: g[0], Y: g[1], Z: g[2]})
	}
	for i := range s.square {
		s.square[i] = r3.Scale(0.5, second(i, i))
		s.cross[i] = second(i, (i+1)%3)
	}
	return s
}

// level returns the level parts of the normal in a step of the unknowns.
func level(x r3.Vec) r3.Vec { return r3.Vec{X: x.Y, Y: x.Z} }
