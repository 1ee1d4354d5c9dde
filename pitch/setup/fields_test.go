package setup

import (
	"reflect"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Every field of what is built from a machine file has a field of the file, and every name
// here is that of a field. A link is named by the path that leads to the head.
func TestEveryFieldHasAPath(t *testing.T) {
	for _, c := range []struct {
		of     any
		before string // what stands before the paths
		names  units.FieldNames
		no     string // those that need none
	}{
		{pitch.GripSpec{}, "", gripFields, "Link"},
		{swash.LegSpec{}, "", new(machine.Spatial).Fields(), "Stiffness"}, // refused before
		{rotor.Spec{}, "", rotorFields, "TipLoss"},                        // not in a file
	} {
		known := map[string]bool{}
		fields(reflect.TypeOf(c.of), "", func(path string) { known[path] = true })
		for path := range known {
			name, _ := c.names.Of(path, 0)
			if none := strings.Contains(" "+c.no+" ", " "+path+" "); (name == "") != none {
				t.Errorf("%T: %s is %q in the file", c.of, path, name)
			}
		}
		for key := range c.names {
			if first, _, _ := strings.Cut(key, "."); first != "" && first[0] >= 'a' {
				continue // an argument of a function
			}
			if !known[key] && !prefixed(known, key) {
				t.Errorf("%T has no field %s", c.of, key)
			}
		}
	}
}

// fields visits the paths of all numbers, names and choices of a type.
func fields(of reflect.Type, path string, visit func(path string)) {
	switch of.Kind() {
	case reflect.Struct:
		exported := 0
		for i := range of.NumField() {
			if f := of.Field(i); f.IsExported() {
				exported++
				fields(f.Type, strings.TrimPrefix(path+"."+f.Name, "."), visit)
			}
		}
		if exported == 0 {
			visit(path)
		}
	case reflect.Slice:
		fields(of.Elem(), path+"[]", visit)
	default:
		visit(path)
	}
}

// prefixed reports whether a key stands for fields inside it.
func prefixed(known map[string]bool, key string) bool {
	for path := range known {
		if strings.HasPrefix(path, key+".") {
			return true
		}
	}
	return false
}
