package curve

import (
	"slices"

	"gonum.org/v1/gonum/interp"
)

// fitter is what the interpolators of gonum offer.
type fitter interface {
	interp.Fitter
	interp.DerivativePredictor
}

func (k Kind) fitter() fitter {
	switch k {
	case Monotone:
		return new(interp.FritschButland)
	case Akima:
		return new(interp.AkimaSpline)
	case Natural:
		return new(interp.NaturalCubic)
	case NotAKnot:
		return new(interp.NotAKnotCubic)
	}
	return new(polyline)
}

// polyline adds the missing derivative to gonum's piecewise linear interpolator.
type polyline struct {
	interp.PiecewiseLinear
	xs, ys []float64
}

func (p *polyline) Fit(xs, ys []float64) error {
	p.xs, p.ys = xs, ys
	return p.PiecewiseLinear.Fit(xs, ys)
}

func (p *polyline) PredictDerivative(x float64) float64 {
	i := segment(p.xs, x)
	return (p.ys[i+1] - p.ys[i]) / (p.xs[i+1] - p.xs[i])
}

// segment returns the i for which x lies from xs[i] up to but not at xs[i+1];
// the first and the last segment reach on without end.
func segment(xs []float64, x float64) int {
	i, found := slices.BinarySearch(xs, x)
	if !found {
		i--
	}
	return min(max(i, 0), len(xs)-2)
}
