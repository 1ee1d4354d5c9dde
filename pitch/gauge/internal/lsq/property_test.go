package lsq_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"example.org/levelhead/pitch/gauge/internal/lsq"
)

// tight is the agreement of two ways to the same number, in its natural unit.
// The drawn problems have condition numbers up to about 1e4.
const tight = 1e-8

// slight is a bend like that of a real linkage: the Gauss-Newton step converges
// fast. TestHopelessData has a stronger one.
const slight = 0.3

// drawn is a random problem of the pitch gauge's size or less.
type drawn struct {
	bowl
	lsq.Problem
}

// draw makes data that the model can follow to a few sigmas, from parameters
// within two sigmas of their prior means. It bends by up to bend.
func draw(t *rapid.T, bend float64) *drawn {
	numbers := func(n int, most float64, name string) []float64 {
		return rapid.SliceOfN(rapid.Float64Range(-most, most), n, n).Draw(t, name)
	}
	sigma := rapid.Float64Range(0.05, 2)

	m, n := rapid.IntRange(1, 12).Draw(t, "rows"), rapid.IntRange(1, 8).Draw(t, "cols")
	w := bowl{A: numbers(m*n, 3, "A"), B: numbers(m*n, bend, "B")}
	d := &drawn{w, lsq.Problem{
		Data:   make([]lsq.Datum, m),
		Params: make([]lsq.Parameter, n),
		Model:  w.model,
	}}
	mean, away, start := numbers(n, 3, "mean"), numbers(n, 2, "truth"), numbers(n, 1, "start")
	truth := make([]float64, n)
	for j := range d.Params {
		s := sigma.Draw(t, "prior sigma")
		truth[j] = mean[j] + s*away[j]
		d.Params[j] = lsq.Parameter{Start: mean[j] + s*start[j], Mean: mean[j], Sigma: s}
	}
	values, errors := make([]float64, m), numbers(m, 3, "error")
	w.model(truth, values, make([]float64, m*n))
	for i, v := range values {
		s := sigma.Draw(t, "sigma")
		d.Data[i] = lsq.Datum{Value: v + s*errors[i], Sigma: s}
	}
	return d
}

// dropPriors leaves the first few parameters without, if enough data stand in.
func (d *drawn) dropPriors(t *rapid.T) {
	for j := range rapid.IntRange(0, min(len(d.Params), len(d.Data))).Draw(t, "free") {
		d.Params[j].Mean, d.Params[j].Sigma, d.Params[j].Scale = 0, 0, 1
	}
}

// weighted is the Jacobian at params over the priors' rows, and the residuals.
func (d *drawn) weighted(params []float64) (*mat.Dense, *mat.VecDense) {
	m, n := len(d.Data), len(d.Params)
	values, derivs := make([]float64, m), make([]float64, m*n)
	d.model(params, values, derivs)
	a, r := mat.NewDense(m+n, n, nil), mat.NewVecDense(m+n, nil)
	for i, q := range d.Data {
		r.SetVec(i, (q.Value-values[i])/q.Sigma)
		for j := range n {
			a.Set(i, j, derivs[i*n+j]/q.Sigma)
		}
	}
	for j, q := range d.Params {
		if q.Sigma > 0 {
			r.SetVec(m+j, (q.Mean-params[j])/q.Sigma)
			a.Set(m+j, j, 1/q.Sigma)
		}
	}
	return a, r
}

func solve(t *rapid.T, p *lsq.Problem) *lsq.Result {
	t.Helper()
	r, err := lsq.Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// near fails unless got is want to tight times unit.
func near(t *rapid.T, what string, got, want, unit float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tight*unit) {
		t.Errorf("%s: %.15g, want %.15g", what, got, want)
	}
}

// A linear problem has one answer, which gonum's QR factorisation gives too.
func TestLinearIsQR(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, 0)
		d.dropPriors(t)
		a, b := d.weighted(make([]float64, len(d.Params)))
		var qr mat.QR
		qr.Factorize(a)
		var want mat.VecDense
		if err := qr.SolveVecTo(&want, false, b); err != nil || mat.Cond(a, 2) > 1e4 || mat.Norm(a, 2) < 1e-3 {
			t.Skip("nearly singular")
		}
		r := solve(t, &d.Problem)
		for j := range r.Params {
			near(t, "parameter", r.Params[j], want.AtVec(j), r.Sigma(j)*(1+mat.Norm(b, 2)))
		}

		// From within reach of the answer it takes one step, and one to polish.
		for j := range d.Params {
			d.Params[j].Start = want.AtVec(j) + 0.1
		}
		if r = solve(t, &d.Problem); r.Steps > 2 {
			t.Errorf("%d steps", r.Steps)
		}
	})
}

// At the answer the gradient is zero, and the covariance is the inverse of
// AᵀA, where A is the weighted Jacobian with the priors.
func TestStationaryWithCovariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, slight)
		r := solve(t, &d.Problem)
		a, b := d.weighted(r.Params)
		if mat.Cond(a, 2) > 1e4 {
			t.Skip("nearly singular")
		}
		var gradient mat.VecDense
		gradient.MulVec(a.T(), b)
		for j := range r.Params {
			near(t, "gradient", gradient.AtVec(j), 0, mat.Norm(a.ColView(j), 2)*(1+mat.Norm(b, 2)))
		}
		near(t, "sum", r.DataSum+r.PriorSum, mat.Dot(b, b), 1+mat.Dot(b, b))
		var unit, normal mat.Dense
		normal.Mul(a.T(), a)
		unit.Mul(r.Covariance, &normal)
		for i := range r.Params {
			for j := range r.Params {
				want := 0.0
				if i == j {
					want = 1
				}
				near(t, "covariance", unit.At(i, j), want, r.Sigma(i)*mat.Norm(&normal, 2)/min(1, r.Sigma(j)))
				near(t, "correlation", r.Correlation(i, j)*r.Sigma(i)*r.Sigma(j), r.Covariance.At(i, j), r.Sigma(i)*r.Sigma(j))
			}
		}
	})
}

// Posterior variances are below the prior ones, and the data's and the priors'
// shares of the parameters add up in each of three ways.
func TestShares(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, slight)
		n := len(d.Params)
		r := solve(t, &d.Problem)
		var remaining, settled float64
		for j, q := range d.Params {
			if !(r.Sigma(j) <= q.Sigma*(1+tight)) {
				t.Errorf("posterior sigma %g above the prior's %g", r.Sigma(j), q.Sigma)
			}
			near(t, "remaining", r.Remaining[j], r.Covariance.At(j, j)/(q.Sigma*q.Sigma), 1)
			remaining += r.Remaining[j]
		}
		for _, s := range r.Singular {
			settled += s * s / (1 + s*s)
		}
		for _, h := range r.Leverage {
			if !(h >= 0 && h <= 1+tight) {
				t.Errorf("leverage %g", h)
			}
		}
		near(t, "effective parameters", r.Effective(), settled, float64(n))
		near(t, "effective parameters", r.Effective(), float64(n)-remaining, float64(n))
		if want := len(d.Data); r.DoF != want {
			t.Errorf("%d degrees of freedom, want %d", r.DoF, want)
		}
	})
}

// The directions diagonalise the data's part of the normal matrix, in prior
// sigmas or scales.
func TestDirections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, slight)
		m, n := len(d.Data), len(d.Params)
		r := solve(t, &d.Problem)
		a, _ := d.weighted(r.Params)
		var image mat.Dense // of the directions, as columns
		scaled := mat.DenseCopyOf(r.Directions.T())
		for j, q := range d.Params {
			for k := range n {
				scaled.Set(j, k, scaled.At(j, k)*q.Sigma)
			}
		}
		image.Mul(a.Slice(0, m, 0, n), scaled)
		unit := 1 + r.Singular[0]
		for k := range n {
			if k > 0 && r.Singular[k] > r.Singular[k-1] {
				t.Errorf("singular values rise: %v", r.Singular)
			}
			for l := range n {
				length, inner := 0.0, 0.0
				if k == l {
					length, inner = 1, r.Singular[k]*r.Singular[k]
				}
				near(t, "direction", mat.Dot(r.Directions.RowView(k), r.Directions.RowView(l)), length, 1)
				near(t, "singular value", mat.Dot(image.ColView(k), image.ColView(l)), inner, unit*unit)
			}
		}
	})
}

// Neither the parameters' units nor the order of the data matter.
func TestInvariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, slight)
		m, n := len(d.Data), len(d.Params)
		order := rapid.Permutation(indices(m)).Draw(t, "order")
		unit := rapid.SliceOfN(rapid.Float64Range(-9, 9), n, n).Draw(t, "log unit")
		for j := range unit {
			unit[j] = math.Pow(10, unit[j])
		}
		other := lsq.Problem{Data: make([]lsq.Datum, m), Params: make([]lsq.Parameter, n)}
		for i, from := range order {
			other.Data[i] = d.Data[from]
		}
		for j, q := range d.Params {
			other.Params[j] = lsq.Parameter{Start: q.Start / unit[j], Mean: q.Mean / unit[j], Sigma: q.Sigma / unit[j]}
		}
		other.Model = func(params, values, derivs []float64) error {
			p, v, g := make([]float64, n), make([]float64, m), make([]float64, m*n)
			for j := range p {
				p[j] = params[j] * unit[j]
			}
			d.model(p, v, g)
			for i, from := range order {
				values[i] = v[from]
				for j := range p {
					derivs[i*n+j] = g[from*n+j] * unit[j]
				}
			}
			return nil
		}
		r, s := solve(t, &d.Problem), solve(t, &other)
		if math.Abs(r.DataSum+r.PriorSum-s.DataSum-s.PriorSum) > 1e-3 {
			t.Skip("two valleys")
		}
		for j := range n {
			near(t, "parameter", s.Params[j]*unit[j], r.Params[j], 100*d.Params[j].Sigma)
			near(t, "sigma", s.Sigma(j)*unit[j], r.Sigma(j), 100*d.Params[j].Sigma)
		}
		for i, from := range order {
			near(t, "leverage", s.Leverage[i], r.Leverage[from], 100)
		}
	})
}

func indices(n int) []int {
	x := make([]int, n)
	for i := range x {
		x[i] = i
	}
	return x
}

// A tighter prior pulls its parameter nearer to its mean.
func TestTighterPrior(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, 0)
		j := rapid.IntRange(0, len(d.Params)-1).Draw(t, "parameter")
		q := &d.Params[j]
		loose := solve(t, &d.Problem)
		q.Sigma *= rapid.Float64Range(0.01, 0.9).Draw(t, "factor")
		close := solve(t, &d.Problem)
		before, after := math.Abs(loose.Params[j]-q.Mean), math.Abs(close.Params[j]-q.Mean)
		if !(after <= before+tight) {
			t.Errorf("%g from the mean, with a tighter prior %g", before, after)
		}
		if !(close.Sigma(j) < loose.Sigma(j)) {
			t.Errorf("sigma %g, with a tighter prior %g", loose.Sigma(j), close.Sigma(j))
		}
	})
}

// One more datum raises no variance; and its standardised residual is how far
// it lies from what the fit without it predicts.
func TestOneMoreDatum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, 0)
		m, n := len(d.Data), len(d.Params)
		if m < 2 {
			t.Skip("one datum")
		}
		all := solve(t, &d.Problem)
		last := d.Data[m-1]
		d.Data = d.Data[:m-1]
		fewer := solve(t, &d.Problem)
		row := d.A[(m-1)*n:]
		for j := range n {
			if !(all.Sigma(j) <= fewer.Sigma(j)*(1+tight)) {
				t.Errorf("sigma %g, with one more datum %g", fewer.Sigma(j), all.Sigma(j))
			}
		}
		a := mat.NewVecDense(n, row)
		variance := mat.Inner(a, fewer.Covariance, a) + last.Sigma*last.Sigma
		z, ok := all.Standardized(m - 1)
		if !ok {
			t.Fatal("no standardised residual")
		}
		want := (last.Value - dot(row, fewer.Params)) / math.Sqrt(variance)
		near(t, "standardised residual", z, want, 100*(1+math.Abs(want)))
	})
}

// Data far from anything the model can give bend the sum of squares the wrong
// way. The iteration is slow there, but ends at a stationary point or says that
// it has not.
func TestHopelessData(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t, 3)
		for i := range d.Data {
			d.Data[i].Value = rapid.Float64Range(-30, 30).Draw(t, "value")
		}
		r, err := lsq.Solve(&d.Problem)
		var slow *lsq.ConvergenceError
		if errors.As(err, &slow) {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		checkStationary(t, &d.Problem, r)
	})
}
