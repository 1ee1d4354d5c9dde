package linkage_test

import (
	"testing"

	"example.org/levelhead/servo/linkage"
)

func TestTurnsInWords(t *testing.T) {
	for halves, want := range map[float64]string{
		0: "no turns", -1: "half a turn", 2: "one turn", -3: "one and a half turns", 4: "two turns", 8: "four turns",
		-9: "4.5 turns", 10: "5 turns", 2.5: "1.25 turns",
	} {
		if got := linkage.Turns(halves); got != want {
			t.Errorf("%v: %q, want %q", halves, got, want)
		}
	}
}
