package gauge_test

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"slices"

	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/setup"
)

// How good does a machine of a design come out, built to ordinary tolerances and not
// corrected? And which parts are to blame?
func ExampleSession_Study() {
	data, err := os.ReadFile("../../examples/demo/testdata/direct.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	machine, err := setup.Parse(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	rig, err := machine.Build()
	if err != nil {
		fmt.Println(err)
		return
	}
	session, err := gauge.NewSession(rig, 2, gauge.DefaultTolerances())
	if err != nil {
		fmt.Println(err)
		return
	}
	outcome, err := session.Study(context.Background(), gauge.Study{Mode: "hover", Builds: 4000, Seed: 1, Workers: 1})
	if err != nil {
		fmt.Println(err)
		return
	}

	middle := outcome.At[len(outcome.At)/2]
	blade, budget := middle.Pitch[0], middle.PitchBudget[0]
	fmt.Printf("%d builds; with the collective stick at the middle:\n", outcome.Builds)
	fmt.Printf("pitch is off by %.1f° to %.1f° in 95 %% of them, %.0f° at the worst\n",
		blade.Quantiles[0].Degrees(), blade.Quantiles[4].Degrees(), budget.WorstCase.Degrees())
	fmt.Printf("half of the plates tilt by more than %.1f°\n", middle.Tilt.Quantiles[2].Degrees())
	fmt.Printf("half of the heads track worse than %.1f°\n", middle.Tracking.Quantiles[2].Degrees())

	order := make([]int, len(outcome.Parameters))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Compare(budget.Shares[j], budget.Shares[i]) })
	fmt.Println("the largest shares of the variance of pitch:")
	for _, i := range order[:4] {
		fmt.Printf("  %s %.0f %%\n", session.Name(outcome.Parameters[i]), 100*budget.Shares[i])
	}
	// Output:
	// 4000 builds; with the collective stick at the middle:
	// pitch is off by -2.6° to 2.7° in 95 % of them, 10° at the worst
	// half of the plates tilt by more than 0.5°
	// half of the heads track worse than 0.8°
	// the largest shares of the variance of pitch:
	//   blade 1 pitch link 40 %
	//   hub height 40 %
	//   left rear servo centre 8 %
	//   left rear servo link 8 %
}
