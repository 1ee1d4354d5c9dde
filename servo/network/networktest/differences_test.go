package networktest

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Differences are within what they tell of themselves, and tell little, for functions that
// bend over any length, and whose numbers jump by a grain; of what they cannot tell they say so.
func TestDifferences(t *testing.T) {
	const steps = 200
	one := func(int) float64 { return 1 }
	for _, grain := range []float64{0x1p-52, 1e-14, 1e-13} {
		for i := range steps {
			// Poles at a distance of room from 0.
			room := math.Pow(10, -5*float64(i)/steps)
			f := func(by float64) ([]float64, bool) {
				y := room * math.Atan(by/room+0.3*math.Sin(float64(i)))
				jump := rand.New(rand.NewPCG(math.Float64bits(by), uint64(i))).Float64() - 0.5
				return []float64{y + grain*jump}, true
			}
			s := 0.3 * math.Sin(float64(i))
			want := 1 / (1 + s*s)
			d, unsure, ok := differences(longest, 1, noiseOf(1, one, f), one, f)
			if !ok {
				t.Fatal("no derivative")
			}
			if off := math.Abs(d[0] - want); !(off <= unsure+slope) {
				t.Errorf("grain %.2g, room %.2g: %.12g, want %.12g: off by %.2g, and told %.2g", grain, room, d[0], want, off, unsure)
			}
			if most := slope + 1000*grain/min(room, longest); !(unsure <= most) {
				t.Errorf("grain %.2g, room %.2g: tells %.2g, more than %.2g", grain, room, unsure, most)
			}
		}
	}
	half := func(by float64) ([]float64, bool) { return []float64{by}, by > 0 }
	if _, unsure, ok := differences(longest, 1, 0, one, half); ok {
		t.Errorf("of one side alone it tells a derivative to %v", unsure)
	}
	if noise := noiseOf(1, one, half); !math.IsInf(noise, 1) {
		t.Errorf("the noise of one side alone is %v", noise)
	}
}
