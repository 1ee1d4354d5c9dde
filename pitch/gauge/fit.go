package gauge

import (
	"errors"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.org/levelhead/pitch/gauge/internal/lsq"
)

// Fit finds the build that explains readings best: the one of greatest probability, given
// how far its parameters are commonly off. Readings that no build explains are left out,
// and named in Result.Outliers. With no readings the result is what is known beforehand.
//
// The error is a *ReadingError for a reading that cannot be one, such as of a blade that
// the head does not have. It is a *MisfitError for readings that do not belong to this
// build, and a *units.FieldError for more than MaxReadings.
func (b *Session) Fit(readings []Reading) (*Result, error) {
	if b.model == nil {
		return nil, errEmpty
	}
	rows, err := b.rows(readings)
	if err != nil {
		return nil, err
	}
	all, err := b.solve(rows, b.model.sd)
	if err != nil {
		if bad := unreachable(err); bad != nil {
			return nil, bad
		}
		return nil, &MisfitError{Readings: len(rows), Err: err}
	}
	out, misfit := all.strays()
	if misfit != nil {
		misfit.Unless = all.faults()
		return nil, misfit
	}
	if len(out) == 0 {
		return b.result(all, rows, nil)
	}
	var in []row
	for i := range rows {
		if !slices.Contains(out, i) {
			in = append(in, rows[i])
		}
	}
	kept, err := b.solve(in, b.model.sd)
	if err != nil {
		return nil, &MisfitError{Readings: len(in), Err: err}
	}
	misfit = all.misfit()
	misfit.Suspects = out
	if kept.probability() < falseAlarm {
		return nil, misfit // to first order they were sound
	}
	// It can be a parameter that is far off, and no reading.
	misfit.Unless = all.faults()
	if f := misfit.Unless; len(f) > 0 && f[0].ChiSquare < kept.chiSquare+float64(len(out))+runnerUp {
		misfit.TooFew = true
		return nil, misfit
	}
	return b.result(kept, rows, out)
}

// unreachable returns the reading that the file's build cannot get to, where that is
// why a fit cannot start.
func unreachable(err error) error {
	var start *lsq.ModelError
	var reading *ReadingError
	if errors.As(err, &start) && errors.As(err, &reading) {
		return reading
	}
	return nil
}

// fit is the most probable build, and what is known of it near there: linear in x.
type fit struct {
	session    *Session
	build      *build
	rows       []row
	x          []float64
	covariance *mat.SymDense // of x
	values     []float64     // of the rows, calculated
	slopes     []float64     // of the rows over x
	chiSquare  float64       // of the readings and the tolerances together
}

// solve fits the rows, for parameters of the given standard deviations before. The errors are
// those of lsq.Solve.
func (b *Session) solve(rows []row, sds []float64) (*fit, error) {
	m := b.model
	n := len(m.params)
	build, err := m.newBuild()
	if err != nil {
		return nil, err
	}
	f := &fit{
		session: b, build: build, rows: rows,
		x:      make([]float64, n),
		values: make([]float64, len(rows)),
		slopes: make([]float64, len(rows)*n),
	}
	if len(rows) == 0 {
		f.covariance = mat.NewSymDense(n, nil)
		for j, sd := range sds {
			f.covariance.SetSym(j, j, sd*sd)
		}
		return f, nil
	}
	problem := &lsq.Problem{
		Data:   make([]lsq.Datum, len(rows)),
		Params: make([]lsq.Parameter, n),
		// Sound readings take six steps or so; more are for readings of some
		// other machine.
		MaxSteps:  20,
		Tolerance: enough,
		Model: func(x, values, slopes []float64) error {
			return build.show(rows, x, values, slopes)
		},
	}
	for i := range rows {
		problem.Data[i] = lsq.Datum{Value: rows[i].value, Sigma: rows[i].sigma}
	}
	for j, sd := range sds {
		problem.Params[j].Sigma = sd
	}
	solved, err := lsq.Solve(problem)
	if err != nil {
		return nil, err
	}
	copy(f.x, solved.Params)
	f.covariance, f.chiSquare = solved.Covariance, solved.DataSum+solved.PriorSum
	return f, build.show(rows, f.x, f.values, f.slopes)
}

// enough is how near to the most probable build a fit must come, in standard deviations
// before. Most come to rounding; the pose of a plate of more than three legs is itself not
// that exact.
const enough = 1e-9

// slope returns the derivatives of row i over x.
func (f *fit) slope(i int) mat.Vector {
	n := len(f.x)
	return mat.NewVecDense(n, f.slopes[i*n:][:n])
}

// variance returns that of a quantity with the given derivatives over x.
func (f *fit) variance(slope mat.Vector) float64 { return mat.Inner(slope, f.covariance, slope) }
