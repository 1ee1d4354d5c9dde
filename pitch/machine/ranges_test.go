package machine

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"example.org/levelhead/curve"
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
		if path == "format" {
			return // it has one value, see TestFormat
		}
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
