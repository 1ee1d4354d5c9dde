package lsq

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas/blas64"
)

const (
	// offsetTolerance bounds the relative offset at a stationary point.
	offsetTolerance = 1e-12
	// stepTolerance bounds the Gauss-Newton step there, relative to the
	// parameter's value and unit together.
	stepTolerance = 1e-12
	// maxPolish bounds the steps taken where the gain is lost in rounding. A sound
	// problem needs one or two.
	maxPolish = 50
	// roundoff is what rounding may do to a datum, a model value or a prior mean,
	// relative to it.
	roundoff = 8 * 0x1p-52
)

// Solve finds parameters at which the sum of the squared weighted residuals of
// data and priors is stationary, from Params' Start downhill. The error is an
// *InputError, a *ModelError, a *ConvergenceError or a *SingularError.
func Solve(p *Problem) (*Result, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	s := newSolver(p)
	if err := s.evaluate(s.at); err != nil {
		return nil, &ModelError{Params: s.at.params, Err: err}
	}
	return s.run()
}

// solver is the workspace of one Solve. It measures changes of parameter j in
// units[j].
type solver struct {
	*Problem
	units  []float64
	priors []float64 // 1 where the parameter has a prior, 0 elsewhere

	at, trial *point
	lengths   []float64 // of the Jacobian's columns: the metric of the trust region
	factor    *factor
	c         []float64 // Uᵀ residuals
	step      []float64 // first over the metric, then in units
	coef      []float64
}

// point is what is known of one set of parameters.
type point struct {
	params []float64
	values []float64 // of the model
	resid  []float64 // weighted: of the data, then of the priors, 0 where there is none
	jac    []float64 // weighted, by units: rows of the data only
	norm   float64   // of resid
	noise  float64   // what rounding may do to norm
}

func newSolver(p *Problem) *solver {
	m, n := len(p.Data), len(p.Params)
	s := &solver{
		Problem: p,
		units:   make([]float64, n),
		priors:  make([]float64, n),
		at:      newPoint(m, n),
		trial:   newPoint(m, n),
		lengths: make([]float64, n),
		factor:  newFactor(m+n, n),
		c:       make([]float64, n),
		step:    make([]float64, n),
		coef:    make([]float64, n),
	}
	for j := range p.Params {
		s.at.params[j] = p.Params[j].Start
		s.units[j] = p.Params[j].unit()
		if p.Params[j].Sigma > 0 {
			s.priors[j] = 1
		}
	}
	return s
}

func newPoint(m, n int) *point {
	return &point{
		params: make([]float64, n),
		values: make([]float64, m),
		resid:  make([]float64, m+n),
		jac:    make([]float64, m*n),
	}
}

// evaluate fills pt from its params.
func (s *solver) evaluate(pt *point) error {
	if err := s.Model(pt.params, pt.values, pt.jac); err != nil {
		return err
	}
	m, n := len(s.Data), len(s.Params)
	var noise float64
	for i, d := range s.Data {
		pt.resid[i] = (d.Value - pt.values[i]) / d.Sigma
		noise = math.Hypot(noise, (math.Abs(d.Value)+math.Abs(pt.values[i]))/d.Sigma)
		for j, unit := range s.units {
			g := pt.jac[i*n+j] * (unit / d.Sigma)
			if !finite(g) {
				return &OverflowError{Row: i, Param: j, Value: g}
			}
			pt.jac[i*n+j] = g
		}
	}
	for j, q := range s.Params {
		pt.resid[m+j] = 0
		if q.Sigma > 0 {
			pt.resid[m+j] = (q.Mean - pt.params[j]) / q.Sigma
			noise = math.Hypot(noise, (math.Abs(q.Mean)+math.Abs(pt.params[j]))/q.Sigma)
		}
	}
	for i, r := range pt.resid {
		if !finite(r) {
			return &OverflowError{Row: i, Param: -1, Value: r}
		}
	}
	pt.norm = blas64.Nrm2(vector(pt.resid))
	pt.noise = roundoff * noise
	for _, norm := range []float64{pt.norm, blas64.Nrm2(vector(pt.jac))} {
		if sum := norm * norm; !finite(sum) {
			return &OverflowError{Row: -1, Param: -1, Value: sum}
		}
	}
	return nil
}

// run is a trust-region iteration (Moré 1978) from s.at.
func (s *solver) run() (*Result, error) {
	s.measure(false)
	if err := s.linearise(); err != nil {
		return nil, s.stopped(0, err)
	}
	radius, polished := s.reach(), 0
	for tried := 0; ; {
		if s.stationary() || polished == maxPolish {
			// The lengths may be those of steeper places; take the ones here.
			s.measure(false)
			if err := s.linearise(); err != nil {
				return nil, s.stopped(tried, err)
			}
			if s.stationary() || polished == maxPolish && s.lost() {
				return s.result(tried)
			}
			radius, polished = s.reach(), 0
		}
		lost, before := s.lost(), s.offset()
		var length float64
		var failed error
		for accepted := false; !accepted; {
			if tried == s.maxSteps() {
				return nil, s.stopped(tried, failed)
			}
			tried++
			var ratio float64
			ratio, length, failed = s.try(radius)
			switch {
			case failed != nil || !lost && !(ratio >= 0.25):
				radius = 0.5 * min(length, radius)
			case !lost && ratio > 0.75:
				radius = max(radius, 3*length)
			}
			accepted = failed == nil && (lost || ratio > 1e-4)
		}
		if err := s.exchange(); err != nil {
			return nil, s.stopped(tried, err)
		}
		if !lost {
			continue
		}
		// The sum of squares is too coarse a judge here; the offset is a finer one.
		polished++
		if s.offset() < before {
			radius = max(radius, 2*length)
			continue
		}
		radius = 0.5 * length
		if err := s.exchange(); err != nil {
			return nil, s.stopped(tried, err)
		}
	}
}

// exchange moves to s.trial, and keeps the place here there.
func (s *solver) exchange() error {
	s.at, s.trial = s.trial, s.at
	s.measure(true)
	return s.linearise()
}

func (s *solver) maxSteps() int {
	if s.MaxSteps == 0 {
		return DefaultMaxSteps
	}
	return s.MaxSteps
}

// measure sets lengths to those of the Jacobian's columns here or, with keep,
// to the largest so far (Moré 1978, equation 6.1).
func (s *solver) measure(keep bool) {
	n := len(s.Params)
	for j := range s.lengths {
		column := blas64.Vector{N: len(s.Data), Inc: n, Data: s.at.jac[j:]}
		length := math.Hypot(blas64.Nrm2(column), s.priors[j])
		switch {
		case keep:
			s.lengths[j] = max(s.lengths[j], length)
		case length == 0:
			s.lengths[j] = 1
		default:
			s.lengths[j] = length
		}
	}
}

// linearise decomposes the Jacobian here, its columns divided by lengths.
func (s *solver) linearise() error {
	if err := s.factor.of(s.at.jac, s.priors, s.lengths); err != nil {
		return err
	}
	s.factor.project(s.c, s.at.resid)
	return nil
}

// reach is the first trust radius for an iteration from here: the parameters'
// values and units together.
func (s *solver) reach() float64 {
	var r float64
	for j, p := range s.at.params {
		r = math.Hypot(r, s.lengths[j]*(math.Abs(p)/s.units[j]+1))
	}
	return r
}

// offset is the length of the residuals' projection on the tangent space.
func (s *solver) offset() float64 {
	return blas64.Nrm2(vector(s.c[:s.factor.rank]))
}

// wanted finds the parameter with the largest Gauss-Newton step relative to its
// value and unit together, and gives that step in units and relative.
func (s *solver) wanted() (param int, step, relative float64) {
	s.factor.step(s.step, s.coef, s.c, math.Inf(1))
	for j := range s.step {
		change := math.Abs(s.step[j] / s.lengths[j])
		if r := change / (math.Abs(s.at.params[j])/s.units[j] + 1); r > relative {
			param, step, relative = j, change, r
		}
	}
	return param, step, relative
}

func (s *solver) stationary() bool {
	if s.offset() <= offsetTolerance*s.at.norm {
		return true
	}
	_, _, relative := s.wanted()
	return relative <= max(stepTolerance, s.Tolerance)
}

// lost reports whether all that is left to gain is too near the rounding of the
// sum of squares to be judged by it.
func (s *solver) lost() bool {
	o := s.offset() / s.at.norm
	return o*o <= 100*s.slack()
}

// slack is what rounding may do to the sum of squares here, relative to it.
func (s *solver) slack() float64 { return roundoff + 2*s.at.noise/s.at.norm }

var errFar = errors.New("a step led to a parameter that is not finite")

// try fills s.trial a step within radius from here. It gives the ratio of the
// reduction in the sum of squares to what the linear model promised, the length
// of the step, and what the model says where it does not exist there.
func (s *solver) try(radius float64) (ratio, length float64, failed error) {
	length, gain := s.factor.step(s.step, s.coef, s.c, radius)
	for j := range s.step {
		x := s.at.params[j] + s.step[j]/s.lengths[j]*s.units[j]
		if !finite(x) {
			return 0, length, errFar
		}
		s.trial.params[j] = x
	}
	if err := s.evaluate(s.trial); err != nil {
		return 0, length, err
	}
	// Both reductions are relative. Without the slack, the last steps would be
	// refused at random (Conn, Gould and Toint 2000, section 17.4.2).
	q := s.trial.norm / s.at.norm
	slack := s.slack()
	return ((1-q)*(1+q) + slack) / (gain/(s.at.norm*s.at.norm) + slack), length, nil
}

func (s *solver) stopped(tried int, failed error) error {
	e := &ConvergenceError{Params: slices.Clone(s.at.params), Steps: tried, Offset: s.offset(), Err: failed}
	e.Param, e.Step, _ = s.wanted()
	return e
}
