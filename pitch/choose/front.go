package choose

import "slices"

// Member is one choice on the front.
type Member struct {
	Index int         // of its Result
	Best  []Objective // in which no other member has less, and at least one has more
	// Behind is what it gives up: one for each objective in which another has less.
	Behind []Behind
}

// Behind is by how much a member is behind its neighbour in an objective: the member
// that has next less of it.
type Behind struct {
	Objective Objective
	Neighbour int     // in the front
	By        float64 // in SI base units, above 0
}

// dominates reports whether a is no worse than b in anything, and better in something.
func dominates(a, b []float64) bool {
	better := false
	for i := range a {
		if a[i] > b[i] {
			return false
		}
		better = better || a[i] < b[i]
	}
	return better
}

// front returns which of the points are dominated by none, by rising values and, where
// all are equal, in the order given. With the points in that order none is dominated
// by a later one, so that each need be held against the front so far alone: the
// sort-filter method of J. Chomicki, P. Godfrey, J. Gryz and D. Liang, "Skyline with
// Presorting" (2003), from memory.
func front(points [][]float64) []int {
	order := make([]int, len(points))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int { return slices.Compare(points[i], points[k]) })
	var kept []int
	for _, i := range order {
		if !slices.ContainsFunc(kept, func(k int) bool { return dominates(points[k], points[i]) }) {
			kept = append(kept, i)
		}
	}
	return kept
}

// members says of the points on a front what each is best at and what it gives up.
func members(points [][]float64, on []int, objectives []Objective) []Member {
	all := make([]Member, len(on))
	for m, i := range on {
		all[m].Index = i
		for k, o := range objectives {
			neighbour, ahead := -1, false
			for n, other := range on {
				v := points[other][k]
				ahead = ahead || v > points[i][k]
				if v < points[i][k] && (neighbour < 0 || v > points[on[neighbour]][k]) {
					neighbour = n
				}
			}
			switch {
			case neighbour >= 0:
				all[m].Behind = append(all[m].Behind, Behind{o, neighbour, points[i][k] - points[on[neighbour]][k]})
			case ahead:
				all[m].Best = append(all[m].Best, o)
			}
		}
	}
	return all
}
