// Package load works out a setup while its rotor turns: what each servo holds, how far
// blade and plate yield, which servo does, how the machine hovers, and which throttle holds
// the rotor's speed.
//
//	t, ok := load.Of(rig.Modes()[0])              // ok where file and mode give rotor and speed
//	demand, err := t.Demand()                     // what the mode asks of the servos
//	p, err := demand.Performance(ratings, 6)      // how servos of these ratings do at 6 V
//	fmt.Println(p.Servos[0].Load, p.Lost.Blade)
//
// The loads are the blades' feathering moments by package rotor, which says how accurate they
// are and what they leave out, brought down to the servos by virtual work.
package load
