package gauge

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/combin"
	"gonum.org/v1/gonum/stat/distuv"
)

const (
	// falseAlarm is the chance with which sound readings are found unsound by each of
	// the two tests: of all together, and of the worst of them.
	falseAlarm = 0.001
	// mostOutliers is how many readings are given up at most, and no more than a third
	// of them.
	mostOutliers = 3
	// runnerUp is by how much another explanation must be worse, in chi-square: e⁻³
	// is 1 in 20.
	runnerUp = 6
	// checked is the part of the variance of a reading, before anything is measured,
	// that the other readings may leave for it to count as checked by them.
	checked = 0.25
)

// probability returns that of readings and parameters that agree as badly as these or
// worse, of a build within its tolerances: the sum of squares of both is chi-square, with as
// many degrees of freedom as there are readings.
func (f *fit) probability() float64 {
	if len(f.rows) == 0 {
		return 1
	}
	return distuv.ChiSquared{K: float64(len(f.rows))}.Survival(f.chiSquare)
}

// threshold returns the studentised residual beyond which the worst of n is no chance:
// both tails, with the false alarm shared among them (Bonferroni).
func threshold(n int) float64 {
	return distuv.UnitNormal.Quantile(1 - falseAlarm/float64(2*n))
}

// deletion tells what leaving out readings does, to first order in what the parameters
// are off by. Left out together, the readings of a set S lower chi-square by
//
//	z_S . K_SS⁻¹ z_S,  z = residuals over sigma,  K = 1 - hat matrix
//
// which, for one reading, is the square of its residual from the fit to all the others,
// over its standard deviation (Cook and Weisberg 1982, sections 2.2 and 3.6; from
// memory). The tolerances are in the hat matrix as readings are.
type deletion struct {
	*fit
	z []float64
	k *mat.SymDense
}

func (f *fit) deletion() *deletion {
	n := len(f.rows)
	d := &deletion{f, make([]float64, n), new(mat.SymDense)}
	if n == 0 {
		return d
	}
	d.k = mat.NewSymDense(n, nil)
	for i := range f.rows {
		d.z[i] = (f.rows[i].value - f.values[i]) / f.rows[i].sigma
		for j := range i + 1 {
			k := -mat.Inner(f.slope(i), f.covariance, f.slope(j)) / (f.rows[i].sigma * f.rows[j].sigma)
			if i == j {
				k++
			}
			d.k.SetSym(i, j, k)
		}
	}
	return d
}

// gain returns by how much leaving out a set of readings lowers chi-square.
func (d *deletion) gain(set []int) float64 {
	v, ok := d.square(set, func(i int) float64 { return d.z[i] })
	if !ok {
		return 0 // nothing is left to tell these readings apart by
	}
	return v
}

// square returns v . K_SS⁻¹ v for a set of readings S and a value v of each, and false
// where there is no inverse.
func (d *deletion) square(set []int, v func(i int) float64) (float64, bool) {
	n := len(set)
	if n == 0 {
		return 0, true
	}
	k, of := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	for a, i := range set {
		of.SetVec(a, v(i))
		for b := range a + 1 {
			k.SetSym(a, b, d.k.At(i, set[b]))
		}
	}
	var factor mat.Cholesky
	var solved mat.VecDense
	if !factor.Factorize(k) || factor.SolveVecTo(&solved, of) != nil {
		return 0, false
	}
	return mat.Dot(of, &solved), true
}

// student returns the residual of reading i from the fit to all others but those in a
// set, over its standard deviation.
func (d *deletion) student(i int, without []int) float64 {
	with := append(append(make([]int, 0, mostOutliers+1), without...), i)
	return math.Sqrt(math.Max(0, d.gain(with)-d.gain(without)))
}

// clean reports whether the readings but those in a set are sound: together by
// chi-square, and the worst of them by its studentised residual.
func (d *deletion) clean(without []int) bool {
	rest := len(d.rows) - len(without)
	left := d.chiSquare
	if len(without) > 0 {
		left -= d.gain(without)
	}
	if (distuv.ChiSquared{K: float64(rest)}).Survival(left) < falseAlarm {
		return false
	}
	limit := threshold(len(d.rows))
	for i := range d.rows {
		if !slices.Contains(without, i) && d.student(i, without) > limit {
			return false
		}
	}
	return true
}

// misfit returns the error of readings that fail one of the tests, without whose fault it is.
func (f *fit) misfit() *MisfitError {
	m := &MisfitError{Readings: len(f.rows), ChiSquare: f.chiSquare, P: f.probability()}
	d := f.deletion()
	for i := range f.rows {
		if z := d.student(i, nil); z > m.Student {
			m.Worst, m.Student = i, z
		}
	}
	return m
}

// strays returns the readings that no build explains, and nothing where all are sound.
// The set is the smallest whose absence leaves the rest sound; sets of two and three are
// looked at whole, so that outliers that hide each other are found. There is a misfit
// where there is no such set, or where the readings do not tell which it is.
func (f *fit) strays() ([]int, *MisfitError) {
	n := len(f.rows)
	if n == 0 {
		return nil, nil
	}
	d := f.deletion()
	if d.clean(nil) {
		return nil, nil
	}
	misfit := f.misfit()
	for size := 1; size <= min(mostOutliers, n-1); size++ {
		set, rivals := d.worst(size)
		if !d.clean(set) {
			continue
		}
		misfit.Suspects = rivals
		if len(rivals) > size || size > n/3 || !d.told(set) {
			misfit.TooFew = true
			break
		}
		return set, nil
	}
	return nil, misfit
}

// worst returns the set of some size without which the rest fit best, and the members
// of all the sets without which they fit nearly as well, that one among them.
func (d *deletion) worst(size int) (set, rivals []int) {
	sets := combin.Combinations(len(d.rows), size)
	gains := make([]float64, len(sets))
	best := 0
	for i, s := range sets {
		if gains[i] = d.gain(s); gains[i] > gains[best] {
			best = i
		}
	}
	in := make([]bool, len(d.rows))
	for i, s := range sets {
		if gains[best]-gains[i] < runnerUp {
			for _, k := range s {
				in[k] = true
			}
		}
	}
	for i, yes := range in {
		if yes {
			rivals = append(rivals, i)
		}
	}
	return sets[best], rivals
}

// told reports whether the other readings check each of a set, and refute it.
func (d *deletion) told(set []int) bool {
	limit := threshold(len(d.rows))
	for a, i := range set {
		others := append(append(make([]int, 0, len(set)), set[:a]...), set[a+1:]...)
		if d.student(i, others) < limit {
			return false
		}
		// What the rest leave of the reading's variance, in its sigmas squared.
		left := d.leftWithout(i, set) - 1
		var before float64
		for j, sd := range d.session.model.sd {
			before += math.Pow(d.slope(i).AtVec(j)*sd/d.rows[i].sigma, 2)
		}
		if left > checked*before {
			return false
		}
	}
	return true
}

// leftWithout returns the variance of reading i about what the readings not in a set,
// of which it is one, say of it: in its sigmas squared. It is the element for i of
// K_SS⁻¹.
func (d *deletion) leftWithout(i int, set []int) float64 {
	v, ok := d.square(set, func(k int) float64 {
		if k == i {
			return 1
		}
		return 0
	})
	if !ok {
		return math.Inf(1)
	}
	return v
}
