package rotor

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"example.org/levelhead/units"
)

// row is a row of a table in testdata, by column.
type row struct {
	t     *testing.T
	cells map[string]string
}

func (r row) text(column string) string {
	r.t.Helper()
	s, ok := r.cells[column]
	if !ok {
		r.t.Fatalf("no column %q", column)
	}
	return s
}

// number returns NaN for an empty cell.
func (r row) number(column string) float64 {
	r.t.Helper()
	s := r.text(column)
	if s == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		r.t.Fatal(err)
	}
	return v
}

func table(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	reader := csv.NewReader(f)
	reader.Comment = '#'
	lines, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, line := range lines[1:] {
		cells := map[string]string{}
		for i, column := range lines[0] {
			cells[column] = line[i]
		}
		rows = append(rows, row{t, cells})
	}
	return rows
}

func relative(got, want float64) float64 { return math.Abs(got-want) / math.Abs(want) }

// near fails unless got is within a relative tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s is %v, want %v: off by %.2g, more than %.2g", what, got, want, relative(got, want), tolerance)
	}
}

// withinOf fails unless got is within an absolute tolerance of want.
func withinOf(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v: off by %.2g, more than %.2g", what, got, want, math.Abs(got-want), tolerance)
	}
}

func build(t testing.TB, s Spec) *Rotor {
	t.Helper()
	r, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func coefficients(t *testing.T, r *Rotor, degrees float64) Coefficients {
	t.Helper()
	c, err := r.Coefficients(units.Angle(degrees)*units.Degree, 0)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// linear is a section without stall or drag.
func linear(slope float64) Section { return Section{LiftSlope: slope, StallLift: 10} }

// simple is a rotor of radius 1 m with a solidity.
func simple(solidity float64, s Section, loss TipLoss) Spec {
	return Spec{Blades: 2, Radius: 1, Chord: units.Length(solidity * math.Pi / 2), Section: s, TipLoss: loss}
}
