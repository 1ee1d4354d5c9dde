package sheet_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/sheet"
)

// machines returns the machine files of the tests and of the examples.
func machines(tb testing.TB) [][]byte {
	paths, err := filepath.Glob("../../examples/demo/testdata/*.json")
	if err != nil || len(paths) == 0 {
		tb.Fatal("no machines: ", err)
	}
	var files [][]byte
	for _, path := range append(paths, "../internal/rigtest/testdata/full.json") {
		data, err := os.ReadFile(path)
		if err != nil {
			tb.Fatal(err)
		}
		files = append(files, data)
	}
	return files
}

// quantity is a number with a unit, or without, in a machine file.
var quantity = regexp.MustCompile(`"-?[0-9.]+ ?[^"0-9]*"|: -?[0-9.]+`)

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

// mutate multiplies some numbers of a machine file.
func mutate(random *rand.Rand, data []byte) []byte {
	factors := []float64{-1, 0, 0.5, 0.8, 0.95, 1.05, 1.2, 2, 10, 1e-3, 1e3, 1e-308}
	number := regexp.MustCompile(`^-?[0-9.]+`)
	for range 1 + random.IntN(3) {
		places := quantity.FindAllIndex(data, -1)
		at := places[random.IntN(len(places))]
		text := string(data[at[0]:at[1]])
		from := strings.IndexAny(text, "-0123456789.")
		to := from + len(number.FindString(text[from:]))
		x, err := strconv.ParseFloat(text[from:to], 64)
		if err != nil {
			continue
		}
		changed := text[:from] + strconv.FormatFloat(x*factors[random.IntN(len(factors))], 'g', -1, 64) + text[to:]
		data = bytes.Join([][]byte{data[:at[0]], []byte(changed), data[at[1]:]}, nil)
	}
	return data
}

func TestMutatedMachines(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	files := machines(t)
	for i := range 40 {
		data := mutate(random, files[i%len(files)])
		if err := sound(data); err != nil {
			t.Errorf("%v, of\n%s", err, data)
		}
	}
}
