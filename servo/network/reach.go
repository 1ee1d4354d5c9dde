package network

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Margin is how far a link is from a dead centre about the body that holds its ball.
type Margin struct {
	Link, Body string
	// Sine is that of the angle between the link and one line with the body's motion
	// lost, for a crank at that of its radius: 1 is square, 0 a dead centre, below 0
	// past it, counted from neutral.
	Sine float64
}

// Margins appends to dst the margin of each end of a link that is on a crank or a
// slider. The error is a *units.FieldError.
func (s *State) Margins(dst []Margin) ([]Margin, error) {
	if err := s.linear(); err != nil {
		return dst, err
	}
	n := s.net
	for i := range n.links {
		l := &n.links[i]
		for _, e := range [2]span{l.endA, l.endB} {
			if k := e.to - 1; k >= e.from && !n.plate(k) {
				dst = append(dst, Margin{n.spec.Links[i].Name, n.bodies[n.terms[k].body].name, s.marginOf(i, k)})
			}
		}
	}
	return dst, nil
}

// plate reports whether a term is of a plate or a ring.
func (n *Network) plate(k int) bool {
	return n.terms[k].motion != Turn && n.terms[k].motion != Slide
}

func (s *State) marginOf(link, term int) float64 {
	lever := s.view.lever[term]
	if lever == 0 {
		return 0
	}
	return s.net.senses[term] * r3.Dot(s.view.along[link], s.view.slopes[term]) / lever
}

// Reach goes from neutral along a direction of inputs, one number for each, and returns
// how far it can: as a multiple of the direction, at most so many. What stops it is a
// *DeadCentreError or a *TiltError, whose Part counts multiples of the direction. One is
// where the links lose their hold; the other where a crank or slider that is an input
// comes in line with its link, where what it drives stands still and then turns back.
// Where nothing stops it that is nil. The state is then as far as it could go. The error
// is a *units.FieldError.
func (s *State) Reach(direction []float64, most float64) (part float64, stop, err error) {
	n := s.net
	if err := s.check(direction); err != nil {
		return 0, nil, err
	}
	if !(most > 0) || math.IsInf(most, 0) {
		return 0, nil, refuse("most", "is not a finite number above 0")
	}
	inputs := make([]float64, len(direction))
	to := func(part float64) error {
		for k, c := range n.inputs {
			inputs[k] = n.neutral.x[c] + part*direction[k]
		}
		return s.Solve(inputs)
	}
	// In steps short enough to see an input pass its dead centre and come back.
	var far float64
	for k, c := range n.inputs {
		far = max(far, math.Abs(direction[k])*n.weights[c])
	}
	if far*most > farthest {
		return 0, nil, refuse("most", "must be no more than %.4g, not %.4g: no network is followed farther", farthest/far, most)
	}
	const seen = 0.1 // rad
	step := most
	if far > 0 {
		step = min(most, seen/far)
	}
	for part < most {
		next := min(part+step, most)
		if stop = to(next); stop == nil {
			if stop = s.inLine(next); stop == nil {
				part = next
				continue
			}
		}
		low, high := part, next
		for high-low > 1e-12*max(1, high) {
			middle := low + (high-low)/2
			err := to(middle)
			if err == nil {
				err = s.inLine(middle)
			}
			if err == nil {
				low = middle
				continue
			}
			high, stop = middle, err
		}
		if err := to(low); err != nil {
			return 0, nil, err
		}
		var dead *DeadCentreError
		var tilt *TiltError
		if errors.As(stop, &dead) {
			dead.Part = low
		} else if errors.As(stop, &tilt) {
			tilt.Part = low
		}
		return low, stop, nil
	}
	return part, nil, nil
}

// inLine reports an input that has come in line with a link on it since neutral.
func (s *State) inLine(part float64) error {
	n := s.net
	if err := s.linear(); err != nil {
		return err
	}
	const already = 1e-3 // at neutral: such a link is not there to be driven
	for i := range n.links {
		l := &n.links[i]
		for _, e := range [2]span{l.endA, l.endB} {
			k := e.to - 1
			if k < e.from || n.plate(k) || !n.coords[n.terms[k].coord].Input {
				continue
			}
			neutral := r3.Dot(n.neutral.along[i], n.neutral.slopes[k]) / n.neutral.lever[k]
			if m := s.marginOf(i, k); m <= 0 && math.Abs(neutral) > already {
				return &DeadCentreError{n.spec.Links[i].Name, n.bodies[n.terms[k].body].name, m, part}
			}
		}
	}
	return nil
}
