package pitch

import "iter"

// Grid goes through all positions of the sticks in steps: the given number of places from end
// to end of each stick, two or more. It goes through none for fewer.
func Grid(places int) iter.Seq[Stick] {
	return func(yield func(Stick) bool) {
		if places < 2 {
			return
		}
		share := func(k int) float64 { return float64(k) / float64(places-1) }
		for c := range places {
			for r := range places {
				for f := range places {
					if !yield(Stick{Collective: share(c), Right: 2*share(r) - 1, Forward: 2*share(f) - 1}) {
						return
					}
				}
			}
		}
	}
}

// FullCyclic returns the two positions at which the throw of cyclic is set: full right and
// full forward stick, the collective stick in the middle.
func FullCyclic() [2]Stick {
	return [...]Stick{{Collective: 0.5, Right: 1}, {Collective: 0.5, Forward: 1}}
}

// CyclicEnds returns full right, left, forward and back stick, the collective stick in the
// middle.
func CyclicEnds() [4]Stick {
	return [...]Stick{{0.5, 1, 0}, {0.5, -1, 0}, {0.5, 0, 1}, {0.5, 0, -1}}
}
