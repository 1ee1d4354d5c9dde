package machinetest_test

import (
	"testing"

	"example.org/levelhead/pitch/machine/machinetest"
)

func TestMutated(t *testing.T) {
	const file = `{"arm": "-12.5 mm", "arm 2": "a 3", "teeth": 7, "points": [["0 %", "25 %"]]}`
	for _, c := range []struct{ changes, want string }{
		{"", file},
		{"\x00\x01", file},
		{"\x00\x00\x00", `{"arm": "12.5 mm", "arm 2": "a 3", "teeth": 7, "points": [["0 %", "25 %"]]}`},
		{"\x00\x01\x07\x01\x03\x07", `{"arm": "-12.5 mm", "arm 2": "a 3", "teeth": 14, "points": [["0 %", "50 %"]]}`},
		{"\x00\x00\x0e\x00\x00\x00", `{"arm": "-1.2499999999999998e-307 mm", "arm 2": "a 3", "teeth": -7, "points": [["0 %", "25 %"]]}`},
	} {
		if got := string(machinetest.Mutated([]byte(file), []byte(c.changes))); got != c.want {
			t.Errorf("%q: %s, want %s", c.changes, got, c.want)
		}
	}
	for _, none := range []string{"", `{"a": "..."}`, "\xff: "} {
		if got := string(machinetest.Mutated([]byte(none), []byte("abc"))); got != none {
			t.Errorf("%q became %q", none, got)
		}
	}
}
