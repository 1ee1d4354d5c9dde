package gauge

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Verdict tells whether the readings say what a parameter is off by.
type Verdict int

// The verdicts, by the resolution matrix R: the estimate of parameter j is, but for the
// readings' errors, the sum of R_ji times what each parameter i is truly off by, all in
// tolerances. Of the data's singular values s and directions V, R = V s²/(1+s²) Vᵀ, and
// R_jj is Estimate.Known (Menke, Geophysical Data Analysis: Discrete Inverse Theory,
// the chapter on resolution; from memory).
const (
	// Unknown: R_jj is below 0.05. The readings say nearly nothing of the parameter.
	Unknown Verdict = iota
	// KnownTogether: R_jj is from 0.05 to 0.75. The readings say something of this parameter
	// and others together: those whose |R_ji| is R_jj/3 or more.
	KnownTogether
	// Known: R_jj is 0.75 or more, so that the standard error is half the
	// tolerance or less.
	Known
)

const (
	known         = 0.75
	knownTogether = 0.05
	shares        = 1. / 3
)

func (v Verdict) String() string {
	switch v {
	case Unknown:
		return "unknown"
	case KnownTogether:
		return "known only together"
	case Known:
		return "known"
	}
	return fmt.Sprintf("Verdict(%d)", int(v))
}

// judge fills what r says of the parameters.
func (r *Result) judge() {
	f := r.fit
	m := f.session.model
	n := len(m.params)
	r.resolution = mat.NewSymDense(n, nil)
	for j := range n {
		for i := range j + 1 {
			v := -f.covariance.At(i, j) / (m.sd[i] * m.sd[j])
			if i == j {
				v = math.Max(0, 1+v)
			}
			r.resolution.SetSym(i, j, v)
		}
	}
	r.Parameters = make([]Estimate, n)
	for j, p := range m.params {
		e := Estimate{
			Parameter: p, Off: f.x[j], Tolerance: m.sd[j],
			Sigma: math.Sqrt(f.covariance.At(j, j)),
			Known: r.resolution.At(j, j),
		}
		switch {
		case e.Known >= known:
			e.Verdict = Known
		case e.Known >= knownTogether:
			e.Verdict = KnownTogether
			for i, q := range m.params {
				if i != j && r.sharing(j, i) {
					e.With = append(e.With, q)
				}
			}
		}
		r.Parameters[j] = e
	}
	r.combine()
}

// sharing reports whether the estimate of parameter j holds much of parameter i.
func (r *Result) sharing(j, i int) bool {
	return math.Abs(r.resolution.At(j, i)) >= shares*r.resolution.At(j, j)
}
