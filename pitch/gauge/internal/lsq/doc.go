// Package lsq fits the parameters of a model to data by weighted nonlinear
// least squares, with what is known of the parameters beforehand as Gaussian
// priors. Write the model, and give Solve data and priors:
//
//	model := func(p, values, derivs []float64) error { values[0], derivs[0] = p[0], 1; return nil }
//	prior := lsq.Parameter{Mean: 1, Sigma: 0.1}
//	problem := &lsq.Problem{Data: []lsq.Datum{{Value: 1.2, Sigma: 0.1}}, Params: []lsq.Parameter{prior}, Model: model}
//	result, err := lsq.Solve(problem) // result.Params[0] is 1.1, result.Sigma(0) 0.07
//
// # What is minimised
//
// Solve seeks the parameters p that minimise
//
//	sum over data ((value − model(p))/sigma)² + sum over priors ((mean − p)/sigma)²
//
// so a prior counts like a measurement of its parameter. There may be fewer data
// than parameters, as long as data and priors together settle them all; where
// they do not, Solve returns a *SingularError, not one answer out of many. The
// answer is a local one: a stationary point, downhill from the start.
//
// # How
//
// The iteration is that of Levenberg and Marquardt in the trust-region form of
// Moré: "The Levenberg-Marquardt algorithm: implementation and theory", Lecture
// Notes in Mathematics 630, 1978. The steps come from the singular value
// decomposition of the weighted Jacobian, its columns scaled by their lengths, and
// never from the normal equations, which would square its condition number. So
// the path does not depend on the parameters' units, if their scales go with them.
// A trial point at which the model does not exist halves the step.
//
// It has converged when the Gauss-Newton step is short by one of these measures:
//
//   - its length in posterior standard deviations is below 1e-12 of the weighted
//     residuals' length (the offset of Bates and Watts 1981, "A relative offset
//     orthogonality convergence criterion for nonlinear least squares");
//   - it changes no parameter by more than 1e-12 of the parameter's value and
//     prior sigma, or scale, together;
//   - what it could gain has for 50 steps been lost in the rounding of the sum of
//     squares. That takes a coarse model, or one that bends strongly where the
//     residuals are large; then the answer is good to about 1e-6 of the residuals'
//     length, in posterior standard deviations.
//
// # What the data settle
//
// Singular values and Directions of the Result belong to the data alone, with
// each parameter measured by its prior sigma: a direction with a singular value
// well above 1 is settled by the data, one well below 1 by the priors. Remaining
// says the same of single parameters, and Leverage and Standardized of single
// data. All of these, and the covariance, take the model as linear about the answer.
//
// # Accuracy
//
// Parameters, standard deviations and sums of squares of fourteen nonlinear
// NIST StRD problems agree to 2e-11 with optima refined at 50 digits, from both of
// NIST's starts; those of the linear problems Norris and Pontius to 1e-11 with
// the certified values.
//
// A fit of 9 data and 12 parameters takes a few hundredths of a millisecond for
// each step. Solve takes its memory at the start: none in the iteration.
package lsq
