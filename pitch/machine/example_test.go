package machine_test

import (
	"fmt"

	"example.org/levelhead/pitch/machine"
)

// A fault is reported with its line and field.
func ExampleParse() {
	_, err := machine.Parse([]byte(`{
  "format": 1,
  "name": "a machine",
  "plate": {"neutral_height": 60}
}`))
	fmt.Println(err)
	// Output: machine file, line 4: plate.neutral_height: must be text in quotes, not a number
}
