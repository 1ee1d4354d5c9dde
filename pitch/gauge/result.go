package gauge

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.org/levelhead/units"
)

// Result is what readings say of a build. It is for one goroutine at a time.
type Result struct {
	Parameters []Estimate   `json:"parameters"`          // in the order of Session.Parameters
	Readings   []Calculated `json:"calculated_readings"` // in the order given, outliers among them
	Outliers   []Outlier    `json:"outliers"`            // readings that no build explains; they are left out of all else
	// Combinations are parameters that the readings do not tell apart, and what they do
	// together where that is known.
	Combinations []Combination `json:"combinations"`
	ChiSquare    float64       `json:"chi_square"`    // of readings and tolerances together
	DoF          int           `json:"readings_used"` // readings that were used
	P            float64       `json:"probability"`   // the probability of a chi-square as large or larger by chance

	fit        *fit
	taken      []row         // all that were given
	resolution *mat.SymDense // see verdict.go
}

// Estimate is what is known of one parameter. Its amounts are in SI units.
type Estimate struct {
	Parameter Parameter
	Off       float64 // by how much it is more than the file says
	Sigma     float64 // standard error of Off
	Tolerance float64 // standard deviation before anything was measured
	// Known is the share of the variance before that the readings have removed: 0
	// where they say nothing, 1 where they say all.
	Known   float64
	Verdict Verdict
	With    []Parameter // for KnownTogether: the parameters that this one is not told apart from
}

// Calculated is a reading compared with the build that was found.
type Calculated struct {
	Shown    units.Angle `json:"shown"`    // what that build should show on the same gauge
	Residual units.Angle `json:"residual"` // the reading minus Shown
	// Student is the residual from the fit to all other readings, over its standard
	// deviation: a standard normal number where the reading is sound.
	Student float64 `json:"student"`
	Outlier bool    `json:"outlier"`
}

// Outlier is a reading that no build explains.
type Outlier struct {
	Index   int         `json:"index"`   // of the reading, from 0
	By      units.Angle `json:"off_by"`  // the reading minus what the other readings say
	Sigma   units.Angle `json:"sigma"`   // standard deviation of By, were the reading sound
	Student float64     `json:"student"` // By over Sigma
}

// Prediction is what a build should show to a gauge without error.
type Prediction struct {
	Value units.Angle `json:"value"`
	Sigma units.Angle `json:"sigma"` // standard error
}

// result describes a fit to the readings but outliers.
func (b *Session) result(f *fit, all []row, outliers []int) (*Result, error) {
	r := &Result{
		Readings:  make([]Calculated, len(all)),
		ChiSquare: f.chiSquare,
		DoF:       len(f.rows),
		P:         f.probability(),
		fit:       f,
		taken:     all,
	}
	d := f.deletion()
	kept := 0
	for i := range all {
		if slices.Contains(outliers, i) {
			o, shown, err := f.outlier(i, &all[i])
			if err != nil {
				return nil, err
			}
			r.Outliers = append(r.Outliers, o)
			r.Readings[i] = Calculated{Shown: shown, Residual: o.By, Student: o.Student, Outlier: true}
			continue
		}
		left := f.rows[kept].value - f.values[kept]
		r.Readings[i] = Calculated{
			Shown:    units.Angle(f.values[kept]),
			Residual: units.Angle(left),
			Student:  math.Copysign(d.student(kept, nil), left),
		}
		kept++
	}
	r.judge()
	return r, nil
}

// outlier returns reading i against a fit that does not use it.
func (f *fit) outlier(i int, r *row) (Outlier, units.Angle, error) {
	values, slope := make([]float64, 1), make([]float64, len(f.x))
	if err := f.build.show([]row{*r}, f.x, values, slope); err != nil {
		return Outlier{}, 0, err
	}
	by := r.value - values[0]
	sigma := math.Sqrt(f.variance(mat.NewVecDense(len(slope), slope)) + r.sigma*r.sigma)
	return Outlier{i, units.Angle(by), units.Angle(sigma), by / sigma}, units.Angle(values[0]), nil
}

// Predict returns what the build shows at a point. The error is a *units.FieldError, or what
// keeps the build from getting there.
func (r *Result) Predict(s Point) (Prediction, error) {
	if r.fit == nil {
		return Prediction{}, errNoFit
	}
	value, slope, err := r.fit.predict(&s)
	return r.fit.prediction(value, slope), err
}

// Difference returns by how much one point shows more than another, such as one blade
// than the next. The difference is often much better known than either. The errors are those of Predict.
func (r *Result) Difference(s, than Point) (Prediction, error) {
	if r.fit == nil {
		return Prediction{}, errNoFit
	}
	value, slope, err := r.fit.predict(&s)
	if err != nil {
		return Prediction{}, err
	}
	other, otherSlope, err := r.fit.predict(&than)
	if err != nil {
		return Prediction{}, err
	}
	slope.SubVec(slope, otherSlope)
	return r.fit.prediction(value-other, slope), nil
}

// predict returns what the calculated build shows at a point, and the derivatives over x.
func (f *fit) predict(s *Point) (float64, *mat.VecDense, error) {
	value, slope := make([]float64, 1), make([]float64, len(f.x))
	p, err := f.session.find(s)
	if err = own(err); err == nil {
		err = f.build.show([]row{{place: p, zero: -1}}, f.x, value, slope)
	}
	if err != nil {
		clear(value)
		clear(slope)
	}
	return value[0], mat.NewVecDense(len(slope), slope), err
}

func (f *fit) prediction(value float64, slope mat.Vector) Prediction {
	return Prediction{units.Angle(value), units.Angle(math.Sqrt(f.variance(slope)))}
}

// Covariance returns the covariance of what two parameters are off by, in SI units, and 0
// for one without a tolerance.
func (r *Result) Covariance(p, q Parameter) float64 {
	if r.fit == nil {
		return math.NaN()
	}
	i, ok := r.fit.session.model.place(p)
	j, also := r.fit.session.model.place(q)
	if !ok || !also {
		return 0
	}
	return r.fit.covariance.At(i, j)
}

var errNoFit = own(refuse("result", "is empty; take that of Session.Fit"))
