package setup_test

import (
	"fmt"
	"os"

	"example.org/levelhead/pitch/setup"
)

// Read a machine file, solve its targets, and say what to enter and what is wrong.
func Example() {
	data, err := os.ReadFile("testdata/full.json")
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := setup.Parse(data)
	if err != nil {
		fmt.Println(err)
		return
	}
	rig, err := m.Build()
	if err != nil {
		fmt.Println(err)
		return
	}
	sheet, err := rig.Sheet()
	if err != nil {
		fmt.Println(err)
		return
	}
	mode := sheet.Modes[1]
	fmt.Printf("%s: collective rate %v\n", mode.Name, mode.Entry.Rates.Collective)
	for i, p := range mode.Entry.Points {
		fmt.Printf("stick %v: curve %v, gauge reads %.1f°\n", p[0], p[1], mode.Readings[i].Entered.Degrees())
	}
	fmt.Println("findings:", len(sheet.Findings))
	// Output:
	// aerobatic: collective rate 58.5 %
	// stick 0 %: curve -99.5 %, gauge reads -11.0°
	// stick 50 %: curve 0 %, gauge reads 0.0°
	// stick 100 %: curve 97 %, gauge reads 11.0°
	// findings: 0
}

// A fault is reported with its field and line.
func ExampleParse() {
	_, err := setup.Parse([]byte(`{
  "name": "a machine",
  "plate": {"neutral_height": "60"}
}`))
	fmt.Println(err)
	// Output: machine file, line 3: plate.neutral_height: length "60" needs a unit, such as "60 mm" (or cm, m, in, ft)
}
