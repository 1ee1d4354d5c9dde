package setup

import (
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/swash"
)

// The links of four servos can fight, those of three cannot: only then has a row fights,
// and they are the plate's.
func TestRowsFights(t *testing.T) {
	const demos = "../../examples/demo/testdata/"
	for file, n := range map[string]int{rigtest.Demos + "direct.json": 0, rigtest.Demos + "bellcranks.json": 0, rigtest.Demos + "fourservos.json": 4} {
		r := rigFrom(t, file)
		row, err := r.modes[0].Row(0.9)
		if err != nil {
			t.Fatal(err)
		}
		if len(row.Fights) != n {
			t.Errorf("%s: fights %v, want %d", file, row.Fights, n)
		}
		if n == 0 {
			continue
		}
		demand, err := r.modes[0].mode.setting.Demand(pitch.Stick{Collective: 0.9})
		if err != nil {
			t.Fatal(err)
		}
		pose, err := r.head.Control.Pose(r.head.Control.NewState(), demand)
		if err != nil {
			t.Fatal(err)
		}
		want := make([]swash.Fight, n)
		if err := r.head.Control.Mechanism().(*swash.Plate).Fights(want, pose, row.Arms); err != nil {
			t.Fatal(err)
		}
		for i, f := range row.Fights {
			if f != want[i] || f.Strain == 0 {
				t.Errorf("%s, servo %d: %+v, want %+v", file, i, f, want[i])
			}
		}
	}
}
