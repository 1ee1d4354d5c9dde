package pitch_test

import (
	"math"
	"testing"

	"example.org/levelhead/pitch"
)

func TestStickInWords(t *testing.T) {
	for want, s := range map[string]pitch.Stick{
		"stick 50 %, cyclic centred":                        {Collective: 0.5},
		"stick 0 %, cyclic full left":                       {Right: -1},
		"stick 100 %, cyclic half right and half back":      {Collective: 1, Right: 0.5, Forward: -0.5},
		"stick 12.5 %, cyclic three quarters forward":       {Collective: 0.125, Forward: 0.75},
		"stick 33.3 %, cyclic 37 % left and a quarter back": {Collective: 1. / 3, Right: -0.37, Forward: -0.25},
		"stick 100 %, cyclic full right and full forward":   {Collective: 1, Right: 1, Forward: 1},
		"stick NaN %, cyclic NaN % right":                   {Collective: math.NaN(), Right: math.NaN()},
	} {
		if got := s.String(); got != want {
			t.Errorf("%#v: %q, want %q", s, got, want)
		}
	}
}
