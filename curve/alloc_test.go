package curve_test

import (
	"testing"

	"example.org/levelhead/curve"
)

// sink keeps the compiler from leaving calls out.
var sink float64

func TestAllocatesNothing(t *testing.T) {
	gate := func(name string, f func()) {
		t.Helper()
		if n := testing.AllocsPerRun(100, f); n != 0 {
			t.Errorf("%s allocates %g times", name, n)
		}
	}
	for _, kind := range kinds {
		c := mustNew(t, kind, fivePoints())
		gate(kind.String()+" At", func() { sink = c.At(0.3) })
		gate(kind.String()+" Slope", func() { sink = c.Slope(0.3) })
		gate(kind.String()+" Inverse", func() { sink, _ = c.Inverse(0.3) })
	}
	k := curve.Expo(0.3)
	gate("Expo.At", func() { sink = k.At(0.3) })
	gate("Expo.Slope", func() { sink = k.Slope(0.3) })
	gate("Expo.Inverse", func() { sink, _ = k.Inverse(0.3) })
	gain := 2.5
	gate("Invert", func() {
		sink, _ = curve.Invert(func(x float64) (float64, error) { return gain * x * x, nil }, 1, 0, 1)
	})
}

func BenchmarkAt(b *testing.B) {
	for _, kind := range kinds {
		c := mustNew(b, kind, fivePoints())
		b.Run(kind.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sink = c.At(0.3)
			}
		})
	}
}

func BenchmarkSlope(b *testing.B) {
	c := mustNew(b, curve.Monotone, fivePoints())
	b.ReportAllocs()
	for b.Loop() {
		sink = c.Slope(0.3)
	}
}

func BenchmarkInverse(b *testing.B) {
	for _, kind := range kinds {
		c := mustNew(b, kind, fivePoints())
		b.Run(kind.String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sink, _ = c.Inverse(0.3)
			}
		})
	}
}

func BenchmarkNew(b *testing.B) {
	for _, kind := range kinds {
		b.Run(kind.String(), func(b *testing.B) {
			points := fivePoints()
			b.ReportAllocs()
			for b.Loop() {
				mustNew(b, kind, points)
			}
		})
	}
}

func BenchmarkExpoInverse(b *testing.B) {
	k := curve.Expo(0.3)
	b.ReportAllocs()
	for b.Loop() {
		sink, _ = k.Inverse(0.3)
	}
}
