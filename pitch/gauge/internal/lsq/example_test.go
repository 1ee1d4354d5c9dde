package lsq_test

import (
	"fmt"
	"math"

	"example.org/levelhead/pitch/gauge/internal/lsq"
)

// Six readings of a cooling body, one of them misread. The ambient temperature
// is known beforehand to half a degree, the body's excess over it and the time
// constant hardly at all.
func Example() {
	minutes := []float64{0, 5, 10, 20, 40, 60}
	readings := []float64{80.1, 67.7, 57.1, 44.3, 29.6, 24.0}

	p := &lsq.Problem{
		Data: make([]lsq.Datum, len(readings)),
		Params: []lsq.Parameter{
			{Start: 20, Mean: 20, Sigma: 0.5},  // ambient, °C
			{Start: 50, Mean: 50, Sigma: 50},   // excess, °C
			{Start: 30, Mean: 30, Sigma: 30},   // time constant, minutes
			{Start: 20, Mean: 20, Sigma: 1000}, // of another room: not in the model
		},
		Model: func(p, values, derivs []float64) error {
			for i, t := range minutes {
				e := math.Exp(-t / p[2])
				values[i] = p[0] + p[1]*e
				copy(derivs[i*4:], []float64{1, e, p[1] * e * t / (p[2] * p[2]), 0})
			}
			return nil
		},
	}
	for i, v := range readings {
		p.Data[i] = lsq.Datum{Value: v, Sigma: 0.2}
	}
	r, err := lsq.Solve(p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for j, name := range []string{"ambient", "excess", "constant", "elsewhere"} {
		fmt.Printf("%-9s %6.2f ± %7.2f, %5.1f %% of the prior variance remain\n", name, r.Params[j], r.Sigma(j), 100*r.Remaining[j])
	}
	worst, most := 0, 0.0
	for i := range readings {
		if z, ok := r.Standardized(i); ok && math.Abs(z) > math.Abs(most) {
			worst, most = i, z
		}
	}
	fmt.Printf("the suspect: %g °C at %g minutes, %.1f standard deviations off\n", readings[worst], minutes[worst], most)
	// Output:
	// ambient    20.36 ±    0.26,  26.1 % of the prior variance remain
	// excess     59.60 ±    0.26,   0.0 % of the prior variance remain
	// constant   21.46 ±    0.27,   0.0 % of the prior variance remain
	// elsewhere  20.00 ± 1000.00, 100.0 % of the prior variance remain
	// the suspect: 57.1 °C at 10 minutes, -4.0 standard deviations off
}
