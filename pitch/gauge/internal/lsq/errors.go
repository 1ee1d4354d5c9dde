package lsq

import "fmt"

// InputError reports what cannot be used in a Problem, such as a sigma of 0.
type InputError struct {
	Field  string
	Index  int // of the datum or parameter, from 0; -1 where it belongs to neither
	Value  float64
	Reason string
}

func (e *InputError) Error() string {
	where := e.Field
	if e.Index >= 0 {
		where += fmt.Sprintf(" %d", e.Index)
	}
	if e.Field == "model" {
		return "lsq: the model is missing"
	}
	return fmt.Sprintf("lsq: %s %s, not %g", where, e.Reason, e.Value)
}

// ModelError reports a model that does not exist at the start.
type ModelError struct {
	Params []float64
	Err    error // the model's own, or an *OverflowError
}

func (e *ModelError) Error() string {
	return fmt.Sprintf("lsq: no model at the start: %v", e.Err)
}

func (e *ModelError) Unwrap() error { return e.Err }

// OverflowError reports a weighted residual, a weighted derivative or the sum of
// the squares of either that is not a finite number.
type OverflowError struct {
	Row   int // of the datum, from 0; beyond the data, the prior of parameter Row-len(Data); -1 for a sum of squares
	Param int // of the derivative, from 0; -1 for a residual or a sum
	Value float64
}

func (e *OverflowError) Error() string {
	switch {
	case e.Row < 0:
		return fmt.Sprintf("a sum of squares is %g", e.Value)
	case e.Param < 0:
		return fmt.Sprintf("weighted residual %d is %g", e.Row, e.Value)
	}
	return fmt.Sprintf("weighted derivative of value %d by parameter %d is %g", e.Row, e.Param, e.Value)
}

// ConvergenceError reports an iteration that ended away from a stationary point.
type ConvergenceError struct {
	Params []float64 // where it ended
	Steps  int       // that were tried
	Offset float64   // from the linear model's optimum, in posterior standard deviations
	Step   float64   // the largest undamped change still wanted, in sigmas or scales
	Param  int       // that wants it
	Err    error     // what failed last, where something did: the model at a trial point, or the decomposition
}

func (e *ConvergenceError) Error() string {
	s := fmt.Sprintf("lsq: not converged in %d steps: offset of %.3g standard deviations, parameter %d still wants a change of %.3g of its sigma or scale",
		e.Steps, e.Offset, e.Param, e.Step)
	if e.Err != nil {
		s += ": " + e.Err.Error()
	}
	return s
}

func (e *ConvergenceError) Unwrap() error { return e.Err }

// SingularError reports data and priors that together leave some combination
// of the parameters open, so that there is no single answer.
type SingularError struct {
	Rank   int     // how many combinations are settled
	Params int     // how many there are
	Ratio  float64 // smallest to largest singular value of the Jacobian, its columns made of length one
	Param  int     // with the largest part in the combination that is least settled
}

func (e *SingularError) Error() string {
	return fmt.Sprintf("lsq: data and priors settle %d of %d parameters: parameter %d is the most open (singular values in the ratio %.3g)",
		e.Rank, e.Params, e.Param, e.Ratio)
}
