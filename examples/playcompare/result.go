package main

import (
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/pitch/sheet"
)

// resultOf is the comparison for JSON.
func resultOf(a, b *played, o options) results.Play {
	return results.Play{
		Cautions: sheet.Cautions(sheet.WithBlades, a.rig.Machine(), b.rig.Machine()),
		Seed:     o.seed, Builds: o.builds, A: a.result(), B: b.result(),
	}
}

func (m *played) result() results.PlayMachine {
	return results.PlayMachine{
		Machine: m.rig.Name(), Note: m.rig.Machine().Note, Play: m.play,
		Worst: m.worst, Likely: m.likely, Random: m.random, Joints: m.joints,
	}
}
