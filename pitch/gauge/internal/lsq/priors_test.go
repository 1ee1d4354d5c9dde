package lsq_test

import (
	"math"
	"testing"

	"example.org/levelhead/pitch/gauge/internal/lsq"
)

// bowl is the model whose value i is A[i]·p + (B[i]·p)²/10, with A and B row by
// row.
type bowl struct{ A, B []float64 }

func (w bowl) model(params, values, derivs []float64) error {
	n := len(params)
	for i := range values {
		a, b := w.A[i*n:][:n], w.B[i*n:][:n]
		bend := dot(b, params)
		values[i] = dot(a, params) + bend*bend/10
		for j := range n {
			derivs[i*n+j] = a[j] + bend*b[j]/5
		}
	}
	return nil
}

func dot(a, b []float64) float64 {
	var sum float64
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

type priorsProblem struct {
	bowl
	Rows       int
	Y, Sigma   []float64
	Mean       []float64
	PriorSigma []float64 `json:"prior_sigma"` // 0 for none
	SciPy      []float64
	Sum        float64
	Covariance []float64
	Leverage   []float64
}

func (q *priorsProblem) problem() *lsq.Problem {
	p := &lsq.Problem{
		Data:   make([]lsq.Datum, q.Rows),
		Params: make([]lsq.Parameter, len(q.Mean)),
		Model:  q.model,
	}
	for i := range p.Data {
		p.Data[i] = lsq.Datum{Value: q.Y[i], Sigma: q.Sigma[i]}
	}
	for j, mean := range q.Mean {
		if s := q.PriorSigma[j]; s > 0 {
			p.Params[j] = lsq.Parameter{Start: mean, Mean: mean, Sigma: s}
		} else {
			p.Params[j] = lsq.Parameter{Start: mean, Scale: 1}
		}
	}
	return p
}

func readPriors(t *testing.T) []priorsProblem {
	t.Helper()
	var table struct{ Problems []priorsProblem }
	readJSON(t, "testdata/priors.json", &table)
	if len(table.Problems) != 5 {
		t.Fatalf("%d problems", len(table.Problems))
	}
	return table.Problems
}

// scipyTolerance is the agreement with SciPy, in posterior standard deviations
// or their products; its own convergence tests stop it there.
const scipyTolerance = 1e-8

// The values are computed by SciPy in testdata/strd.py.
func TestPriorsAgainstSciPy(t *testing.T) {
	for k, q := range readPriors(t) {
		r, err := lsq.Solve(q.problem())
		if err != nil {
			t.Errorf("problem %d: %v", k, err)
			continue
		}
		var worst float64
		check := func(what string, i int, got, want, unit float64) {
			d := math.Abs(got-want) / unit
			worst = max(worst, d)
			if !(d <= scipyTolerance) {
				t.Errorf("problem %d: %s %d: %.15g, want %.15g: off by %.2g", k, what, i, got, want, d)
			}
		}
		n := len(q.Mean)
		for j, want := range q.SciPy {
			check("parameter", j, r.Params[j], want, r.Sigma(j))
			for l := range n {
				check("covariance", j*n+l, r.Covariance.At(j, l), q.Covariance[j*n+l], r.Sigma(j)*r.Sigma(l))
			}
			if s := q.PriorSigma[j]; s > 0 {
				check("remaining", j, r.Remaining[j], q.Covariance[j*n+j]/(s*s), 1)
			} else {
				check("remaining", j, r.Remaining[j], 0, 1)
			}
		}
		for i, want := range q.Leverage {
			check("leverage", i, r.Leverage[i], want, 1)
		}
		check("sum", 0, r.DataSum+r.PriorSum, q.Sum, q.Sum)
		t.Logf("problem %d, %d by %d: %d steps, off by %.2g at most", k, q.Rows, n, r.Steps, worst)
	}
}
