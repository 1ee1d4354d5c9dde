package show

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	"example.org/levelhead/units"
)

func TestWrap(t *testing.T) {
	for _, tt := range []struct {
		text  string
		width int
		want  []string
	}{
		{"", 5, []string{""}},
		{"set to 12 µs now", 8, []string{"set to", "12 µs", "now"}},
		{"motor 23.6 A now", 11, []string{"motor", "23.6 A now"}},
		{"holds 0.201 N·m, and", 11, []string{"holds", "0.201 N·m,", "and"}},
		{"tip at 90 m/s", 9, []string{"tip at", "90 m/s"}},
		{"load of 9.81 kgf·cm", 12, []string{"load of", "9.81 kgf·cm"}},
		{"in mode 3 Above", 9, []string{"in mode 3", "Above"}},
		{"é°µé°µé", 3, []string{"é°µ", "é°µ", "é"}},
		{"a bcdef", 3, []string{"a", "bcd", "ef"}},
	} {
		if diff := cmp.Diff(tt.want, Wrap(tt.text, tt.width)); diff != "" {
			t.Errorf("Wrap(%q, %d) (-want +got):\n%s", tt.text, tt.width, diff)
		}
	}
}

func TestTable(t *testing.T) {
	table := &Table{Title: "Arms", Heads: []string{"<leg", "angle"}}
	table.Add("right rear", "-1.50°")
	table.Add("front", "0°")
	table.Note("All %d are square.", 2)
	var out bytes.Buffer
	table.Print(&out)
	const want = `Arms
  leg          angle
  right rear  -1.50°
  front           0°
  All 2 are square.
`
	if diff := cmp.Diff(want, out.String()); diff != "" {
		t.Errorf("table (-want +got):\n%s", diff)
	}
}

// A table of more columns than there is room for is wider, and nothing of it is lost.
func TestTableOfManyColumns(t *testing.T) {
	table := &Table{}
	for range Width {
		table.Heads = append(table.Heads, "ab")
	}
	table.Add(table.Heads...)
	var out bytes.Buffer
	table.Print(&out)
	row := strings.Repeat("  a", Width) + "\n" + strings.Repeat("  b", Width) + "\n"
	if diff := cmp.Diff(row+row, out.String()); diff != "" {
		t.Errorf("table (-want +got):\n%s", diff)
	}
}

func TestAngles(t *testing.T) {
	const small = -0.004 * units.Degree
	if got := Angle(small) + " " + Signed(small) + " " + Signed(0.126*units.Degree); got != "0.00° 0.00° +0.13°" {
		t.Errorf("got %s", got)
	}
	if got := Bearing(359.9 * units.Degree); got != "0°" {
		t.Errorf("Bearing(359.9°) = %s, want 0°", got)
	}
}

// A torque in the middle between two is shown alike, whichever side its last digits are on.
func TestTorque(t *testing.T) {
	const unit = units.KilogramForceCentimetre
	for torque, want := range map[units.Torque]string{10.125 * unit: "10.13", 10.1249999 * unit: "10.13", 10.1250001 * unit: "10.13", 10.1249 * unit: "10.12",
		-10.125 * unit: "-10.13", 0: "0.00"} {
		if got := Torque(torque); got != want {
			t.Errorf("Torque(%v) = %s, want %s", torque, got, want)
		}
	}
}

func TestScale(t *testing.T) {
	for _, tt := range []struct {
		min, max float64
		want     []string
	}{
		{-9.4, 10.03, []string{"-10", "-5", "0", "5", "10"}},
		{0, 100, []string{"0", "20", "40", "60", "80", "100"}},
		{0, 0.36, []string{"0", "0.1", "0.2", "0.3", "0.4"}},
		{3, 3, []string{"3"}},
		{0, 2.8e-14, []string{"0"}},
	} {
		axis := plot.Axis{Min: tt.min, Max: tt.max}
		Scale(&axis)
		var got []string
		for _, tick := range axis.Tick.Marker.Ticks(axis.Min, axis.Max) {
			got = append(got, tick.Label)
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("scale of %v to %v (-want +got):\n%s", tt.min, tt.max, diff)
		}
	}
}

func TestRuns(t *testing.T) {
	at := func(x, y float64) plotter.XY { return plotter.XY{X: x, Y: y} }
	nan := math.NaN()
	got := runs(plotter.XYs{at(0, nan), at(1, 5), at(2, 6), at(3, nan), at(4, nan), at(5, 7)})
	want := []plotter.XYs{{at(1, 5), at(2, 6)}, {at(5, 7)}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("runs (-want +got):\n%s", diff)
	}
}
