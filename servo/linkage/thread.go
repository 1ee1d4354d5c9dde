package linkage

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/levelhead/units"
)

// Thread is the thread of a link's ends, by its size, such as "M2" or "4-40".
// Turning one ball link by a turn changes the link's length by one pitch.
type Thread string

// threads holds the coarse pitches of ISO 261 (metric) and the Unified series
// of ASME B1.1 (by threads per inch) in the sizes that model links use.
var threads = []struct {
	size  Thread
	pitch units.Length
}{
	{"M1.6", 0.35 * units.Millimetre},
	{"M2", 0.4 * units.Millimetre},
	{"M2.5", 0.45 * units.Millimetre},
	{"M3", 0.5 * units.Millimetre},
	{"M4", 0.7 * units.Millimetre},
	{"0-80", units.Inch / 80},
	{"2-56", units.Inch / 56},
	{"4-40", units.Inch / 40},
	{"6-32", units.Inch / 32},
}

// Pitch returns the length that one turn of one end adds to a link, such as 0.4 mm for "M2".
// Sizes are those of ISO 261 and ASME B1.1, exact, in the sizes that model links use; another
// one is a *units.FieldError.
func (t Thread) Pitch() (units.Length, error) {
	var known []string
	for _, row := range threads {
		if row.size == t {
			return row.pitch, nil
		}
		known = append(known, string(row.size))
	}
	return 0, &units.FieldError{Words: "Thread", Reason: fmt.Sprintf("must be one of %s, not %q", strings.Join(known, ", "), string(t))}
}

// Turns says a number of half turns of a ball link in words, without its sign: "half a turn",
// "one and a half turns". From nine half turns on it has a figure: "4.5 turns".
func Turns(halves float64) string {
	words := [...]string{"no turns", "half a turn", "one turn", "one and a half turns", "two turns",
		"two and a half turns", "three turns", "three and a half turns", "four turns"}
	halves = math.Abs(halves)
	if halves < float64(len(words)) && halves == math.Trunc(halves) {
		return words[int(halves)]
	}
	return strconv.FormatFloat(halves/2, 'f', -1, 64) + " turns"
}
