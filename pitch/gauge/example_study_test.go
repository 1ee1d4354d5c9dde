package gauge_test

import (
	"cmp"
	"context"
	"fmt"
	"log"
	"slices"

	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
)

// design is the machine file of a design: three servos on the swashplate, one flight mode.
// The machine is invented.
const design = `{
  "format": 1,
  "name": "a design",
  "plate": {
    "neutral_height": "60 mm", "guide": "180°", "link_thread": "M2",
    "legs": [
      {"name": "front", "servo": {"type": "digital", "raises_on": "longer", "reverse": false},
       "upright": {"bearing": "0°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"}},
      {"name": "right rear", "servo": {"type": "digital", "raises_on": "longer", "reverse": false},
       "upright": {"bearing": "120°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"}},
      {"name": "left rear", "servo": {"type": "digital", "raises_on": "shorter", "reverse": true},
       "upright": {"bearing": "240°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"}}
    ]
  },
  "servos": {"digital": {
    "neutral": "1520 µs", "throw": "400 µs", "travel": "36°",
    "shortest_pulse": "920 µs", "longest_pulse": "2120 µs",
    "spline_teeth": 25, "arm_holes": ["12 mm"]
  }},
  "radio": {"pulse_step": "1 µs", "percent_step": "0.5 %", "mixing": "layout"},
  "head": {
    "rotation": "clockwise", "horn_side": "leading", "horn_radius": "20 mm", "horn_from_mast": "4 mm",
    "hub_height": "105 mm", "ring_radius": "16 mm", "phase": "80°", "ring_driver": "0°", "link_thread": "M2"
  },
  "gauge": {"blade_bearing": "180°", "low": "-15°", "high": "15°", "step": "1°"},
  "modes": [{
    "name": "hover", "throttle_hold": "0 %",
    "rates": {"collective": "47 %", "right": "62 %", "forward": "56 %"},
    "pitch": {"kind": "polyline", "points": [["0 %", "-30 %"], ["50 %", "49.5 %"], ["100 %", "94 %"]]},
    "throttle": {"kind": "polyline", "points": [["0 %", "0 %"], ["100 %", "70 %"]]}
  }]
}`

// How well do machines of a design come out, built to ordinary tolerances and not
// corrected? And which items are to blame?
func ExampleSession_Study() {
	m, err := machine.Parse([]byte(design))
	if err != nil {
		log.Fatal(err)
	}
	rig, err := setup.Build(m)
	if err != nil {
		log.Fatal(err)
	}
	session, err := gauge.NewSession(rig, 2, gauge.DefaultTolerances())
	if err != nil {
		log.Fatal(err)
	}
	outcome, err := session.Study(context.Background(), gauge.Study{Mode: "hover", Builds: 4000, Seed: 1, Workers: 1})
	if err != nil {
		log.Fatal(err)
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
