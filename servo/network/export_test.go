package network

import "math"

// Prove reports whether a step from where the state stands to inputs is proven. It puts
// into curve where the answer is for them, and into off how far from there it can be: at
// a part of the step, from the curve there.
func (s *State) Prove(inputs, curve, off []float64, part float64) bool {
	for k, c := range s.net.inputs {
		s.way[k] = inputs[k] - s.view.x[c]
	}
	if s.linear() != nil {
		return false
	}
	clear(s.fix)
	s.aim(&s.view)
	worst, _ := s.sure(&s.view, 1)
	for c := range curve {
		curve[c] = s.looked[c] + part*(s.tangent[c]+0.5*part*s.curve[c])
		off[c] = math.Abs(s.bounds[c].off)
	}
	return worst <= 1
}
