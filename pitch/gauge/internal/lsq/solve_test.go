package lsq_test

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/levelhead/pitch/gauge/internal/lsq"
)

// logarithm is the model log p, which does not exist below 0.
var errDomain = errors.New("no logarithm")

func logarithm(params, values, derivs []float64) error {
	if params[0] <= 0 {
		return errDomain
	}
	values[0] = math.Log(params[0])
	derivs[0] = 1 / params[0]
	return nil
}

func one(value, start float64, model lsq.Model) *lsq.Problem {
	return &lsq.Problem{
		Data:   []lsq.Datum{{Value: value, Sigma: 0.1}},
		Params: []lsq.Parameter{{Start: start, Scale: 10}},
		Model:  model,
	}
}

func TestInputErrors(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		field string
		index int
		spoil func(p *lsq.Problem)
	}{
		{"model", -1, func(p *lsq.Problem) { p.Model = nil }},
		{"number of data", -1, func(p *lsq.Problem) { p.Data = nil }},
		{"number of parameters", -1, func(p *lsq.Problem) { p.Params = nil }},
		{"max steps", -1, func(p *lsq.Problem) { p.MaxSteps = -1 }},
		{"tolerance", -1, func(p *lsq.Problem) { p.Tolerance = -1e-3 }},
		{"tolerance", -1, func(p *lsq.Problem) { p.Tolerance = nan }},
		{"datum value", 1, func(p *lsq.Problem) { p.Data[1].Value = nan }},
		{"datum value", 0, func(p *lsq.Problem) { p.Data[0].Value = -inf }},
		{"datum sigma", 1, func(p *lsq.Problem) { p.Data[1].Sigma = 0 }},
		{"datum sigma", 1, func(p *lsq.Problem) { p.Data[1].Sigma = -1 }},
		{"datum sigma", 1, func(p *lsq.Problem) { p.Data[1].Sigma = nan }},
		{"datum sigma", 1, func(p *lsq.Problem) { p.Data[1].Sigma = inf }},
		{"parameter start", 1, func(p *lsq.Problem) { p.Params[1].Start = nan }},
		{"parameter start", 0, func(p *lsq.Problem) { p.Params[0].Start = inf }},
		{"prior mean", 0, func(p *lsq.Problem) { p.Params[0].Mean = nan }},
		{"prior mean", 1, func(p *lsq.Problem) { p.Params[1].Mean = 1 }},
		{"prior sigma", 0, func(p *lsq.Problem) { p.Params[0].Sigma = -1 }},
		{"prior sigma", 0, func(p *lsq.Problem) { p.Params[0].Sigma = nan }},
		{"prior sigma", 0, func(p *lsq.Problem) { p.Params[0].Sigma = inf }},
		{"parameter scale", 0, func(p *lsq.Problem) { p.Params[0].Scale = 1 }},
		{"parameter scale", 1, func(p *lsq.Problem) { p.Params[1].Scale = 0 }},
		{"parameter scale", 1, func(p *lsq.Problem) { p.Params[1].Scale = -1 }},
		{"parameter scale", 1, func(p *lsq.Problem) { p.Params[1].Scale = nan }},
		{"parameter scale", 1, func(p *lsq.Problem) { p.Params[1].Scale = inf }},
	} {
		p := &lsq.Problem{
			Data:   []lsq.Datum{{1, 1}, {2, 1}},
			Params: []lsq.Parameter{{Start: 1, Mean: 1, Sigma: 2}, {Start: 1, Scale: 1}},
			Model:  bowl{A: []float64{1, 2, 3, 4}, B: make([]float64, 4)}.model,
		}
		if _, err := lsq.Solve(p); err != nil {
			t.Fatalf("sound problem: %v", err)
		}
		c.spoil(p)
		_, err := lsq.Solve(p)
		var e *lsq.InputError
		if !errors.As(err, &e) || e.Field != c.field || e.Index != c.index {
			t.Errorf("%s %d: got %v", c.field, c.index, err)
		}
	}
}

func TestModelFailsAtStart(t *testing.T) {
	_, err := lsq.Solve(one(0, -1, logarithm))
	var e *lsq.ModelError
	if !errors.As(err, &e) || !errors.Is(err, errDomain) || !cmp.Equal(e.Params, []float64{-1}) {
		t.Errorf("got %v", err)
	}

	for _, c := range []struct {
		value, deriv float64
		row, param   int
	}{
		{math.NaN(), 1, 0, -1},
		{math.Inf(-1), 1, 0, -1},
		{1, math.NaN(), 0, 0},
		{1, math.Inf(1), 0, 0},
		{1e200, 1, -1, -1},
		{1, 1e200, -1, -1},
	} {
		_, err := lsq.Solve(one(0, 1, func(_, values, derivs []float64) error {
			values[0], derivs[0] = c.value, c.deriv
			return nil
		}))
		var o *lsq.OverflowError
		if !errors.As(err, &e) || !errors.As(err, &o) || o.Row != c.row || o.Param != c.param {
			t.Errorf("value %g, derivative %g: got %v", c.value, c.deriv, err)
		}
	}
}

// From 5, the first full step to log p = log 0.1 leads below 0, where there is
// no model.
func TestModelFailsOnTheWay(t *testing.T) {
	failed := 0
	r, err := lsq.Solve(one(math.Log(0.1), 5, func(params, values, derivs []float64) error {
		err := logarithm(params, values, derivs)
		if err != nil {
			failed++
		}
		return err
	}))
	if err != nil {
		t.Fatal(err)
	}
	if failed == 0 {
		t.Error("the model never failed")
	}
	if !(math.Abs(r.Params[0]-0.1) <= 1e-11) {
		t.Errorf("got %.15g", r.Params[0])
	}
	if z, ok := r.Standardized(0); ok {
		t.Errorf("a fit through its only datum has a standardised residual of %g", z)
	}
}

// Derivatives that are a little off lead no nearer than their error times the
// residuals; a tolerance takes what they lead to.
func TestTolerance(t *testing.T) {
	problem := func(off, tolerance float64) *lsq.Problem {
		return &lsq.Problem{
			Data:   []lsq.Datum{{Value: 1, Sigma: 0.1}, {Value: 3, Sigma: 0.1}},
			Params: []lsq.Parameter{{Mean: 0, Sigma: 1}, {Mean: 0, Sigma: 1}},
			Model: func(p, values, derivs []float64) error {
				values[0], values[1] = p[0]+p[1], p[0]+p[1]+0.1*p[0]*p[0]
				derivs[0], derivs[1], derivs[2], derivs[3] = 1+off, 1-off, 1+0.2*p[0]-off, 1
				return nil
			},
			Tolerance: tolerance,
		}
	}
	exact, err := lsq.Solve(problem(0, 0))
	if err != nil {
		t.Fatal(err)
	}
	loose, err := lsq.Solve(problem(1e-3, 1e-2))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := lsq.Solve(problem(1e-3, 0)); err == nil {
		t.Error("the derivatives are not far enough off for a test")
	}
	for j, want := range exact.Params {
		if math.Abs(loose.Params[j]-want) > 0.1 {
			t.Errorf("parameter %d is %v, want %v", j+1, loose.Params[j], want)
		}
	}
}

func TestNotConverged(t *testing.T) {
	p := one(math.Log(0.1), 5, logarithm)
	p.MaxSteps = 1
	_, err := lsq.Solve(p)
	var e *lsq.ConvergenceError
	if !errors.As(err, &e) || !errors.Is(err, errDomain) {
		t.Fatalf("got %v", err)
	}
	// Still at the start; the full step is 5 log 50, in units of 10.
	step, offset := math.Log(50)/2, 10*math.Log(50)
	if e.Steps != 1 || e.Params[0] != 5 || e.Param != 0 || math.Abs(e.Step-step) > 1e-12 || math.Abs(e.Offset-offset) > 1e-11 {
		t.Errorf("got %+v", e)
	}
}

// Only the sum of the first two parameters has any effect, until one of them
// has a prior.
func TestSingular(t *testing.T) {
	p := &lsq.Problem{
		Data:   []lsq.Datum{{1, 1}, {2, 1}, {3, 1}},
		Params: []lsq.Parameter{{Scale: 1}, {Scale: 1}, {Scale: 1}},
		Model:  bowl{A: []float64{1, 1, 0, 1, 1, 1, 1, 1, 2}, B: make([]float64, 9)}.model,
	}
	_, err := lsq.Solve(p)
	var e *lsq.SingularError
	if !errors.As(err, &e) || e.Rank != 2 || e.Params != 3 || e.Param == 2 || e.Ratio > 1e-15 {
		t.Errorf("got %v", err)
	}
	p.Params[0] = lsq.Parameter{Mean: 5, Sigma: 1}
	r, err := lsq.Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(r.Params[0]-5) > 1e-11 || math.Abs(r.Params[1]+4) > 1e-11 || math.Abs(r.Remaining[0]-1) > 1e-11 || r.Singular[2] != 0 {
		t.Errorf("got %+v", r)
	}
}

// A parameter without effect and without prior is the open one; more parameters
// than data leave directions of which the data say nothing at all.
func TestUnseen(t *testing.T) {
	p := &lsq.Problem{
		Data:   []lsq.Datum{{1, 1}, {2, 1}},
		Params: []lsq.Parameter{{Scale: 1}, {Scale: 1}, {Sigma: 1}},
		Model:  bowl{A: []float64{1, 0, 0.3, 2, 0, 0.7}, B: make([]float64, 6)}.model,
	}
	_, err := lsq.Solve(p)
	var e *lsq.SingularError
	if !errors.As(err, &e) || e.Rank != 2 || e.Param != 1 || !(e.Ratio <= 1e-15) {
		t.Errorf("got %v", err)
	}
	for k, q := range readPriors(t) {
		r, err := lsq.Solve(q.problem())
		if err != nil {
			t.Fatal(err)
		}
		for d, s := range r.Singular {
			if (s > 0) != (d < q.Rows) {
				t.Errorf("problem %d: singular value %d of %d data is %g", k, d, q.Rows, s)
			}
		}
	}
}

// A model solved to only 1e-10 still gives an answer, as near as its sum of
// squares can be told: the square root of 1e-10, in sigmas.
func TestCoarseModel(t *testing.T) {
	for k, q := range readPriors(t) {
		exact, err := lsq.Solve(q.problem())
		if err != nil {
			t.Fatal(err)
		}
		p := q.problem()
		p.Model = func(params, values, derivs []float64) error {
			err := q.model(params, values, derivs)
			for i, v := range values {
				values[i] = v * (1 + 1e-10*math.Sin(1e12*v))
			}
			return err
		}
		r, err := lsq.Solve(p)
		if err != nil {
			t.Errorf("problem %d: %v", k, err)
			continue
		}
		for j := range r.Params {
			if d := math.Abs(r.Params[j]-exact.Params[j]) / r.Sigma(j); !(d <= 1e-5) {
				t.Errorf("problem %d: parameter %d is %.2g sigmas off", k, j, d)
			}
		}
	}
}

// All memory is taken at the start: a longer way takes no more.
func TestAllocations(t *testing.T) {
	q := readPriors(t)[0]
	near, far := q.problem(), q.problem()
	steps := [2]int{}
	var allocs [2]float64
	for k, p := range []*lsq.Problem{near, far} {
		if p == far {
			for j := range p.Params {
				p.Params[j].Start += 30
			}
		}
		allocs[k] = testing.AllocsPerRun(20, func() {
			r, err := lsq.Solve(p)
			if err != nil {
				t.Fatal(err)
			}
			steps[k] = r.Steps
		})
	}
	if steps[1] <= steps[0] || allocs[1] != allocs[0] || allocs[0] > 40 {
		t.Errorf("%v steps took %v allocations", steps, allocs)
	}
}

func BenchmarkSolve9x12(b *testing.B) {
	q := benchmarkProblem()
	b.ReportAllocs()
	steps := 0
	for b.Loop() {
		r, err := lsq.Solve(q)
		if err != nil {
			b.Fatal(err)
		}
		steps = r.Steps
	}
	b.ReportMetric(float64(steps), "steps/op")
}

// benchmarkProblem has 9 data, 12 parameters with priors and a slight bend.
func benchmarkProblem() *lsq.Problem {
	const m, n = 9, 12
	w := bowl{A: make([]float64, m*n), B: make([]float64, m*n)}
	for k := range w.A {
		w.A[k] = math.Sin(float64(k * k))
		w.B[k] = 0.1 * math.Cos(float64(k*k))
	}
	p := &lsq.Problem{Data: make([]lsq.Datum, m), Params: make([]lsq.Parameter, n), Model: w.model}
	for i := range p.Data {
		p.Data[i] = lsq.Datum{Value: math.Cos(float64(i)), Sigma: 0.1}
	}
	for j := range p.Params {
		p.Params[j].Sigma = 0.5
	}
	return p
}
