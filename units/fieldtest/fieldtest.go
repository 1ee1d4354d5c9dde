// Package fieldtest holds what checks a struct to the fields that its errors name.
package fieldtest

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/units"
)

// Check puts NaN and both infinities into each number of a sound struct in turn, and wants
// check to refuse it with a *units.FieldError of that very number; but those at or under the
// paths unused, which check must not look at. It then tries other odd numbers, and wants any
// field that is blamed to be one of the struct. Paths of the errors begin with outer.
func Check[S any](t *testing.T, outer string, sound func() S, check func(S) error, unused ...string) {
	t.Helper()
	if err := check(sound()); err != nil {
		t.Fatalf("%T: %v", sound(), err)
	}
	paths, known := numbers(sound())
	if len(paths) == 0 {
		t.Fatalf("%T has no numbers", sound())
	}
	for _, path := range paths {
		skip := slices.ContainsFunc(unused, func(u string) bool { return path == u || strings.HasPrefix(path, u+".") })
		for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1} {
			s := sound()
			visit(reflect.ValueOf(&s).Elem(), "", func(at string, v reflect.Value) {
				if at == path && v.Kind() == reflect.Float64 {
					v.SetFloat(bad)
				}
			})
			err := check(s)
			var field *units.FieldError
			named := errors.As(err, &field)
			switch finite := !math.IsNaN(bad) && !math.IsInf(bad, 0); {
			case skip && err != nil:
				t.Errorf("%T: %s of %v: %v, though it is said not to matter", s, path, bad, err)
			case !skip && !finite && (!named || field.Field != in(outer, path)):
				t.Errorf("%T: %s of %v: %v, as the error of field %q", s, path, bad, err, fieldOf(field))
			case named && !slices.ContainsFunc(known, func(k string) bool { return in(outer, k) == field.Field }):
				t.Errorf("%T: %s of %v: %v, as the error of %q, which is no field", s, path, bad, err, field.Field)
			}
		}
	}
}

func in(outer, path string) string {
	return units.In(outer, "", &units.FieldError{Field: path}).(*units.FieldError).Field
}

func fieldOf(err *units.FieldError) string {
	if err == nil {
		return ""
	}
	return err.Field
}

// numbers returns the paths of the floating-point numbers of a struct, and of all its fields,
// with "" for the struct itself.
func numbers(s any) (floats, all []string) {
	v := reflect.New(reflect.TypeOf(s)).Elem()
	v.Set(reflect.ValueOf(s))
	visit(v, "", func(path string, v reflect.Value) {
		all = append(all, path)
		if v.Kind() == reflect.Float64 {
			floats = append(floats, path)
		}
	})
	return floats, all
}

// visit calls see with a value and all exported fields and elements in it, and their paths.
func visit(v reflect.Value, path string, see func(path string, v reflect.Value)) {
	see(path, v)
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				visit(v.Field(i), strings.TrimPrefix(path+"."+f.Name, "."), see)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			visit(v.Index(i), fmt.Sprintf("%s[%d]", path, i), see)
		}
	}
}
