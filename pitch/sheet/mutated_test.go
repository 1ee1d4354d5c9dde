package sheet_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"regexp"
	"slices"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/machine/machinetest"
	"example.org/levelhead/pitch/sheet"
)

// sound reports a machine file that is neither refused with a field, nor has a sheet that can
// be printed: with no infinity, no NaN, and nothing that rounding left.
func sound(data []byte) error {
	odd := regexp.MustCompile(`Inf|NaN|[0-9]e-(0[7-9]|[1-9][0-9])`) // a sheet is rounded to a millionth
	rig, err := rigtest.Open(data)
	if err != nil {
		if field := (*machine.FieldError)(nil); !errors.As(err, &field) {
			return fmt.Errorf("%w names no field", err)
		}
		return nil
	}
	s, err := sheet.Of(rig)
	if err != nil {
		return err
	}
	out, err := json.Marshal(s)
	if err != nil {
		return err
	}
	if at := odd.FindIndex(out); at != nil {
		return fmt.Errorf("%q in the sheet", out[max(0, at[0]-60):min(at[1]+20, len(out))])
	}
	return nil
}

func TestMutatedMachines(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	files := [][]byte{rigtest.Full(t)}
	for _, name := range slices.Sorted(maps.Keys(rigtest.Files(t))) {
		files = append(files, rigtest.Files(t)[name])
	}
	for i := range 40 {
		changes := make([]byte, 3*(1+random.IntN(3)))
		for k := range changes {
			changes[k] = byte(random.Uint32())
		}
		data := machinetest.Mutated(files[i%len(files)], changes)
		if err := sound(data); err != nil {
			t.Errorf("%v, of\n%s", err, data)
		}
	}
}
