package setup

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"example.org/levelhead/curve"
	"example.org/levelhead/internal/mutate"
)

// fieldsOf calls visit with the path, without indices, of every number that a type holds.
func fieldsOf(t reflect.Type, path string, visit func(path string, t reflect.Type)) {
	switch t.Kind() {
	case reflect.Pointer:
		fieldsOf(t.Elem(), path, visit)
	case reflect.Slice, reflect.Array:
		fieldsOf(t.Elem(), path+"[]", visit)
	case reflect.Map:
		fieldsOf(t.Elem(), path+".*", visit)
	case reflect.Struct:
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if name == "" {
				name = strings.ToLower(f.Name)
			}
			if f.IsExported() {
				fieldsOf(f.Type, strings.TrimPrefix(path+"."+name, "."), visit)
			}
		}
	case reflect.Int, reflect.Float64:
		if t != reflect.TypeFor[curve.Kind]() {
			visit(path, t)
		}
	}
}

// Every number of a machine file has a range, and every range a number.
func TestEveryFieldHasARange(t *testing.T) {
	used := map[string]bool{}
	fieldsOf(reflect.TypeFor[Machine](), "", func(path string, _ reflect.Type) {
		s, ok := spanOf(path)
		if !ok {
			t.Errorf("%s has no range", path)
		}
		used[s.field] = true
	})
	for _, s := range spans {
		if !used[s.field] || !(s.least < s.greatest) || s.why == "" {
			t.Errorf("%+v is of no field, or no range", s)
		}
	}
}

// machines returns the machine files of the tests and of the examples.
func machines(tb testing.TB) [][]byte {
	paths, err := filepath.Glob("../../examples/demo/testdata/*.json")
	if err != nil || len(paths) == 0 {
		tb.Fatal("no machines: ", err)
	}
	var files [][]byte
	for _, path := range append(paths, "testdata/full.json") {
		data, err := os.ReadFile(path)
		if err != nil {
			tb.Fatal(err)
		}
		files = append(files, data)
	}
	return files
}

// A number just outside its range is refused, with its field, its line and the amount; one
// at the very end is not, by this check.
func TestRangesHold(t *testing.T) {
	for _, data := range machines(t) {
		m, err := Parse(data)
		if err != nil {
			t.Fatal(err)
		}
		tried := 0
		err = m.walk(reflect.ValueOf(m).Elem(), "", "", func(v reflect.Value, path, field string) error {
			if !v.CanSet() || !v.CanFloat() {
				return nil // of a map: whole servo types
			}
			s, _ := spanOf(field)
			was := v.Float()
			defer v.SetFloat(was)
			for _, x := range []float64{s.least, s.greatest} {
				v.SetFloat(x)
				if err := m.checkRanges(); err != nil {
					t.Errorf("%s at %v: %v", path, x, err)
				}
			}
			for _, x := range []float64{math.Nextafter(s.least, math.Inf(-1)), math.Nextafter(s.greatest, math.Inf(1)), 1e308, -1e308, math.Inf(1), math.NaN()} {
				v.SetFloat(x)
				var of *FieldError
				var outside *RangeError
				if err := m.checkRanges(); !errors.As(err, &of) || !errors.As(err, &outside) || of.Path != path || of.Line == 0 || !(outside.Excess > 0) && !math.IsNaN(x) {
					t.Errorf("%s at %v: %v", path, x, err)
				}
			}
			tried++
			return nil
		})
		if err != nil || tried < 30 {
			t.Errorf("%d fields tried, %v", tried, err)
		}
	}
}

// sound reports a machine file that is neither refused with a field, nor has a sheet that can
// be printed: with no infinity, no NaN, and nothing that rounding left.
func sound(data []byte) error {
	odd := regexp.MustCompile(`Inf|NaN|[0-9]e-(0[7-9]|[1-9][0-9])`) // a sheet is rounded to a millionth
	m, err := Parse(data)
	if err != nil {
		if field := (*FieldError)(nil); !errors.As(err, &field) {
			return fmt.Errorf("%w names no field", err)
		}
		return nil
	}
	rig, err := m.Build()
	if err != nil {
		return err
	}
	sheet, err := rig.Sheet()
	if err != nil {
		return err
	}
	out, err := json.Marshal(sheet)
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
	files := machines(t)
	for i := range 40 {
		changes := make([]byte, 3*(1+random.IntN(3)))
		for k := range changes {
			changes[k] = byte(random.Uint32())
		}
		data := mutate.Numbers(files[i%len(files)], changes)
		if err := sound(data); err != nil {
			t.Errorf("%v, of\n%s", err, data)
		}
	}
}
