package plain_test

import (
	"fmt"

	"example.org/levelhead/units"
	"example.org/levelhead/units/plain"
)

// reading is what the gauge should show at a stick position.
type reading struct {
	Stick       units.Ratio   `json:"stick"`
	Gauge       units.Angle   `json:"gauge" plain:"without=Unreachable"`
	Arms        []units.Angle `json:"arms" plain:"without=Unreachable"`
	Unreachable string        `json:"unreachable,omitempty"`
}

// A result of your own is written as those of this module are: a notebook reads it with
// json.load, and the keys say the units.
func ExampleMarshal() {
	result := struct {
		Mode string    `json:"mode"`
		Rows []reading `json:"rows"`
	}{"hover", []reading{
		{Stick: 0, Gauge: -3 * units.Degree, Arms: []units.Angle{-20.5 * units.Degree, -19 * units.Degree}},
		{Stick: 1, Unreachable: "front link runs out of reach"},
	}}
	data, err := plain.Marshal("readings", result)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Print(string(data))
	// Output:
	// {
	//   "format": 1,
	//   "what": "readings",
	//   "mode": "hover",
	//   "rows": [
	//     {
	//       "stick_percent": 0,
	//       "gauge_deg": -3,
	//       "arms_deg": [-20.5, -19]
	//     },
	//     {
	//       "stick_percent": 100,
	//       "unreachable": "front link runs out of reach"
	//     }
	//   ]
	// }
}
