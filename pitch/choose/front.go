package choose

import (
	"slices"

	"example.org/levelhead/units"
)

// Member is one of the best trade-offs.
type Member struct {
	Index int         `json:"index"` // of its Result in Choice.Results
	Best  []Objective `json:"best"`  // in which no other member is better and at least one is worse
	// Behind is what it gives up: one entry for each objective in which another member is
	// better.
	Behind []Behind `json:"behind"`
}

// Behind says by how much a member is worse than another in one objective. Of the members
// that are better in it by Objective.Of, Neighbour is the nearest.
type Behind struct {
	Objective Objective
	Neighbour int     // index in Choice.Front
	By        float64 // in SI base units, above 0, not rounded as by Objective.Of
}

// PlainJSON returns what stands for it in JSON: with By as the quantity of the objective.
func (b Behind) PlainJSON() any {
	form := struct {
		Objective Objective `json:"objective"`
		Neighbour int       `json:"neighbour"`
		By        any       `json:"behind_by"`
	}{b.Objective, b.Neighbour, units.Angle(b.By)}
	switch b.Objective {
	case Load:
		form.By = units.Ratio(b.By)
	case Stroke:
		form.By = units.Time(b.By)
	}
	return form
}

// dominates reports whether a is nowhere worse than b, and better somewhere.
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

// front returns which of the points no other one dominates, by rising values. Equal points
// keep the order given. In rising order no point is dominated by a later one, so each is
// compared with the front so far alone. This is the sort-filter method of J. Chomicki,
// P. Godfrey, J. Gryz and D. Liang, "Skyline with Presorting" (2003), from memory.
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

// members says what each of the points on a front is best at and what it gives up.
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
