package lsq

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// factor is the thin singular value decomposition U S Vᵀ of a Jacobian with a
// row for each datum and one for each prior.
type factor struct {
	a, u, vt blas64.General
	s        []float64 // in falling order
	rank     int       // how many of s are above rounding
	work     []float64
}

var errDecomposition = errors.New("the singular value decomposition did not converge")

func newFactor(rows, cols int) *factor {
	f := &factor{
		a:  general(rows, cols),
		u:  general(rows, cols),
		vt: general(cols, cols),
		s:  make([]float64, cols),
	}
	var size [1]float64
	lapack64.Gesvd(lapack.SVDStore, lapack.SVDStore, f.a, f.u, f.vt, f.s, size[:], -1)
	f.work = make([]float64, int(size[0]))
	return f
}

func general(rows, cols int) blas64.General {
	return blas64.General{Rows: rows, Cols: cols, Stride: cols, Data: make([]float64, rows*cols)}
}

// of decomposes jac, which holds the rows of the data, over the rows of the
// priors; column j is divided by lengths[j]. Priors and lengths may be nil.
func (f *factor) of(jac, priors, lengths []float64) error {
	n := f.a.Cols
	clear(f.a.Data)
	copy(f.a.Data, jac)
	below := f.a.Data[len(jac):]
	for j, w := range priors {
		below[j*n+j] = w
	}
	for j, length := range lengths {
		for i := j; i < len(f.a.Data); i += n {
			f.a.Data[i] /= length
		}
	}
	if !lapack64.Gesvd(lapack.SVDStore, lapack.SVDStore, f.a, f.u, f.vt, f.s, f.work, len(f.work)) {
		return errDecomposition
	}
	f.rank = 0
	for f.rank < n && f.s[f.rank] > float64(f.a.Rows)*epsilon*f.s[0] {
		f.rank++
	}
	return nil
}

// leverage is the hat value of one row: its squared length in U.
func (f *factor) leverage(row int) float64 {
	var h float64
	for _, u := range f.u.Data[row*f.u.Stride:][:f.rank] {
		h += u * u
	}
	return h
}

// project sets c to Uᵀ r, of which only the first rank entries mean anything.
func (f *factor) project(c, r []float64) {
	blas64.Gemv(blas.Trans, 1, f.u, vector(r), 0, vector(c))
}

// step sets dst to the shortest vector that minimises |A dst - r| within radius,
// where c is Uᵀ r, and returns its length and by how much |A dst - r|² is below
// |r|². It uses coef as scratch.
//
// The damping mu solves |dst| = radius to a tenth by Newton's method on
// 1/|dst|, which rises to the root from mu = 0 without passing it (Moré 1978,
// section 5; Conn, Gould and Toint 2000, section 7.3.3).
func (f *factor) step(dst, coef, c []float64, radius float64) (length, gain float64) {
	coef = coef[:f.rank]
	for mu := 0.0; ; {
		var slope float64
		for i := range coef {
			coef[i] = c[i] / (f.s[i] + mu/f.s[i])
			slope += coef[i] * coef[i] / (f.s[i]*f.s[i] + mu)
		}
		length = blas64.Nrm2(vector(coef))
		next := mu + (length/radius-1)*length*length/slope
		if length <= 1.1*radius || !(next > mu) {
			break
		}
		mu = next
	}
	for i, k := range coef {
		gain += k * f.s[i] * (2*c[i] - f.s[i]*k)
	}
	clear(dst)
	for i, k := range coef {
		blas64.Axpy(k, blas64.Vector{N: len(dst), Inc: 1, Data: f.vt.Data[i*f.vt.Stride:]}, vector(dst))
	}
	return length, gain
}

func vector(x []float64) blas64.Vector { return blas64.Vector{N: len(x), Inc: 1, Data: x} }

// epsilon is the distance from 1 to the next float64.
var epsilon = math.Nextafter(1, 2) - 1
