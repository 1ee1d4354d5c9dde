package swash_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/swash"
)

// The change of pose makes the wanted changes of the three quantities, each its own.
func TestPoseChange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
		var slopes [3]swash.PoseRate
		var by [3]float64
		for i := range slopes {
			rate := [3]float64{draw("height"), draw("right"), draw("forward")}
			rate[i] += 4 // no two alike
			slopes[i], by[i] = swash.PoseRate{Height: rate[0], Right: rate[1], Forward: rate[2]}, draw("by")
		}
		change, ok := swash.PoseChange(slopes, by)
		if !ok {
			t.Fatal("the slopes do not tell the three apart")
		}
		for i, s := range slopes {
			if got := s.Dot(change); !(math.Abs(got-by[i]) < 1e-14) {
				t.Fatalf("quantity %d changes by %v, want %v", i, got, by[i])
			}
		}
	})
	same := swash.PoseRate{Height: 1, Right: 2, Forward: 3}
	if change, ok := swash.PoseChange([3]swash.PoseRate{same, same, {Right: 1}}, [3]float64{1, 2, 3}); ok {
		t.Errorf("two quantities alike: %v", change)
	}
}
