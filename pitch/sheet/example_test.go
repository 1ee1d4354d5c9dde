package sheet_test

import (
	"fmt"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
)

// small is a whole machine file, of an invented machine: three servos under the
// swashplate, what the radio can set, the head, the gauge, and one flight mode whose rates
// and pitch curve follow from what the gauge should read.
const small = `{
  "format": 1,
  "name": "a small machine, invented",
  "plate": {
    "neutral_height": "60 mm", "guide": "180°", "link_thread": "M2",
    "legs": [
      {"name": "front",
       "upright": {"bearing": "0°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"},
       "servo": {"type": "digital", "raises_on": "longer", "reverse": false}},
      {"name": "right rear",
       "upright": {"bearing": "120°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"},
       "servo": {"type": "digital", "raises_on": "longer", "reverse": false}},
      {"name": "left rear",
       "upright": {"bearing": "240°", "ball_radius": "30 mm", "arm": "12 mm", "link": "58 mm", "points": "outward"},
       "servo": {"type": "digital", "raises_on": "shorter", "reverse": true}}
    ]
  },
  "servos": {
    "digital": {"neutral": "1520 µs", "throw": "400 µs", "travel": "36°",
                "shortest_pulse": "920 µs", "longest_pulse": "2120 µs", "spline_teeth": 25}
  },
  "radio": {"pulse_step": "1 µs", "percent_step": "0.5 %", "mixing": "layout"},
  "head": {
    "rotation": "clockwise", "horn_side": "leading", "horn_radius": "20 mm", "horn_from_mast": "0 mm",
    "hub_height": "105 mm", "ring_radius": "16 mm", "phase": "90°", "ring_driver": "90°", "link_thread": "M2.5"
  },
  "gauge": {"blade_bearing": "180°", "low": "-15°", "high": "15°", "step": "0.5°"},
  "modes": [
    {"name": "aerobatic",
     "throttle": {"kind": "polyline", "points": [["0 %", "70 %"], ["100 %", "70 %"]]}, "throttle_hold": "0 %",
     "targets": {"kind": "monotone", "cyclic": "6°", "collective": [
       {"stick": "0 %", "pitch": "-9°"}, {"stick": "50 %", "pitch": "0°"}, {"stick": "100 %", "pitch": "9°"}]}}
  ]
}`

// Read a machine file, and say what to enter in the radio and what is wrong.
func Example() {
	m, err := machine.Parse([]byte(small))
	if err != nil {
		fmt.Println(err)
		return
	}
	rig, err := setup.Build(m)
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := sheet.Of(rig)
	if err != nil {
		fmt.Println(err)
		return
	}
	mode := sheet.Modes[0]
	fmt.Printf("%s: collective rate %v\n", mode.Name, mode.Entry.Rates.Collective)
	for i, p := range mode.Entry.Points {
		fmt.Printf("stick at %v: enter %v, the gauge then reads %.1f°\n", p[0], p[1], mode.Readings[i].Entered.Degrees())
	}
	for _, f := range sheet.Findings {
		fmt.Printf("%s: %s\n%s.\n%s\n", f.Severity, f.What, f.Figure, f.Do)
	}
	// Output:
	// aerobatic: collective rate 42.5 %
	// stick at 0 %: enter -99.5 %, the gauge then reads -9.0°
	// stick at 50 %: enter 0 %, the gauge then reads 0.0°
	// stick at 100 %: enter 98 %, the gauge then reads 9.0°
	// stop: Live throttle at low stick
	// at low stick the throttle is 70 %; any throttle above 0 % can turn the rotor.
	// Bring the low end of the throttle curve to 0 % before the battery goes in or anybody starts the engine.
}

// All that a sheet and a transfer look at, and what can come of it.
func ExampleChecks() {
	for _, c := range sheet.Checks() {
		fmt.Printf("%s:\n", c.LooksAt)
		for _, f := range c.Finds {
			fmt.Printf("  %-4s  %s\n", f.Severity, f.Kind)
		}
	}
	// Output:
	// throttle at low stick and under hold:
	//   stop  live throttle under hold
	//   stop  live throttle at low stick
	// direction of the servos:
	//   stop  servo reversed
	// what the controls do to the swashplate:
	//   stop  swashplate not held at neutral
	//   stop  control reversed or dead
	//   fix   cyclic tilt to another side
	// height of the swashplate at neutral:
	//   fix   neutral height against links
	// servo arms at neutral:
	//   fix   servo arm off square
	// targets:
	//   stop  target out of reach
	//   fix   target out of reach
	//   fix   target missed
	// rotor speed:
	//   stop  rotor too fast for its blades
	//   fix   blade tips too fast
	// reach over the collective stick:
	//   stop  stick position out of reach
	//   fix   servo limit under collective
	// direction of the blade pitch:
	//   stop  blade pitch reversed
	//   stop  stick without effect on blade pitch
	//   fix   blade pitch falls on the way up
	//   stop  cyclic reversed
	// rates:
	//   fix   rate too high
	// level of the swashplate over the collective stick:
	//   fix   swashplate tilt under collective
	// scale of the gauge:
	//   note  reading off the gauge's scale
	//   note  target off the gauge's scale
	// loads, power and currents:
	//   note  loads unknown
	//   note  loads incomplete
	//   fix   servo too weak
	//   fix   servo too slow
	//   fix   rotor speed not held
	//   fix   mass too large to hover
	//   fix   hover off the stick
	//   fix   current too high
	// corners of the sticks:
	//   fix   stick corners out of reach
	//   fix   servo limit at stick corners
	// levers, ball links, fights and travel over all sticks:
	//   fix   servo arm near a dead centre
	//   fix   ball-link angle too wide
	//   fix   servos fight
	//   fix   pitch horn near a dead centre
	//   fix   servo travel unused
	// ratings of the servos:
	//   fix   servo voltage not rated
	//   note  servos not rated
	// limits of the class:
	//   fix   mass above class limit
	//   fix   rotor disc above class limit
	//   fix   battery voltage above class limit
	//   note  class limits not checked
	// phase angles of the two machines:
	//   fix   phase angle differs
	//   stop  phase angle differs
	// rotation of the two machines:
	//   note  rotation differs
	// blade pitch between the points of the curve:
	//   note  blade pitch differs between points
	// rotor and power train of the two machines:
	//   fix   throttle curve of another machine
}
