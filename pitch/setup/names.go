package setup

import "fmt"

// The names of links, joints and bodies are made here alone, and counted here: what a sheet,
// a gauge and a list of play call a part is the same.

// control says a function in the words of the sticks: "right" is right cyclic.
func control(function string) string {
	if function == "collective" {
		return function
	}
	return function + " cyclic"
}

// legLink names the link of a leg's servo.
func legLink(servo string) string { return servo + " servo link" }

// chainLink names link k of n in a function's chain. Levers have none, and are not counted.
func chainLink(function string, k, n int) string {
	if n == 1 {
		return control(function) + " link"
	}
	return control(function) + ", " + ordinal(k) + " link"
}

// chainCrank names the crank behind link k of a function's chain.
func chainCrank(function string, k int) string {
	return fmt.Sprintf("%s, %s crank", control(function), ordinal(k))
}

// ordinal says the number of a thing counted from 0: "first" for 0.
func ordinal(k int) string {
	words := [...]string{"first", "second", "third", "fourth", "fifth", "sixth"}
	if k < len(words) {
		return words[k]
	}
	return fmt.Sprintf("no. %d", k+1)
}
