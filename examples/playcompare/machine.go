package main

import (
	"cmp"
	"fmt"
	"slices"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// played is one of the two, with the play of all its joints together. Collective and cyclic
// are at zero.
type played struct {
	rig           *setup.Rig
	play          machine.Play
	joints        pitch.Joints
	worst, likely pitch.Play
	random        pitch.Spread
}

// newPlayed reads the machine file at path and works its play out. If path is empty, it takes
// the file given.
func newPlayed(path string, file []byte, o options) (*played, error) {
	rig, err := show.Rig(path, file)
	if err != nil {
		return nil, err
	}
	m := &played{rig: rig}
	if m.play, err = o.play.over(rig.Machine().Play); err != nil {
		return nil, fmt.Errorf("%s: %w", rig.Name(), err)
	}
	// Building it again refuses a play that no joint can have.
	changed := rig.Machine()
	changed.Play = &m.play
	if m.rig, err = setup.Build(changed); err != nil {
		return nil, fmt.Errorf("%s, with the play asked for: %w", changed.Name, err)
	}
	if m.joints, err = m.rig.Joints(m.play, swash.Demand{}); err != nil {
		return nil, fmt.Errorf("%s: %w", changed.Name, err)
	}
	m.worst, m.likely = m.joints.Worst(), m.joints.RootSumSquare()
	m.random = m.joints.Sample(o.seed, o.builds)
	return m, nil
}

// contributor is a joint and the play that it gives alone.
type contributor struct {
	name string
	play pitch.Play
}

func (c contributor) most() units.Angle { return max(c.play.Blade, c.play.Tilt) }

// largest returns the n joints that give most play alone, to the blade or to the plate.
func (m *played) largest(n int) []contributor {
	var all []contributor
	for _, j := range m.joints {
		all = append(all, contributor{j.Name, pitch.Joints{j}.Worst()})
	}
	// Joints that do the same but for the last bits, which are not the same on every machine,
	// stay in their order.
	slices.SortStableFunc(all, func(a, b contributor) int { return cmp.Compare(float32(b.most()), float32(a.most())) })
	return all[:min(n, len(all))]
}
