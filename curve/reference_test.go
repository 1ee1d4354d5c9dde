package curve_test

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"example.org/levelhead/curve"
)

// The tables hold 15 or 16 digits; a few steps of rounding come on top, and
// more where slopes of opposite sign nearly cancel.
const tableTolerance = 1e-12 // relative to the expected value

// table is a CSV file of testdata, by column name. The lines that begin with
// # tell its source and status.
type table struct {
	names   []string
	numbers map[string][]float64
	sets    []string // the column "set", if there is one
}

func readTable(t *testing.T, name string) table {
	t.Helper()
	file, err := os.Open(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	tab := table{names: rows[0], numbers: map[string][]float64{}}
	for _, row := range rows[1:] {
		for i, cell := range row {
			if tab.names[i] == "set" {
				tab.sets = append(tab.sets, cell)
				continue
			}
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				t.Fatal(err)
			}
			tab.numbers[tab.names[i]] = append(tab.numbers[tab.names[i]], v)
		}
	}
	return tab
}

// setNames returns each set once, in the order of the table.
func (tab table) setNames() []string { return slices.Compact(slices.Clone(tab.sets)) }

// points returns the knots of one set of interp_slopes.csv.
func (tab table) points(set string) []curve.Point {
	var points []curve.Point
	for i, s := range tab.sets {
		if s == set {
			points = append(points, curve.Point{X: tab.numbers["x"][i], Y: tab.numbers["y"][i]})
		}
	}
	return points
}

func mustNew(t testing.TB, kind curve.Kind, points []curve.Point) *curve.Curve {
	t.Helper()
	c, err := curve.New(kind, points)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func near(got, want, relative float64) bool {
	return math.Abs(got-want) <= relative*math.Abs(want)
}

var cubics = []curve.Kind{curve.Monotone, curve.Akima, curve.Natural, curve.NotAKnot}

// The data of F. N. Fritsch and R. E. Carlson (1980), H. Akima (1970) and
// C. de Boor; expected numbers in exact rational arithmetic or by SciPy 1.10.1.
// The headers of the two files say which.
func TestPublishedData(t *testing.T) {
	knots := readTable(t, "interp_slopes.csv")
	between := readTable(t, "interp_values.csv")
	for _, kind := range cubics {
		for _, set := range knots.setNames() {
			c := mustNew(t, kind, knots.points(set))
			for i, s := range knots.sets {
				x, want := knots.numbers["x"][i], knots.numbers[kind.String()][i]
				if got := c.Slope(x); s == set && !near(got, want, tableTolerance) {
					t.Errorf("%v %s: Slope(%g) = %.17g, want %.17g", kind, set, x, got, want)
				}
			}
			for i, s := range between.sets {
				x, want := between.numbers["x"][i], between.numbers[kind.String()][i]
				if got := c.At(x); s == set && !near(got, want, tableTolerance) {
					t.Errorf("%v %s: At(%g) = %.17g, want %.17g", kind, set, x, got, want)
				}
			}
		}
	}
}

// The sets RPN14 and Akima1 to 3 never fall. Only the monotone curve through
// them never falls either; that the others do is the negative control.
func TestPublishedDataMonotone(t *testing.T) {
	const step = 1.0 / 512
	knots := readTable(t, "interp_slopes.csv")
	for _, set := range []string{"RPN14", "Akima1", "Akima2", "Akima3"} {
		for _, kind := range cubics {
			c := mustNew(t, kind, knots.points(set))
			falls := false
			lo, hi := c.Domain()
			for x := lo; x+step <= hi; x += step {
				falls = falls || c.At(x+step) < c.At(x)
			}
			// Akima's curve falls on two sets: below zero on RPN14, and on Akima3
			// as the table shows, from 54.83 at 12.6 to 54.73 at 13.2.
			want := kind == curve.Natural || kind == curve.NotAKnot ||
				kind == curve.Akima && (set == "RPN14" || set == "Akima3")
			if falls != want {
				t.Errorf("%s: a %v curve falls: %v, want %v", set, kind, falls, want)
			}
		}
	}
	// Akima's curve dips below the first ordinate of RPN14, near x = 8.05.
	c := mustNew(t, curve.Akima, knots.points("RPN14"))
	if y := c.At(8.05); y >= 0 {
		t.Errorf("akima RPN14: At(8.05) = %g, want a value below 0", y)
	}
	var turn *curve.NotMonotoneError
	if _, err := c.Inverse(0.5); !errors.As(err, &turn) || turn.Segment != 0 {
		t.Errorf("akima RPN14: Inverse gives %v, want a turn in the first segment", err)
	}
}

// Values printed in a test of libROM (Lawrence Livermore National Laboratory).
func TestPublishedPCHIP(t *testing.T) {
	// The printed values carry 15 decimals or 16 digits.
	const tolerance = 1e-12
	tab := readTable(t, "pchip_librom.csv")
	xs := []float64{0, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15}
	y1 := []float64{10, 10, 10, 10, 10, 10, 10.5, 15, 50, 60, 85}
	first, second := make([]curve.Point, len(xs)), make([]curve.Point, len(xs))
	for i, x := range xs {
		first[i] = curve.Point{X: x, Y: y1[i]}
		second[i] = curve.Point{X: x, Y: math.Sin(x)}
	}
	for name, points := range map[string][]curve.Point{"y1": first, "y2": second} {
		c := mustNew(t, curve.Monotone, points)
		for i, want := range tab.numbers[name] {
			x := tab.numbers["t"][i]
			if got := c.At(x); math.Abs(got-want) > tolerance {
				t.Errorf("%s: At(%g) = %.17g, want %.17g", name, x, got, want)
			}
		}
	}
}

// After R. L. Burden and J. D. Faires, Numerical Analysis, sec. 3.5, example 2
// (the place from memory); coefficients computed to 14 digits.
func TestNaturalSplineOfExponential(t *testing.T) {
	// 14 digits, times the four terms of a cubic.
	const tolerance = 1e-12
	tab := readTable(t, "natural_exponential.csv")
	var points []curve.Point
	for i := range 4 {
		points = append(points, curve.Point{X: float64(i), Y: math.Exp(float64(i))})
	}
	spline := mustNew(t, curve.Natural, points)
	for i, x := range tab.numbers["i"] {
		a, b, c, d := tab.numbers["a"][i], tab.numbers["b"][i], tab.numbers["c"][i], tab.numbers["d"][i]
		for _, t1 := range []float64{0, 0.25, 0.5, 0.75} {
			value := a + t1*(b+t1*(c+t1*d))
			if got := spline.At(x + t1); !near(got, value, tolerance) {
				t.Errorf("At(%g) = %.15g, want %.15g", x+t1, got, value)
			}
			slope := b + t1*(2*c+t1*3*d)
			if got := spline.Slope(x + t1); !near(got, slope, tolerance) {
				t.Errorf("Slope(%g) = %.15g, want %.15g", x+t1, got, slope)
			}
		}
	}
}
