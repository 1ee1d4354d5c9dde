package network_test

import (
	"encoding/json"
	"errors"
	"io/fs"
	"math"
	"os"
	"strconv"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/servo/network/networktest"
	"example.org/levelhead/units"
)

// number is a float64 written as a JSON number or, with all of its digits, in quotes.
type number float64

func (n *number) UnmarshalJSON(text []byte) error {
	s := string(text)
	if len(s) > 1 && s[0] == '"' {
		s = s[1 : len(s)-1]
	}
	x, err := strconv.ParseFloat(s, 64)
	*n = number(x)
	return err
}

// numbers is one of them, or a list.
type numbers []number

func (n *numbers) UnmarshalJSON(text []byte) error {
	if text[0] == '[' {
		return json.Unmarshal(text, (*[]number)(n))
	}
	*n = make(numbers, 1)
	return json.Unmarshal(text, &(*n)[0])
}

type jsonEnd struct {
	Body string    `json:"body"`
	At   [3]number `json:"at_mm"`
}

// jsonCase is one network of testdata/networks.json, in mm and degrees.
type jsonCase struct {
	Name   string `json:"name"`
	Source string `json:"source"`
	Bodies []struct {
		Name   string    `json:"name"`
		Kind   string    `json:"kind"`
		On     string    `json:"on"`
		Point  [3]number `json:"point_mm"`
		Axis   [3]number `json:"axis"`
		Input  bool      `json:"input"`
		Height number    `json:"height_mm"`
		Mark   *number   `json:"mark_deg"`
	} `json:"bodies"`
	Links []struct {
		Name      string  `json:"name"`
		A         jsonEnd `json:"a"`
		B         jsonEnd `json:"b"`
		Length    number  `json:"length_mm"`
		Stiffness number  `json:"stiffness"`
	} `json:"links"`
	Inputs   map[string]number `json:"inputs"`
	Solution struct {
		Coordinates map[string]numbers `json:"coordinates"`
		Strain      []number           `json:"strain_mm"`
		Margin      number             `json:"margin"`
	} `json:"solution"`
}

func readCases(tb testing.TB) []jsonCase {
	tb.Helper()
	text, err := os.ReadFile("testdata/networks.json")
	if errors.Is(err, fs.ErrNotExist) {
		tb.Skip("no reference table")
	}
	if err != nil {
		tb.Fatal(err)
	}
	var cases []jsonCase
	if err := json.Unmarshal(text, &cases); err != nil {
		tb.Fatal(err)
	}
	return cases
}

func point(p [3]number) linkage.Point {
	return linkage.Point{X: units.Length(p[0]) * mm, Y: units.Length(p[1]) * mm, Z: units.Length(p[2]) * mm}
}

const mm = units.Millimetre

func (c *jsonCase) spec() network.Spec {
	var s network.Spec
	for _, b := range c.Bodies {
		body := network.Body{
			Name: b.Name, On: b.On, Input: b.Input,
			Kind:  map[string]network.Kind{"crank": network.Crank, "slider": network.Slider, "plate": network.Plate, "ring": network.Ring}[b.Kind],
			Point: point(b.Point), Axis: linkage.Direction{X: float64(b.Axis[0]), Y: float64(b.Axis[1]), Z: float64(b.Axis[2])},
			Height: units.Length(b.Height) * mm,
		}
		if b.Mark != nil {
			body.Mark = network.MarkAt(units.Angle(*b.Mark) * units.Degree)
		}
		s.Bodies = append(s.Bodies, body)
	}
	for _, l := range c.Links {
		s.Balls = append(s.Balls,
			network.Ball{Name: l.Name + " a", Body: l.A.Body, At: point(l.A.At)},
			network.Ball{Name: l.Name + " b", Body: l.B.Body, At: point(l.B.At)})
		s.Links = append(s.Links, network.Link{
			Name: l.Name, A: l.Name + " a", B: l.Name + " b",
			Length: units.Length(l.Length) * mm, Stiffness: units.Stiffness(l.Stiffness),
		})
	}
	return s
}

// inputs returns a case's inputs, in the network's order.
func (c *jsonCase) inputs(n *network.Network) []float64 {
	var in []float64
	coords := n.Coordinates()
	for _, i := range n.Inputs() {
		scale := float64(units.Degree)
		if coords[i].Motion == network.Slide {
			scale = float64(mm)
		}
		in = append(in, float64(c.Inputs[coords[i].Body])*scale)
	}
	return in
}

// Every network of the table, solved at 40 digits by another method, comes out the same.
func TestReference(t *testing.T) {
	const (
		lengthOff = 1e-9 // mm
		angleOff  = 1e-9 // degree
	)
	var worst float64
	for _, c := range readCases(t) {
		t.Run(c.Name, func(t *testing.T) {
			n, err := network.New(c.spec())
			if err != nil {
				t.Fatal(err)
			}
			s := n.NewState()
			if err := s.Solve(c.inputs(n)); err != nil {
				t.Fatal(err)
			}
			coords := n.Coordinates()
			seen := 0
			for name, want := range c.Solution.Coordinates {
				first, ok := n.Coordinate(name)
				if !ok {
					t.Fatalf("no body %q", name)
				}
				for k, w := range want {
					seen++
					scale, most := float64(units.Degree), angleOff
					switch coords[first+k].Motion {
					case network.Slide, network.Height:
						scale, most = float64(mm), lengthOff
					case network.RightPart, network.ForwardPart:
						scale, most = 1, angleOff*float64(units.Degree)
					}
					off := math.Abs(s.Coordinate(first+k)/scale - float64(w))
					worst = max(worst, off/most)
					if !(off <= most) {
						t.Errorf("%s, %v: %.15g, want %.15g", name, coords[first+k].Motion, s.Coordinate(first+k)/scale, float64(w))
					}
				}
			}
			if seen != len(coords)-len(n.Inputs()) {
				t.Errorf("the table has %d coordinates, the network %d", seen, len(coords)-len(n.Inputs()))
			}
			strains := make([]units.Length, len(c.Links))
			if err := s.Strains(strains); err != nil {
				t.Fatal(err)
			}
			for i, x := range strains {
				var want float64
				if len(c.Solution.Strain) > 0 {
					want = float64(c.Solution.Strain[i])
				}
				if off := math.Abs(x.Millimetres() - want); !(off <= lengthOff) {
					t.Errorf("strain of %q: %.12g mm, want %.12g", c.Links[i].Name, x.Millimetres(), want)
				}
			}
		})
	}
	t.Logf("the worst is off by %.2g of what is allowed", worst)
}

// The networks of the table hold every law. They take long, so only some are asked, and
// the one that has a link between inputs alone.
func TestReferenceLaws(t *testing.T) {
	const every = 7
	for i, c := range readCases(t) {
		if i%every != 0 && c.Name != "more links 14" {
			continue
		}
		t.Run(c.Name, func(t *testing.T) {
			n, err := network.New(c.spec())
			if err != nil {
				t.Fatal(err)
			}
			if err := networktest.Check(c.spec(), c.inputs(n)); err != nil {
				t.Error(err)
			}
		})
	}
}
