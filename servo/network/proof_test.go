package network_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.org/levelhead/servo/network"
)

// What is proven of a step holds: all along it the answer keeps to the box about the
// curve, and the box is not there for nothing.
func TestProof(t *testing.T) {
	cases := []struct {
		spec   network.Spec
		inputs []float64
	}{
		{bellCranks(), []float64{0.4, -0.2, 0.3}},
		{legs(3), []float64{0.4, -0.2, 0.3}},
		{legs(4), []float64{0.4, -0.2, -0.4, 0.2}},
	}
	for _, c := range readCases(t) {
		n, err := network.New(c.spec())
		if err != nil {
			t.Fatal(err)
		}
		cases = append(cases, struct {
			spec   network.Spec
			inputs []float64
		}{c.spec(), c.inputs(n)})
	}
	const longest = 0.4 // rad, or of the input's own
	random := rand.New(rand.NewPCG(1, 2))
	var worst float64
	proven := 0
	for _, c := range cases {
		n, err := network.New(c.spec)
		if err != nil {
			t.Fatal(err)
		}
		s, there := n.NewState(), n.NewState()
		coords := n.Coordinates()
		curve, off := make([]float64, len(coords)), make([]float64, len(coords))
		for range 8 {
			from, way := make([]float64, len(c.inputs)), make([]float64, len(c.inputs))
			part := random.Float64()
			for k, i := range n.Inputs() {
				from[k] = n.NewState().Coordinate(i)
				from[k] += part * (c.inputs[k] - from[k])
				way[k] = longest * (2*random.Float64() - 1)
				if m := coords[i].Motion; m == network.Slide || m == network.Height {
					way[k] *= 20e-3
				}
			}
			if err := s.Solve(from); err != nil {
				t.Fatal(err)
			}
			to := func(part float64) []float64 {
				in := make([]float64, len(from))
				for k := range in {
					in[k] = from[k] + part*way[k]
				}
				return in
			}
			step := 1.
			for ; step > 1e-3 && !s.Prove(to(step), curve, off, 1); step *= 0.8 {
			}
			if !(step > 1e-3) {
				continue
			}
			proven++
			for i := range 8 {
				part := float64(i+1) / 8
				s.Prove(to(step), curve, off, part)
				if err := there.Solve(to(part * step)); err != nil {
					t.Fatalf("%v within a proven step", err)
				}
				for i, x := range curve {
					if coords[i].Input {
						continue
					}
					d := math.Abs(there.Coordinate(i) - x)
					if !(d <= off[i]+1e-12) {
						t.Errorf("strained %v, part %v, from %v way %v: %v of %q is %.3g from the curve, and is proven to be no more than %.3g", n.Strained(), part, from, way, coords[i].Motion, coords[i].Body, d, off[i])
					}
					if off[i] > 1e-9 {
						worst = max(worst, d/off[i])
					}
				}
			}
		}
	}
	t.Logf("%d steps; the worst is at %.2g of what is proven", proven, worst)
	if worst < 0.05 {
		t.Error("what is proven says nothing")
	}
}
