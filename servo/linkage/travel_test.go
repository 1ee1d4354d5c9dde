package linkage_test

import (
	"math"
	"testing"

	"example.org/levelhead/servo/linkage"
)

// What Clamp gives is within the travel, and what is within it stays.
func TestClamp(t *testing.T) {
	travel := linkage.Travel{Low: -0.5, High: math.Pi / 2}
	for in, want := range map[float64]float64{
		0.3: 0.3, -0.4: -0.4,
		-0.5: math.Nextafter(-0.5, 0), math.Inf(-1): math.Nextafter(-0.5, 0),
		math.Pi / 2: math.Nextafter(math.Pi/2, 0), 7: math.Nextafter(math.Pi/2, 0),
	} {
		if got := travel.Clamp(in); got != want || !travel.Holds(got) {
			t.Errorf("%v: %v, want %v", in, got, want)
		}
	}
	if got := travel.Clamp(math.NaN()); !math.IsNaN(got) {
		t.Errorf("NaN: %v", got)
	}
}
