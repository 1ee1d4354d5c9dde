package main

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/levelhead/units"
)

// box are the hole radii of the pitch horns in an invented box of parts. Their sizes are
// ordinary, and none is a recommendation.
var box = []units.Length{16 * units.Millimetre, 18 * units.Millimetre, 20 * units.Millimetre, 22 * units.Millimetre}

// lengths returns a flag's function that reads a list of lengths.
func lengths(to *[]units.Length) func(string) error {
	return func(text string) error {
		*to = nil
		for _, word := range strings.Split(text, ",") {
			var l units.Length
			if err := l.UnmarshalText([]byte(strings.TrimSpace(word))); err != nil {
				return err
			}
			*to = append(*to, l)
		}
		return nil
	}
}

// whole returns a flag's function that reads a list of whole numbers.
func whole(to *[]int) func(string) error {
	return func(text string) error {
		*to = nil
		for _, word := range strings.Split(text, ",") {
			n, err := strconv.Atoi(strings.TrimSpace(word))
			if err != nil {
				return fmt.Errorf("%q is not a whole number: write for example \"-1, 0, 1\"", word)
			}
			*to = append(*to, n)
		}
		return nil
	}
}
