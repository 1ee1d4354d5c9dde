package choose_test

import (
	"context"
	"fmt"

	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// file is the machine file of an invented trainer with three servos on the swashplate.
const file = `{
  "format": 1,
  "name": "an invented trainer",
  "plate": {"neutral_height": "60 mm", "guide": "180°", "link_thread": "M2", "legs": [
    {"name": "front",
      "upright": {"bearing": "0°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"},
      "servo": {"type": "digital", "raises_on": "longer", "reverse": false}},
    {"name": "right rear",
      "upright": {"bearing": "120°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"},
      "servo": {"type": "digital", "raises_on": "longer", "reverse": false}},
    {"name": "left rear",
      "upright": {"bearing": "240°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"},
      "servo": {"type": "digital", "raises_on": "shorter", "reverse": true}}
  ]},
  "servos": {"digital": {
    "neutral": "1520 µs", "throw": "400 µs", "travel": "36°", "shortest_pulse": "920 µs", "longest_pulse": "2120 µs",
    "spline_teeth": 25, "arm_holes": ["8 mm", "10 mm", "12 mm", "14 mm"],
    "rating": {"points": [
      {"voltage": "6 V", "stall": "8.2 kgf·cm", "speed": "0.09 s/60°"},
      {"voltage": "8.4 V", "stall": "11.5 kgf·cm", "speed": "0.065 s/60°"}
    ], "deadband": "2 µs", "full_torque_at": "3°", "frame": "4 ms"}
  }},
  "servo_voltage": "7.4 V",
  "radio": {"pulse_step": "1 µs", "percent_step": "0.5 %", "mixing": "layout"},
  "head": {"rotation": "clockwise", "horn_side": "leading", "horn_radius": "20 mm", "horn_from_mast": "4 mm",
    "hub_height": "105 mm", "ring_radius": "16 mm", "phase": "80°", "ring_driver": "0°", "link_thread": "M2"},
  "gauge": {"blade_bearing": "180°", "low": "-15°", "high": "15°", "step": "1°"},
  "rotor": {"blades": 2, "radius": "620 mm", "root": "100 mm", "chord": "54 mm", "feathering_axis": "25 %",
    "blade_mass": "120 g", "thickness": "12 %", "chordwise_inertia": "230 g·cm²"},
  "modes": [{
    "name": "aerobatic", "rotor_speed": "1800 rpm", "expo": "15 %",
    "throttle": {"kind": "polyline", "points": [["0 %", "82 %"], ["50 %", "70 %"], ["100 %", "82 %"]]}, "throttle_hold": "0 %",
    "targets": {"kind": "monotone", "collective": [
      {"stick": "0 %", "pitch": "-11°"}, {"stick": "50 %", "pitch": "0°"}, {"stick": "100 %", "pitch": "11°"}
    ], "cyclic": "8.5°"}
  }]
}`

// Which of the servo-arm holes that the file lists suit the machine, and which of three
// pitch horns from the box? The radio limits the cyclic stick to a circle. So a servo may
// have to go beyond its pulse limit in the square corners.
func Example() {
	m, err := machine.Parse([]byte(file))
	if err != nil {
		fmt.Println(err)
		return
	}
	rig, err := setup.Build(m)
	if err != nil {
		fmt.Println(err)
		return
	}
	owned := choose.Owned{Horns: []units.Length{18 * units.Millimetre, 20 * units.Millimetre, 22 * units.Millimetre}}
	choice, err := choose.Search(context.Background(), rig, owned, choose.Options{BeyondLimit: 100 * units.PulseMicrosecond, Workers: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, member := range choice.Front {
		r := choice.Results[member.Index]
		fmt.Printf("arms %v, pitch horn %v: %.3f° to a step, %.0f ms\n", r.Arms[0], r.Horn.Radius, r.Step.Degrees(), r.Stroke.Milliseconds())
	}
	for _, r := range choice.Results {
		if len(r.Unfit) > 0 {
			fmt.Printf("arms %v, pitch horn %v: %v\n", r.Arms[0], r.Horn.Radius, r.Unfit[0])
			break
		}
	}
	// Output:
	// arms 10 mm, pitch horn 18 mm: 0.050° to a step, 56 ms
	// arms 12 mm, pitch horn 22 mm: 0.049° to a step, 57 ms
	// arms 12 mm, pitch horn 18 mm: 0.060° to a step, 48 ms
	// arms 14 mm, pitch horn 22 mm: 0.058° to a step, 50 ms
	// arms 14 mm, pitch horn 20 mm: 0.063° to a step, 46 ms
	// arms 14 mm, pitch horn 18 mm: 0.070° to a step, 42 ms
	// arms 8 mm, pitch horn 18 mm: mode "aerobatic": right cyclic rate is 105 %, beyond the limit by 5 % (our limit 100 %; the radio's manual decides)
}
