package gauge

import (
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
)

// model is a rig whose parameters can be off from what the file says. What they are off
// by is a vector x with one element for each, in SI units.
type model struct {
	rig    *setup.Rig
	blades int
	params []Parameter
	sd     []float64  // of each, before anything is measured; all above 0
	first  [kinds]int // place in x of the first of a kind
	count  [kinds]int // how many of a kind are in x; 0 for a kind that is as the file says
	zeros  []int      // place in x of each gauge's zero; -1 for one that has none
	links  []float64  // lengths by the file
	mounts []float64  // of the servos, by the file
	arms   []float64  // radii of their arms, by the file; 0 for a servo without one
}

// newModel returns the model of a rig. Kinds without a tolerance are as the file says,
// and have no place in x; zeros are the tolerances of the gauges' zeros.
func newModel(rig *setup.Rig, blades int, tolerances *Tolerances, zeros []float64) *model {
	m := &model{rig: rig, blades: blades}
	exact := rig.Parts()
	for _, l := range exact.Links() {
		m.links = append(m.links, float64(l.Length))
	}
	for _, s := range exact.Servos {
		m.mounts = append(m.mounts, float64(s.Mount))
	}
	for _, s := range rig.Servos() {
		m.arms = append(m.arms, float64(s.Arm))
	}
	for _, p := range parameters(&exact, blades, len(zeros)) {
		var sd float64
		if p.Kind == GaugeZero {
			sd = zeros[p.Index]
			m.zeros = append(m.zeros, -1)
		} else {
			sd = tolerances.of(p.Kind)
		}
		if sd == 0 {
			continue
		}
		if m.count[p.Kind] == 0 {
			m.first[p.Kind] = len(m.params)
		}
		if p.Kind == GaugeZero {
			m.zeros[p.Index] = len(m.params)
		}
		m.count[p.Kind]++
		m.params, m.sd = append(m.params, p), append(m.sd, sd)
	}
	return m
}

// of returns the elements of x, or of a derivative over it, for a kind of parameter:
// one for each, or none where the kind is as the file says.
func (m *model) of(k Kind, x []float64) []float64 { return x[m.first[k]:][:m.count[k]] }

// place returns where a parameter is in x, and false where it is as the file says.
func (m *model) place(p Parameter) (int, bool) {
	for i, q := range m.params {
		if q == p {
			return i, true
		}
	}
	return 0, false
}

// position returns what the radio sends in a mode.
func (m *model) position(mode setup.Setup, at pitch.Stick) (position, error) {
	return positionOf(m.rig.Head().Control, mode, at)
}
