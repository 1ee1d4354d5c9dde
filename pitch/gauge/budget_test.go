package gauge

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"example.org/levelhead/units"
)

// The arithmetic of stack-ups in one line, against testdata/tolerance_stackup.csv.
func TestStackUp(t *testing.T) {
	file, err := os.Open("testdata/tolerance_stackup.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatal(len(rows), err)
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	const tolerance = 1e-9 // relative: the table has ten digits
	for _, row := range rows[1:] {
		var effects []r2.Vec
		for i, s := range strings.Split(row[0], ";") {
			effects = append(effects, r2.Vec{X: number(s) * float64(1-2*(i%2))}) // to either side
		}
		for _, c := range []struct {
			name string
			got  float64
			want float64
		}{{"worst case", worstCase(effects), number(row[1])}, {"rss", rootSumSquare(effects), number(row[2])}} {
			if math.Abs(c.got-c.want) > tolerance*c.want {
				t.Errorf("%s: %s %.10g, want %.10g", row[0], c.name, c.got, c.want)
			}
		}
	}
}

// The worst case of effects in the plane is the worst of all choices of sides.
func TestWorstCase(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Whole numbers make many effects parallel, or none; zeros have both signs.
		whole := rapid.SampledFrom([]float64{-3, -2, -1, math.Copysign(0, -1), 0, 1, 2, 3})
		effects := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) r2.Vec {
			return r2.Vec{X: whole.Draw(t, "x"), Y: whole.Draw(t, "y")}
		}), 0, 9).Draw(t, "effects")
		var want float64
		for sides := range 1 << len(effects) {
			var sum r2.Vec
			for i, e := range effects {
				sum = r2.Add(sum, r2.Scale(float64(1-2*(sides>>i&1)), e))
			}
			want = max(want, r2.Norm(sum))
		}
		const rounding = 1e-12
		if got := worstCase(effects); math.Abs(got-want) > rounding {
			t.Errorf("%v, want %v", got, want)
		}
	})
}

// What one part explains is the adjusted coefficient of determination of a straight line
// by gonum's simple regression.
func TestExplained(t *testing.T) {
	const builds = 300
	b, err := NewSession(rigOf(t, "direct"), 1, Tolerances{PitchLink: 3 * units.Millimetre})
	if err != nil {
		t.Fatal(err)
	}
	v, err := b.survey(&Study{Mode: "hover", Builds: builds, Seed: 1, Sticks: fewSticks})
	if err != nil {
		t.Fatal(err)
	}
	if err := v.sample(t.Context()); err != nil {
		t.Fatal(err)
	}
	o, err := v.outcome(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for i, at := range o.At {
		z, shown := v.off[0], v.shown[i][0]
		alpha, beta := stat.LinearRegression(z, shown, nil, false)
		square := stat.RSquared(z, shown, nil, alpha, beta)
		want := (1 - square) * (builds - 1) / (builds - 2)
		const rounding = 1e-9 // of 1: what is left is a difference
		budget := at.PitchBudget[0]
		if got := 1 - budget.Explained; math.Abs(got-want) > rounding || !(want > 1e3*rounding) || math.Abs(budget.Sampled[0]-square) > rounding {
			t.Errorf("%v: %v is not explained, want %v; share %v, want %v", at.Stick, got, want, budget.Sampled[0], square)
		}
	}
}
