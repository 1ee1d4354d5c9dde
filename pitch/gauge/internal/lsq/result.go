package lsq

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"
)

// Result is a stationary point and what the model, linear there, says of it.
// Row i is that of datum i, and index j that of parameter j, throughout.
type Result struct {
	Params    []float64
	Residuals []float64 // weighted: (value − model)/sigma, of the data only
	DataSum   float64   // of the squared residuals of the data
	PriorSum  float64   // of ((mean − parameter)/sigma)²
	// DoF counts the data and the priors less the parameters. Where all sigmas
	// are right, DataSum + PriorSum is about that.
	DoF   int
	Steps int // that were tried

	// Covariance is the posterior one, with the priors, the sigmas taken as they
	// were given. Where only their ratios are known, multiply it by
	// (DataSum + PriorSum)/DoF.
	Covariance *mat.SymDense

	// Leverage holds the hat values of the data, each from 0 to 1: how far the
	// fitted value follows its datum.
	Leverage []float64

	// Remaining holds, for each parameter, posterior over prior variance: near 1
	// where the data say nothing, near 0 where they settle it, and 0 where there is
	// no prior.
	Remaining []float64

	// Singular holds the singular values of the weighted Jacobian of the data
	// alone, each parameter measured by its prior sigma or its scale, in falling
	// order; values lost in rounding are 0. There is one for each row of Directions.
	// Where all parameters have priors, the data leave 1/(1 + Singular[k]²) of the
	// prior variance in direction k: well above 1 they settle it, well below they do
	// not.
	Singular []float64

	// Directions holds orthogonal unit vectors as rows: row k is the change of the
	// parameters, in prior sigmas or scales, whose effect on the data Singular[k]
	// gives. The sign of a row means nothing.
	Directions *mat.Dense
}

// Effective is the effective number of parameters that the data determine: the
// sum of Leverage.
func (r *Result) Effective() float64 {
	var sum float64
	for _, h := range r.Leverage {
		sum += h
	}
	return sum
}

// Sigma is the posterior standard deviation of parameter j, in its own unit.
func (r *Result) Sigma(j int) float64 { return math.Sqrt(r.Covariance.At(j, j)) }

// Correlation is the posterior correlation of parameters j and k, from -1 to 1.
func (r *Result) Correlation(j, k int) float64 {
	return r.Covariance.At(j, k) / r.Sigma(j) / r.Sigma(k)
}

// Standardized is the residual of datum i over its own standard deviation,
// which is the square root of 1 − Leverage[i] because the fit follows the datum.
// With Gaussian errors of the given sigmas it is a standard normal variable:
// beyond 3 or 4 the datum is suspect. It is false where the fit follows the datum
// entirely, so that no check of it is left.
func (r *Result) Standardized(i int) (z float64, ok bool) {
	free := 1 - r.Leverage[i]
	if free < 1e-9 { // its residual is then rounding
		return 0, false
	}
	return r.Residuals[i] / math.Sqrt(free), true
}

// result describes s.at, whose factor is over the lengths here.
func (s *solver) result(tried int) (*Result, error) {
	m, n := len(s.Data), len(s.Params)
	f := s.factor
	if f.rank < n {
		least := vector(f.vt.Data[(n-1)*n:])
		return nil, &SingularError{Rank: f.rank, Params: n, Ratio: f.s[n-1] / f.s[0], Param: blas64.Iamax(least)}
	}
	r := &Result{
		Params:    s.at.params,
		Residuals: s.at.resid[:m:m],
		DoF:       m - n,
		Steps:     tried,
		Leverage:  make([]float64, m),
		Remaining: make([]float64, n),
	}
	for _, z := range s.at.resid[:m] {
		r.DataSum += z * z
	}
	for j, z := range s.at.resid[m:] {
		r.PriorSum += z * z
		if s.priors[j] > 0 {
			r.DoF++
			r.Remaining[j] = f.leverage(m + j)
		}
	}
	for i := range r.Leverage {
		r.Leverage[i] = f.leverage(i)
	}

	// The covariance is W Wᵀ with W = units V / (lengths S).
	for k, sv := range f.s {
		row := f.vt.Data[k*n:][:n]
		for j := range row {
			row[j] *= s.units[j] / s.lengths[j] / sv
		}
	}
	r.Covariance = mat.NewSymDense(n, nil)
	blas64.Syrk(blas.Trans, 1, f.vt, 0, r.Covariance.RawSymmetric())
	for j := range n {
		if v := r.Covariance.At(j, j); !(v > 0) || !finite(v) {
			return nil, &SingularError{Rank: n - 1, Params: n, Ratio: f.s[n-1] / f.s[0], Param: j}
		}
	}

	if err := f.of(s.at.jac, nil, nil); err != nil {
		return nil, s.stopped(tried, err)
	}
	clear(f.s[f.rank:])
	r.Singular = f.s
	r.Directions = mat.NewDense(n, n, f.vt.Data)
	return r, nil
}
