package lsq

import (
	"math"
	"testing"
)

// Where two columns are alike the data tell their sum alone: the step is the shortest
// of those with that sum, and nothing of it comes from rounding.
func TestStepOfDeficientRank(t *testing.T) {
	f := newFactor(3, 2)
	if err := f.of([]float64{1, 1, 2, 2, 3, 3}, nil, nil); err != nil {
		t.Fatal(err)
	}
	if f.rank != 1 {
		t.Fatalf("rank %d, want 1", f.rank)
	}
	var dst, coef, c [2]float64
	f.project(c[:], []float64{1, 2, 3.5})
	c[1] = 1e3 // means nothing
	const sum = (1 + 2*2 + 3*3.5) / 14
	length, gain := f.step(dst[:], coef[:], c[:], 10)
	const rounding = 1e-14
	for i, got := range dst {
		if !(math.Abs(got-sum/2) < rounding) {
			t.Errorf("step %d is %v, want %v", i, got, sum/2)
		}
	}
	if !(math.Abs(length-sum/math.Sqrt2) < rounding) || !(math.Abs(gain-14*sum*sum) < 20*rounding) {
		t.Errorf("length %v, gain %v; want %v, %v", length, gain, sum/math.Sqrt2, 14*sum*sum)
	}
}
