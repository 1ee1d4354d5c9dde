package load_test

import (
	"fmt"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// hover returns the first flight mode of an invented machine while its rotor turns.
func hover() (load.Turning, error) {
	m, err := machine.Parse(demo.Direct)
	if err != nil {
		return load.Turning{}, err
	}
	rig, err := setup.Build(m)
	if err != nil {
		return load.Turning{}, err
	}
	t, ok := load.Of(rig.Modes()[0])
	if !ok {
		return load.Turning{}, fmt.Errorf("%s gives no rotor, or its first mode no speed", rig.Name())
	}
	return t, nil
}

// What each servo holds, and how the machine's own servos do. It is theory: the package doc
// says what is left out.
func ExampleTurning_Demand() {
	t, err := hover()
	if err != nil {
		fmt.Println(err)
		return
	}
	demand, err := t.Demand()
	if err != nil {
		fmt.Println(err)
		return
	}
	ratings, ok := load.Ratings(t.Setup.Rig())
	if !ok {
		fmt.Println("the file does not rate all servos")
		return
	}
	does, err := demand.Performance(ratings, 6*units.Volt)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, servo := range t.Setup.Rig().Servos() {
		fmt.Printf("%s: holds up to %.2f kgf·cm at %s, %.0f %% of its stall torque\n",
			servo.Name, demand.Peaks[i].Peak.KilogramForceCentimetres(), demand.Peaks[i].At, does.Servos[i].Load.Percent())
	}
	fmt.Printf("at high stick the servos give way by %.2f° at the blade\n", does.Lost.Blade.Degrees())
	// Output:
	// front: holds up to 0.50 kgf·cm at stick 100 %, cyclic full forward, 6 % of its stall torque
	// right rear: holds up to 0.50 kgf·cm at stick 100 %, cyclic half right and half back, 6 % of its stall torque
	// left rear: holds up to 0.50 kgf·cm at stick 100 %, cyclic half left and half back, 6 % of its stall torque
	// at high stick the servos give way by -0.16° at the blade
}

// The same blade pitch from another hole of the servo arms.
func ExampleTurning_OnArms() {
	t, err := hover()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, radius := range t.Setup.Rig().ArmHoles() {
		trade, err := t.OnArms(radius)
		if err != nil {
			fmt.Println(radius, err)
			continue
		}
		fmt.Printf("%v: collective rate %v, one radio step is %.3f° at the blade\n",
			radius, trade.Transfer.Enter.Rates.Collective, trade.Demand.Step.Degrees())
	}
	// Output:
	// 8 mm: collective rate 70 %, one radio step is 0.032° at the blade
	// 10 mm: collective rate 54 %, one radio step is 0.043° at the blade
	// 12 mm: collective rate 44.5 %, one radio step is 0.053° at the blade
	// 14 mm: collective rate 38 %, one radio step is 0.063° at the blade
}
