package choose_test

import (
	"fmt"
	"os"

	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Which of the arm holes that the machine file lists, and of three horns from the box,
// suit an invented machine? Its radio limits the cyclic stick to a circle, so that
// servos that clip in the square corners do no harm.
func Example() {
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
	owned := choose.Owned{Horns: []units.Length{18 * units.Millimetre, 20 * units.Millimetre, 22 * units.Millimetre}}
	choice, err := choose.Search(rig, owned, choose.Options{Clip: 100 * units.PulseMicrosecond, Workers: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, member := range choice.Front {
		r := choice.Results[member.Index]
		fmt.Printf("arms %v, horn %v: %.3f° to a step, %.0f ms\n", r.Arms[0], r.Horn.Radius, r.Step.Degrees(), r.Stroke.Milliseconds())
	}
	for _, r := range choice.Results {
		if len(r.Unfit) > 0 {
			fmt.Printf("arms %v, horn %v: %v\n", r.Arms[0], r.Horn.Radius, r.Unfit[0])
			break
		}
	}
	// Output:
	// arms 10 mm, horn 18 mm: 0.050° to a step, 56 ms
	// arms 12 mm, horn 22 mm: 0.049° to a step, 57 ms
	// arms 12 mm, horn 18 mm: 0.060° to a step, 48 ms
	// arms 14 mm, horn 22 mm: 0.058° to a step, 50 ms
	// arms 14 mm, horn 20 mm: 0.063° to a step, 46 ms
	// arms 14 mm, horn 18 mm: 0.070° to a step, 42 ms
	// arms 8 mm, horn 18 mm: mode "aerobatic": right cyclic rate is 105 %, beyond the limit by 5 % (our limit 100 %; the radio's manual decides)
}
