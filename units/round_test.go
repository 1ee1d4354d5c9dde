package units_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

func TestRound(t *testing.T) {
	for _, c := range []struct {
		q        units.Angle
		decimals int
		want     string
	}{
		{9.00000000001 * units.Degree, 6, "9°"},
		{-1e-12 * units.Degree, 6, "0°"},
		{1.23456789 * units.Degree, 3, "1.235°"},
		{-12.5 * units.Degree, 0, "-13°"},
	} {
		got, err := units.Round(c.q, c.decimals).MarshalText()
		if err != nil || string(got) != c.want {
			t.Errorf("%v to %d decimals: %q, %v; want %q", c.q, c.decimals, got, err, c.want)
		}
	}
	if got := units.Round(units.Length(math.Inf(1)), 2); !math.IsInf(float64(got), 1) {
		t.Errorf("infinity became %v", float64(got))
	}
	if got := units.Round(units.Length(1e300), 2); got != 1e300 {
		t.Errorf("1e300 m became %v", float64(got))
	}
}

// Rounding is near, and rounding twice changes nothing more.
func TestRoundProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := units.PulseWidth(rapid.Float64Range(-0.01, 0.01).Draw(t, "pulse"))
		n := rapid.IntRange(0, 9).Draw(t, "decimals")
		r := units.Round(q, n)
		// Half of the last decimal, and what the two products round by.
		us := math.Abs(q.Microseconds())
		half := 0.5*math.Pow(10, -float64(n)) + 4*(math.Nextafter(us, math.Inf(1))-us)
		if d := math.Abs((r - q).Microseconds()); d > half {
			t.Fatalf("moved by %v µs", d)
		}
		if again := units.Round(r, n); again != r {
			t.Fatalf("%v became %v", float64(r), float64(again))
		}
	})
}
