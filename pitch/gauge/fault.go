package gauge

import (
	"cmp"
	"math"
	"slices"
)

// Fault is a parameter far beyond its tolerance, such as a servo arm a tooth off on its spline.
type Fault struct {
	Parameter Parameter
	Name      string  // as in Session.Name
	Off       float64 // by how much it is more than the file says, in SI units
	Sigma     float64 // standard error of Off
	ChiSquare float64 // of the readings and the other tolerances, were it so far off
}

// farOff is by how many times its tolerance a parameter's spread is widened to ask
// whether it alone explains readings.
const farOff = 30

// mostFaults is how many parameters are tried, those that promise most.
const mostFaults = 6

// faults returns the parameters of which any one alone explains all rows of a fit, the best
// first, and those only that explain them nearly as well.
func (f *fit) faults() []Fault {
	b := f.session
	var found []Fault
	sds := slices.Clone(b.model.sd)
	for _, j := range f.promising() {
		sds[j] *= farOff
		freed, err := b.solve(f.rows, sds)
		sds[j] = b.model.sd[j]
		if err != nil || !freed.deletion().clean(nil) {
			continue // no such build, or it does not explain them
		}
		p := b.model.params[j]
		found = append(found, Fault{p, b.Name(p), freed.x[j], math.Sqrt(freed.covariance.At(j, j)), freed.chiSquare})
	}
	slices.SortStableFunc(found, func(x, y Fault) int { return cmp.Compare(x.ChiSquare, y.ChiSquare) })
	for i := range found {
		if found[i].ChiSquare > found[0].ChiSquare+runnerUp {
			return found[:i]
		}
	}
	return found
}

// promising returns the parameters that, without a tolerance, would lower chi-square most: by
// x²/(sd² - variance), to first order, as a reading left out does.
func (f *fit) promising() []int {
	gains := make([]float64, len(f.x))
	places := make([]int, len(f.x))
	for j, sd := range f.session.model.sd {
		places[j] = j
		if free := sd*sd - f.covariance.At(j, j); free > 1e-9*sd*sd {
			gains[j] = f.x[j] * f.x[j] / free
		}
	}
	slices.SortStableFunc(places, func(i, j int) int { return cmp.Compare(gains[j], gains[i]) })
	return places[:min(mostFaults, len(places))]
}
