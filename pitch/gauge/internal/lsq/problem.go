package lsq

import "math"

// Problem is a set of data, a model of them, and what is known of the model's
// parameters beforehand.
type Problem struct {
	Data   []Datum
	Params []Parameter
	Model  Model

	// Tolerance ends the iteration where no parameter wants a Gauss-Newton step of
	// more than this, relative to its value and its Sigma or Scale together. Zero
	// takes 1e-12; more is for derivatives that are not exact, which lead no nearer.
	Tolerance float64

	// MaxSteps bounds the trial steps, each of which calls Model once. Zero
	// takes DefaultMaxSteps.
	MaxSteps int
}

// DefaultMaxSteps is far above what a sound problem needs: 5 to 50.
const DefaultMaxSteps = 500

// Datum is a measured value and its standard deviation, which must be positive.
// The datum's weight is 1/Sigma².
type Datum struct {
	Value, Sigma float64
}

// Parameter is one unknown. All its fields are in the parameter's own unit.
//
// A parameter has either a prior or a scale. With a positive Sigma it has a
// Gaussian prior with mean Mean, and Scale must be zero. With Sigma zero it has
// no prior, and Scale must be positive: the size of a change that matters. Scale
// does not move the answer; it sets when a step is small, and the unit of the
// Result's directions.
type Parameter struct {
	Start float64 // where the iteration starts

	Mean  float64
	Sigma float64

	Scale float64
}

// unit is the size by which the solver measures changes of the parameter.
func (p *Parameter) unit() float64 {
	if p.Sigma > 0 {
		return p.Sigma
	}
	return p.Scale
}

// Model fills values, one for each datum, and their derivatives by the
// parameters: derivs[i*len(params)+j] is that of value i by parameter j. Both
// arrive with whatever an earlier call left in them, so every entry must be set.
// It must not keep or change params, which are always finite.
//
// An error, or a value that is not finite, means that the model does not exist
// at params. The solver then tries a shorter step.
type Model func(params, values, derivs []float64) error

func (p *Problem) check() error {
	switch {
	case p.Model == nil:
		return &InputError{Field: "model", Index: -1, Reason: "is missing"}
	case len(p.Data) == 0:
		return &InputError{Field: "number of data", Index: -1, Reason: "must be positive"}
	case len(p.Params) == 0:
		return &InputError{Field: "number of parameters", Index: -1, Reason: "must be positive"}
	case !(p.Tolerance >= 0 && p.Tolerance < 1):
		return &InputError{Field: "tolerance", Index: -1, Value: p.Tolerance, Reason: "must be from 0 to below 1"}
	case p.MaxSteps < 0:
		return &InputError{Field: "max steps", Index: -1, Value: float64(p.MaxSteps), Reason: "must not be negative"}
	}
	for i, d := range p.Data {
		if !finite(d.Value) {
			return &InputError{"datum value", i, d.Value, "must be finite"}
		}
		if !(d.Sigma > 0) || !finite(d.Sigma) {
			return &InputError{"datum sigma", i, d.Sigma, "must be positive and finite"}
		}
	}
	for j, q := range p.Params {
		if !finite(q.Start) {
			return &InputError{"parameter start", j, q.Start, "must be finite"}
		}
		if !finite(q.Mean) {
			return &InputError{"prior mean", j, q.Mean, "must be finite"}
		}
		if !(q.Sigma >= 0) || !finite(q.Sigma) {
			return &InputError{"prior sigma", j, q.Sigma, "must be positive and finite, or zero for no prior"}
		}
		if q.Sigma > 0 && q.Scale != 0 {
			return &InputError{"parameter scale", j, q.Scale, "must be zero where there is a prior"}
		}
		if q.Sigma == 0 && q.Mean != 0 {
			return &InputError{"prior mean", j, q.Mean, "must be zero where there is no prior sigma"}
		}
		if q.Sigma == 0 && (!(q.Scale > 0) || !finite(q.Scale)) {
			return &InputError{"parameter scale", j, q.Scale, "must be positive and finite where there is no prior"}
		}
	}
	return nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
