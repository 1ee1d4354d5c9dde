package lsq_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/pitch/gauge/internal/lsq"
)

// FuzzExponential fits a exp(-b x) to four values, with a prior on b where its
// sigma is positive. There must be a typed error, or a stationary point.
func FuzzExponential(f *testing.F) {
	f.Add(1.0, 0.6, 0.36, 0.2, 1.0, 1.0, 0.1, 0.0)
	f.Add(1.0, 0.6, 0.36, 0.2, -5.0, 3.0, 0.1, 2.0)
	f.Add(0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 1.0)
	f.Add(1e100, -1e100, 1e-300, 5.0, 1e10, -300.0, 1e-5, 1e-3)
	f.Add(math.NaN(), 0.0, math.Inf(1), 0.0, 1.0, 1.0, 1.0, 1.0)
	f.Fuzz(func(t *testing.T, y0, y1, y2, y3, a, b, sigma, prior float64) {
		y := []float64{y0, y1, y2, y3}
		p := &lsq.Problem{
			Data:   make([]lsq.Datum, len(y)),
			Params: []lsq.Parameter{{Start: a, Scale: 1}, {Start: b, Sigma: prior}},
			Model: func(params, values, derivs []float64) error {
				for _, v := range params {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Errorf("called with %v", params)
					}
				}
				for i := range values {
					e := math.Exp(-params[1] * float64(i))
					values[i] = params[0] * e
					derivs[2*i], derivs[2*i+1] = e, -params[0]*float64(i)*e
				}
				return nil
			},
		}
		if prior == 0 {
			p.Params[1].Scale = 1
		}
		for i, v := range y {
			p.Data[i] = lsq.Datum{Value: v, Sigma: sigma}
		}
		r, err := lsq.Solve(p)
		if err != nil {
			var (
				input       *lsq.InputError
				model       *lsq.ModelError
				convergence *lsq.ConvergenceError
				singular    *lsq.SingularError
			)
			if !errors.As(err, &input) && !errors.As(err, &model) && !errors.As(err, &convergence) && !errors.As(err, &singular) {
				t.Errorf("untyped error %v", err)
			}
			if r != nil {
				t.Error("a result beside an error")
			}
			return
		}
		checkStationary(t, p, r)
	})
}

// checkStationary fails unless the gradient is zero to what the tests of
// convergence allow: a gain of 100 times the rounding of the sum of squares, or
// parameters off by 1e-11 of their value and unit together, or rounding.
func checkStationary(t rapid.TB, p *lsq.Problem, r *lsq.Result) {
	m, n := len(p.Data), len(p.Params)
	values, derivs := make([]float64, m), make([]float64, m*n)
	if err := p.Model(r.Params, values, derivs); err != nil {
		t.Fatal(err)
	}
	var norm, rounding float64
	columns, resid := make([][]float64, n), make([]float64, m+n)
	for i, d := range p.Data {
		resid[i] = (d.Value - values[i]) / d.Sigma
		rounding = math.Hypot(rounding, (math.Abs(d.Value)+math.Abs(values[i]))/d.Sigma)
	}
	unit := make([]float64, n)
	for j, q := range p.Params {
		unit[j] = max(q.Sigma, q.Scale)
		columns[j] = make([]float64, m+n)
		for i, d := range p.Data {
			columns[j][i] = derivs[i*n+j] * (unit[j] / d.Sigma)
		}
		if q.Sigma > 0 {
			columns[j][m+j] = 1
			resid[m+j] = (q.Mean - r.Params[j]) / q.Sigma
			rounding = math.Hypot(rounding, (math.Abs(q.Mean)+math.Abs(r.Params[j]))/q.Sigma)
		}
	}
	for _, v := range resid {
		norm = math.Hypot(norm, v)
	}
	lengths := make([]float64, n)
	var reach float64
	for j, c := range columns {
		for _, v := range c {
			lengths[j] = math.Hypot(lengths[j], v)
		}
		reach += lengths[j] * (math.Abs(r.Params[j])/unit[j] + 1)
	}
	for j, c := range columns {
		var gradient float64
		for i, v := range c {
			gradient += v / lengths[j] * resid[i]
		}
		if allowed := 5e-7*math.Sqrt(norm*(norm+2*rounding)) + 1e-11*reach + 1e-14*rounding; !(math.Abs(gradient) <= allowed) {
			t.Errorf("gradient %d is %g, of %g allowed, at %v", j, gradient, allowed, r.Params)
		}
		if s := r.Sigma(j); !(s > 0) || math.IsInf(s, 0) {
			t.Errorf("sigma %d is %g", j, s)
		}
	}
}
