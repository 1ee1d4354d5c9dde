package network_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"example.org/levelhead/servo/network"
	"example.org/levelhead/units"
)

// jsonDerivatives is one network of testdata/derivatives.json, in the units of
// networks.json. What is of the strains in mm is under strain_mm.
type jsonDerivatives struct {
	Name     string                        `json:"name"`
	ByInput  map[string]map[string]numbers `json:"by_input"`
	ByLength map[string]map[string]numbers `json:"by_length"`
	ByPlace  []struct {
		Link string             `json:"link"`
		End  string             `json:"end"`
		Axis string             `json:"axis"`
		Of   map[string]numbers `json:"of"`
	} `json:"by_place"`
}

// The derivatives of networks of the table, found by differences at 40 digits, are
// those of Effect and InputEffect.
func TestReferenceDerivatives(t *testing.T) {
	const most = 1e-9 // of the largest of the same part, in radians and link lengths
	text, err := os.ReadFile("testdata/derivatives.json")
	if err != nil {
		t.Fatal(err)
	}
	var tables []jsonDerivatives
	if err := json.Unmarshal(text, &tables); err != nil {
		t.Fatal(err)
	}
	cases := map[string]jsonCase{}
	for _, c := range readCases(t) {
		cases[c.Name] = c
	}
	var worst float64
	for _, d := range tables {
		t.Run(d.Name, func(t *testing.T) {
			c, ok := cases[d.Name]
			if !ok {
				t.Fatal("is not in networks.json")
			}
			n, err := network.New(c.spec())
			if err != nil {
				t.Fatal(err)
			}
			s := n.NewState()
			if err := s.Solve(c.inputs(n)); err != nil {
				t.Fatal(err)
			}
			coords := n.Coordinates()
			var size float64
			for _, l := range n.Spec().Links {
				size += float64(l.Length) / float64(len(c.Links))
			}
			unit := func(m network.Motion) float64 {
				switch m {
				case network.Turn:
					return float64(units.Degree)
				case network.Slide, network.Height:
					return float64(mm)
				}
				return 1
			}
			got := make([]float64, len(coords))
			// Got is in SI units, want over by in those of the table.
			compare := func(what string, by float64, want map[string]numbers) {
				var off, scale float64
				seen := 0
				for name, list := range want {
					if name == "strain_mm" {
						continue
					}
					first, ok := n.Coordinate(name)
					if !ok {
						t.Fatalf("no body %q", name)
					}
					for k, w := range list {
						seen++
						m := coords[first+k].Motion
						x := float64(w) * unit(m) / by
						d := math.Abs(got[first+k] - x)
						if m == network.Slide || m == network.Height {
							x, d = x/size, d/size
						}
						off, scale = max(off, d), max(scale, math.Abs(x))
					}
				}
				if seen != len(coords)-len(n.Inputs()) {
					t.Errorf("over %s the table has %d coordinates, the network %d", what, seen, len(coords)-len(n.Inputs()))
				}
				// What no part moves is moved by rounding.
				if scale *= most; !(off <= scale+1e-12/size) {
					t.Errorf("over %s a coordinate is off by %.3g, of %.3g", what, off, scale)
				} else if scale > 0 {
					worst = max(worst, off/(scale+1e-12/size))
				}
			}
			effect := func(kind network.PartKind, name string, axis int) {
				p, err := n.Part(kind, name, axis)
				if err == nil {
					err = s.Effect(got, p)
				}
				if err != nil {
					t.Fatal(err)
				}
			}
			for k, i := range n.Inputs() {
				if err := s.InputEffect(got, k); err != nil {
					t.Fatal(err)
				}
				compare(coords[i].Body, unit(coords[i].Motion), d.ByInput[coords[i].Body])
			}
			for name, want := range d.ByLength {
				effect(network.Length, name, 0)
				compare(name, float64(mm), want)
			}
			for _, p := range d.ByPlace {
				effect(network.Place, p.Link+" "+p.End, int(p.Axis[0]-'x'))
				compare(p.Link+" "+p.End, float64(mm), p.Of)
			}
		})
	}
	t.Logf("the worst is off by %.2g of what is allowed", worst)
}
