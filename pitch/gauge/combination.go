package gauge

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/levelhead/units"
)

// Combination is what parameters that the readings do not tell apart do together. Of them
// only this is known: its standard error is half of what it was before or less.
type Combination struct {
	Parameters []Parameter `json:"parameters"`
	At         int         `json:"seen_on"`   // the reading on which it is seen best, from 0 among those given
	Off        units.Angle `json:"off"`       // by which they together change what that reading shows
	Sigma      units.Angle `json:"sigma"`     // standard error of Off
	Tolerance  units.Angle `json:"tolerance"` // standard deviation before anything was measured
}

// mostTogether is how many combinations of one group of parameters are reported.
const mostTogether = 3

// combine finds the groups of parameters that are known only together, and what is known of each.
func (r *Result) combine() {
	for _, group := range r.groups() {
		r.Combinations = append(r.Combinations, r.together(group)...)
	}
}

// groups returns the parameters that are not told apart from each other, directly or
// through others, by their places in x.
func (r *Result) groups() [][]int {
	n := len(r.Parameters)
	in := make([]bool, n)
	var groups [][]int
	for first := range r.Parameters {
		if in[first] || r.Parameters[first].Verdict != KnownTogether {
			continue
		}
		group := []int{first}
		in[first] = true
		for k := 0; k < len(group); k++ {
			for i := range r.Parameters {
				joined := r.Parameters[i].Verdict == KnownTogether && (r.sharing(group[k], i) || r.sharing(i, group[k]))
				if !in[i] && joined {
					in[i] = true
					group = append(group, i)
				}
			}
		}
		if len(group) > 1 {
			groups = append(groups, group)
		}
	}
	return groups
}

// together returns what is known of a group: its effect on the readings on which it is
// known best, each telling something that the ones before do not.
func (r *Result) together(group []int) []Combination {
	f := r.fit
	type effect struct {
		slope  *mat.VecDense // over x, of the group alone
		fresh  []float64     // slope in tolerances, without what is told already
		before float64       // variance
		after  float64
	}
	effects := make([]effect, len(f.rows))
	for i := range f.rows {
		e := effect{slope: mat.NewVecDense(len(f.x), nil), fresh: make([]float64, len(f.x))}
		for _, j := range group {
			s := f.slope(i).AtVec(j)
			e.slope.SetVec(j, s)
			e.fresh[j] = s * f.session.model.sd[j]
		}
		e.before = dot(e.fresh, e.fresh)
		e.after = f.variance(e.slope)
		effects[i] = e
	}
	var found []Combination
	for range mostTogether {
		best, least := -1, 1-known
		for i, e := range effects {
			const much = 0.25 // of the variance of an effect, that is not told already
			if e.before > 0 && dot(e.fresh, e.fresh) > much*e.before && e.after/e.before <= least {
				best, least = i, e.after/e.before
			}
		}
		if best < 0 {
			break
		}
		e := effects[best]
		c := Combination{
			At:        r.given(best),
			Off:       units.Angle(mat.Dot(e.slope, mat.NewVecDense(len(f.x), f.x))),
			Sigma:     units.Angle(math.Sqrt(e.after)),
			Tolerance: units.Angle(math.Sqrt(e.before)),
		}
		for _, j := range group {
			c.Parameters = append(c.Parameters, f.session.model.params[j])
		}
		found = append(found, c)
		told := e.fresh
		size := dot(told, told)
		for i := range effects {
			along := dot(effects[i].fresh, told) / size
			fresh := make([]float64, len(told))
			for j := range fresh {
				fresh[j] = effects[i].fresh[j] - along*told[j]
			}
			effects[i].fresh = fresh
		}
	}
	return found
}

// given returns the place among the readings given of one that was used.
func (r *Result) given(used int) int {
	for i := range r.Readings {
		if r.Readings[i].Outlier {
			continue
		}
		if used == 0 {
			return i
		}
		used--
	}
	return -1
}

func dot(x, y []float64) float64 {
	var sum float64
	for i := range x {
		sum += x[i] * y[i]
	}
	return sum
}
