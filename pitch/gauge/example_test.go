package gauge_test

import (
	"fmt"
	"log"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// machineFile is a small machine file: three servos on the swashplate, one flight mode.
// The machine is invented.
const machineFile = `{
  "format": 1,
  "name": "a small machine",
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
    "name": "aerobatic", "throttle_hold": "0 %",
    "throttle": {"kind": "polyline", "points": [["0 %", "0 %"], ["100 %", "70 %"]]},
    "targets": {"kind": "monotone", "cyclic": "8.5°", "collective": [
      {"stick": "0 %", "pitch": "-11°"}, {"stick": "50 %", "pitch": "0°"}, {"stick": "100 %", "pitch": "11°"}
    ]}
  }]
}`

// The gauge reads -10°, 1° and 12° on one blade and -11°, 0° and 12° on the other, where
// -11°, 0° and 11° were wanted. One more reading, of 3°, does not go with the others.
// What is to be done, and what is to be measured next?
func Example() {
	m, err := machine.Parse([]byte(machineFile))
	if err != nil {
		log.Fatal(err)
	}
	rig, err := setup.Build(m)
	if err != nil {
		log.Fatal(err)
	}
	session, err := gauge.NewSession(rig, 2, gauge.DefaultTolerances(), gauge.PitchGauge(rig))
	if err != nil {
		log.Fatal(err)
	}

	var readings []gauge.Reading
	for _, r := range []struct {
		blade        int
		stick, reads float64
	}{
		{1, 0, -10}, {1, 0.5, 1}, {1, 1, 12},
		{2, 0, -11}, {2, 0.5, 0}, {2, 1, 12},
		{2, 0.75, 3},
	} {
		readings = append(readings, gauge.Reading{
			Point: gauge.Point{Blade: r.blade - 1, Mode: "aerobatic", Stick: pitch.Stick{Collective: r.stick}},
			Value: units.Angle(r.reads) * units.Degree,
		})
	}
	result, err := session.Fit(readings)
	if err != nil { // a *gauge.MisfitError where they are readings of another machine
		log.Fatal(err)
	}
	for _, o := range result.Outliers {
		fmt.Printf("Reading %d is left out: it is off by %.1f°.\n", o.Index+1, o.By.Degrees())
	}

	correction, err := result.Correct()
	if err != nil {
		log.Fatal(err)
	}
	for _, step := range correction.Steps {
		fmt.Println(step.Do())
		for _, check := range step.After {
			fmt.Printf("  blade %d should read %.1f° ± %.1f°\n", check.Blade+1, check.Reads.Value.Degrees(), check.Reads.Sigma.Degrees())
		}
	}

	plan, err := result.Next(1)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("Blade pitch is known to %.2f°.\n", plan.Now.Degrees())
	for _, next := range plan.Take {
		fmt.Printf("Next: %s. Then %.2f°.\n", session.Describe(next.Point), next.After.Degrees())
	}
	// Output:
	// Reading 7 is left out: it is off by -3.0°.
	// Blade 1: shorten the pitch link by one turn.
	//   blade 1 should read -0.2° ± 0.4°
	//   blade 2 should read 0.4° ± 0.4°
	// Blade 2: shorten the pitch link by half a turn.
	//   blade 1 should read -0.2° ± 0.4°
	//   blade 2 should read -0.2° ± 0.4°
	// Blade pitch is known to 0.60°.
	// Next: pitch of blade 2 over the nose (0°), mode "aerobatic", collective stick at 50 %. Then 0.47°.
}
