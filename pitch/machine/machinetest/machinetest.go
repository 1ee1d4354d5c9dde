// Package machinetest helps to test what reads machine files.
package machinetest

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
)

// number finds the numbers of a machine file, with a unit and without. That of the format is
// none of the machine.
var number = regexp.MustCompile(`(?:"|: )(-?[0-9.]+)(?: ?[^"0-9]*"|[,\s}\]])`)

var factors = []float64{-1, 0, 0.5, 0.8, 0.95, 1.05, 1.2, 2, 10, 0.99, 1.01, 0.1, 1e-3, 1e3, 1e-308}

// Mutated returns a machine file with some of its numbers multiplied: bytes changed at random
// are seldom a machine file any more. Of each three bytes of
// changes two say which number, and one by what; bytes left over change nothing.
func Mutated(data, changes []byte) []byte {
	for ; len(changes) >= 3; changes = changes[3:] {
		places := slices.DeleteFunc(number.FindAllSubmatchIndex(data, -1), func(at []int) bool { return bytes.HasSuffix(data[:at[0]], []byte(`"format"`)) })
		if len(places) == 0 {
			return data
		}
		at := places[(int(changes[0])<<8+int(changes[1]))%len(places)]
		x, err := strconv.ParseFloat(string(data[at[2]:at[3]]), 64)
		if err != nil {
			continue // as of "..."
		}
		x *= factors[int(changes[2])%len(factors)]
		data = slices.Concat(data[:at[2]], strconv.AppendFloat(nil, x, 'g', -1, 64), data[at[3]:])
	}
	return data
}
