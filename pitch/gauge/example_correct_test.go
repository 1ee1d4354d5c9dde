package gauge_test

import "fmt"

// What to do about a blade that reads -8°, 0.5° and 10° where -9°, 0° and 9° were wanted,
// and another that is half a degree lower: half a turn of one link brings them into track,
// and the same on all sub-trims does the rest, in all flight modes.
func ExampleResult_Correct() {
	b, err := bench()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := b.Fit(read([3]float64{-8, 0.5, 10}, [3]float64{-8.5, 0, 9.5}))
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
	// Turn the blade 1 horn link 1 half turn shorter.
	//   blade 1, all functions at zero: 0.23° ± 0.20°
	//   blade 2, all functions at zero: 0.32° ± 0.20°
	// Set the front servo sub-trim from 0 µs to -5 µs.
	//   blade 1, all functions at zero: 0.16° ± 0.20°
	//   blade 2, all functions at zero: 0.25° ± 0.20°
	// Set the right rear servo sub-trim from 0 µs to -5 µs.
	//   blade 1, all functions at zero: 0.14° ± 0.20°
	//   blade 2, all functions at zero: 0.23° ± 0.20°
	// Set the left rear servo sub-trim from 0 µs to 5 µs.
	//   blade 1, all functions at zero: -0.04° ± 0.20°
	//   blade 2, all functions at zero: 0.05° ± 0.20°
}
