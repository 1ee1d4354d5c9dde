package setup_test

import (
	"encoding/json"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/machine/machinetest"
	"example.org/levelhead/pitch/setup"
)

// Whatever two machines are taken, some of their numbers changed, a mode of one is transferred
// to the other, or refused with an error; and what comes of it can be printed.
func FuzzTransfer(f *testing.F) {
	direct, cranks := rigtest.Read(f, rigtest.Demos+"direct.json"), rigtest.Read(f, rigtest.Demos+"bellcranks.json")
	f.Add(direct, cranks, []byte{}, []byte{}, 3)
	f.Add(cranks, direct, []byte{}, []byte{}, 0)
	f.Fuzz(func(t *testing.T, from, to, changes, others []byte, points int) {
		rig := func(data []byte) *setup.Rig {
			m, err := machine.Parse(data)
			if err != nil || len(m.Modes) > 3 || len(m.Plate.Legs) > 6 {
				return nil // refused, or only slow
			}
			r, err := setup.Build(m)
			if err != nil {
				return nil // refused
			}
			return r
		}
		a, b := rig(machinetest.Mutated(from, changes)), rig(machinetest.Mutated(to, others))
		if a == nil || b == nil {
			return
		}
		got, err := a.Modes()[0].Transfer(b, setup.TransferOptions{MaxPoints: points})
		if err != nil {
			return
		}
		if _, err := json.Marshal(got); err != nil {
			t.Fatalf("does not marshal: %v", err)
		}
	})
}
