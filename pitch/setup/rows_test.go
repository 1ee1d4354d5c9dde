package setup_test

import (
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/swash"
)

// The links of four servos can fight, those of three cannot: only then has a row fights,
// and they are the plate's.
func TestRowsFights(t *testing.T) {
	for file, n := range map[string]int{rigtest.Demos + "direct.json": 0, rigtest.Demos + "bellcranks.json": 0, rigtest.Demos + "fourservos.json": 4} {
		r := rigtest.Build(t, rigtest.Read(t, file))
		row, err := r.Modes()[0].Row(0.9)
		if err != nil {
			t.Fatal(err)
		}
		if len(row.Fights) != n {
			t.Errorf("%s: fights %v, want %d", file, row.Fights, n)
		}
		if n == 0 {
			continue
		}
		demand, err := r.Modes()[0].Setting().Demand(pitch.Stick{Collective: 0.9})
		if err != nil {
			t.Fatal(err)
		}
		pose, err := r.Head().Control.Pose(r.Head().Control.NewState(), demand)
		if err != nil {
			t.Fatal(err)
		}
		want := make([]swash.Fight, n)
		if err := r.Head().Control.Mechanism().(*swash.Plate).Fights(want, pose, row.Arms); err != nil {
			t.Fatal(err)
		}
		for i, f := range row.Fights {
			if f != want[i] || f.Strain == 0 {
				t.Errorf("%s, servo %d: %+v, want %+v", file, i, f, want[i])
			}
		}
	}
}
