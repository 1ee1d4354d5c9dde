package gauge_test

import "fmt"

// What to do about a blade that reads -10°, 1° and 12° where -11°, 0° and 11° were wanted,
// and another that reads -11°, 0° and 12°: half turns of both links bring them into track and
// as near to zero as a gauge with steps of a degree can tell.
func ExampleResult_Correct() {
	b, err := bench()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := b.Fit(read([3]float64{-10, 1, 12}, [3]float64{-11, 0, 12}))
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := r.Correct()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range c.Steps {
		fmt.Println(s.Do())
		for _, check := range s.After {
			fmt.Printf("  blade %d, %s: %.2f° ± %.2f°\n", check.Blade+1, check.Where, check.Reads.Value.Degrees(), check.Reads.Sigma.Degrees())
		}
	}
	// Output:
	// Blade 1 pitch link: shorten by two half turns.
	//   blade 1, collective and cyclic at zero: -0.18° ± 0.35°
	//   blade 2, collective and cyclic at zero: 0.35° ± 0.35°
	// Blade 2 pitch link: shorten by half a turn.
	//   blade 1, collective and cyclic at zero: -0.18° ± 0.35°
	//   blade 2, collective and cyclic at zero: -0.22° ± 0.35°
}
