package gauge

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/stat"

	"example.org/levelhead/units"
)

// Budget tells which parameters a quantity's spread comes from. The variance of a tilt is
// that of its two components together, so that the direction it is looked at from does not
// matter. Where the parameters move the quantity by less than 1e-12 rad, all of a budget is 0.
type Budget struct {
	// WorstCase is how far the quantity is off, to first order, where every parameter is
	// off by Worst tolerances to the worst side: the arithmetic sum. RSS is the standard
	// deviation to first order: the root of the sum of squares.
	WorstCase, RSS units.Angle
	// Shares are those of the parameters in the square of RSS, by the analytic derivatives
	// at the file's build. They sum to 1.
	Shares []float64
	// Sampled are shares in the variance over the builds, by regression on what the
	// parameters are off by. They differ from Shares by chance, and by what is not of
	// first order.
	Sampled []float64
	// Explained is the share of the variance over the builds that such a regression
	// explains, adjusted for the number of parameters. It is 1 where the quantity is
	// linear in its parameters all over their tolerances.
	Explained float64
}

// still is the standard deviation, in rad, up to which a quantity does not move: well
// above rounding, and well below what the pose and the pitch are good to.
const still = 1e-12

// budget returns the budget of one pitch, or of the two components of the tilt, at place i.
func (v *survey) budget(i int, sights []int, reg *regression) Budget {
	b := Budget{Shares: make([]float64, len(v.params)), Sampled: make([]float64, len(v.params))}
	effects := make([]r2.Vec, len(v.params)) // of one tolerance each
	for j := range effects {
		effects[j].X = v.slopes[i][sights[0]][j] * v.model.sd[j]
		if len(sights) == 2 {
			effects[j].Y = v.slopes[i][sights[1]][j] * v.model.sd[j]
		}
	}
	if rss := rootSumSquare(effects); rss > still {
		b.RSS, b.WorstCase = units.Angle(rss), units.Angle(Worst*worstCase(effects))
		for j, e := range effects {
			b.Shares[j] = r2.Norm2(e) / (rss * rss)
		}
	}
	var total, explained float64
	for _, q := range sights {
		column := v.shown[i][q]
		total += stat.Variance(column, nil)
		explained += reg.explain(b.Sampled, column)
	}
	if !(total > still*still) {
		clear(b.Sampled)
		return b
	}
	floats.Scale(1/total, b.Sampled)
	n, p := float64(len(v.shown[i][0])), float64(len(v.params))
	b.Explained = 1 - (1-explained/total)*(n-1)/(n-p-1)
	return b
}

// rootSumSquare returns the root of the sum of squares of effects that do not depend on
// each other.
func rootSumSquare(effects []r2.Vec) float64 {
	var sum float64
	for _, e := range effects {
		sum += r2.Norm2(e)
	}
	return math.Sqrt(sum)
}

// worstCase returns the longest sum of effects, each of which may be to either side: for
// effects in one line the sum of their sizes. The sums fill a polygon whose sides are
// the effects in the order of their directions, twice; its corners are tried in turn.
func worstCase(effects []r2.Vec) float64 {
	sides := make([]r2.Vec, len(effects))
	var corner r2.Vec
	for i, e := range effects {
		if e.Y < 0 || e.Y == 0 && e.X < 0 {
			e = r2.Scale(-1, e)
		}
		sides[i] = e
		corner = r2.Add(corner, e)
	}
	slices.SortFunc(sides, func(a, b r2.Vec) int {
		return cmp.Compare(math.Atan2(a.Y, a.X), math.Atan2(b.Y, b.X))
	})
	most := r2.Norm(corner)
	for _, side := range sides {
		corner = r2.Sub(corner, r2.Scale(2, side))
		most = max(most, r2.Norm(corner))
	}
	return most
}

// regression finds what columns owe to the parameters, by least squares.
type regression struct {
	off       [][]float64   // by parameter: columns in tolerances, about their means
	variances []float64     // of them
	inverse   *mat.SymDense // of their covariance; nil where there are no parameters
}

// newRegression takes over the columns of what the parameters are off by, in tolerances.
// The error is a *units.FieldError where they do not tell the parameters apart.
func newRegression(off [][]float64) (*regression, error) {
	reg := &regression{off: off}
	if len(off) == 0 {
		return reg, nil
	}
	spread := mat.NewSymDense(len(off), nil)
	for i, column := range off {
		floats.AddConst(-stat.Mean(column, nil), column)
		for j := range i + 1 {
			spread.SetSym(i, j, floats.Dot(column, off[j])/float64(len(column)-1))
		}
		reg.variances = append(reg.variances, spread.At(i, i))
	}
	reg.inverse = new(mat.SymDense)
	var factor mat.Cholesky
	if !factor.Factorize(spread) || factor.InverseTo(reg.inverse) != nil {
		return nil, own(refuse("Builds", "are too few to tell %d parameters apart; ask for more than %d", len(off), len(off[0])))
	}
	return reg, nil
}

// explain returns the variance of a column that the parameters explain together, and adds to
// shares what each explains alone.
func (reg *regression) explain(shares, column []float64) float64 {
	if reg.inverse == nil {
		return 0
	}
	common := mat.NewVecDense(len(reg.off), nil) // covariance with each parameter
	for j, off := range reg.off {
		common.SetVec(j, floats.Dot(off, column)/float64(len(column)-1))
	}
	var slopes mat.VecDense // over the parameters, in tolerances
	slopes.MulVec(reg.inverse, common)
	for j, variance := range reg.variances {
		shares[j] += slopes.AtVec(j) * slopes.AtVec(j) * variance
	}
	return mat.Dot(&slopes, common)
}
