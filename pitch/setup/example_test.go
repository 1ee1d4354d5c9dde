package setup_test

import (
	"fmt"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
)

// Two flight modes of one machine, compared in degrees of blade pitch.
func ExampleCompare() {
	m, err := machine.Parse(demo.Direct) // an invented machine file
	if err != nil {
		fmt.Println(err)
		return
	}
	rig, err := setup.Build(m)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := setup.Compare(rig.Modes()[0], rig.Modes()[1])
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range c.Rows {
		if row.Stick == 0 || row.Stick == 0.25 || row.Stick == 1 {
			fmt.Printf("stick %v: %s %+.1f°, %s %+.1f°, difference %+.1f°\n", row.Stick,
				c.A.Mode, row.A.Gauge.Degrees(), c.B.Mode, row.B.Gauge.Degrees(), row.Pitch.Degrees())
		}
	}
	right := c.Cyclic[0]
	fmt.Printf("full right adds %.1f° and %.1f°\n", right.A.Pitch.Degrees(), right.B.Pitch.Degrees())
	fmt.Println("alike on the gauge:", c.GaugeAlike)
	// Output:
	// stick 0 %: hover -3.0°, aerobatic -11.0°, difference -8.0°
	// stick 25 %: hover +1.0°, aerobatic -5.5°, difference -6.5°
	// stick 100 %: hover +9.5°, aerobatic +11.0°, difference +1.4°
	// full right adds 7.0° and 8.5°
	// alike on the gauge: false
}

// Transfer a setup to a machine of another kind, so that its blades do the same.
func ExampleSetup_Transfer() {
	var rigs []*setup.Rig
	for _, file := range [][]byte{demo.Direct, demo.BellCranks} { // invented machine files
		m, err := machine.Parse(file)
		if err != nil {
			fmt.Println(err)
			return
		}
		rig, err := setup.Build(m)
		if err != nil {
			fmt.Println(err)
			return
		}
		rigs = append(rigs, rig)
	}
	from, to := rigs[0], rigs[1]
	t, err := from.Modes()[0].Transfer(to, setup.TransferOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("rates: collective %v, right %v, forward %v\n", t.Enter.Rates.Collective, t.Enter.Rates.Right, t.Enter.Rates.Forward)
	for i, r := range t.Readings {
		fmt.Printf("stick %v: %.1f° there, curve %v gives %.1f° here\n",
			r.Target.Stick, r.Target.Pitch.Degrees(), t.Enter.Points[i][1], r.Entered.Degrees())
	}
	fmt.Printf("they differ most at stick %v, by %+.2f°\n", t.WorstEntered.Stick, t.WorstEntered.Pitch.Degrees())
	for _, f := range sheet.OfTransfer(t).Findings {
		fmt.Printf("%s: %s\n", f.Severity, f.What)
	}
	// Output:
	// rates: collective 42.5 %, right 57.5 %, forward 57 %
	// stick 0 %: -3.0° there, curve -32 % gives -3.0° here
	// stick 50 %: 5.0° there, curve 52.5 % gives 5.0° here
	// stick 100 %: 9.5° there, curve 100 % gives 9.5° here
	// they differ most at stick 28 %, by -0.03°
	// fix: The throttle curve comes from another machine
}

// What a link that is half a turn longer does, the radio as it is set.
func ExampleRig_Refit() {
	m, err := machine.Parse(demo.BellCranks) // an invented machine file
	if err != nil {
		fmt.Println(err)
		return
	}
	rig, err := setup.Build(m)
	if err != nil {
		fmt.Println(err)
		return
	}
	thread, err := m.Plate.LinkThread.Pitch()
	if err != nil {
		fmt.Println(err)
		return
	}
	parts := rig.Parts()
	for i, link := range parts.Links() {
		longer := rig.Parts()
		longer.SetLink(i, link.Length+thread/2)
		changed, err := rig.Refit(longer)
		if err != nil {
			fmt.Println(link.Name, err)
			continue
		}
		row, err := changed.Modes()[0].Row(0.5)
		if err != nil {
			fmt.Println(link.Name, err)
			continue
		}
		fmt.Printf("%s: the plate tilts by %.2f°, the gauge reads %.2f°\n", link.Name, row.Tilt.Degrees(), row.Gauge.Degrees())
	}
	// Output:
	// collective, first link: the plate tilts by 0.00°, the gauge reads 4.77°
	// collective, second link: the plate tilts by 0.00°, the gauge reads 5.92°
	// right cyclic, first link: the plate tilts by 0.37°, the gauge reads 5.67°
	// right cyclic, second link: the plate tilts by 0.37°, the gauge reads 5.10°
	// forward cyclic link: the plate tilts by 0.37°, the gauge reads 5.34°
}
