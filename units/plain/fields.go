package plain

import (
	"encoding"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"example.org/levelhead/units"
)

// field is a field of a struct that has a key.
type field struct {
	stem        string
	index       []int
	as          reflect.Type // the quantity that the number is; nil for its own type
	conditions  []condition
	empty, zero bool // left out where it is so
}

// condition is what must hold of a neighbour for a field to count.
type condition struct {
	index []int
	set   bool
	is    string // the text that the neighbour must be; "" is any
}

// fieldsOf returns the fields of a struct type that have keys: its own and those of structs
// embedded in it.
func fieldsOf(t reflect.Type) ([]field, error) {
	var fields []field
	var named [][]int                  // embedded fields that have keys of their own or none
	around := map[string][]condition{} // of embedded structs, by their index
	for _, f := range reflect.VisibleFields(t) {
		if slices.ContainsFunc(named, func(outer []int) bool { return within(f.Index, outer) }) {
			continue
		}
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		embedded := f.Anonymous && name == "" && open(f.Type)
		if f.Tag.Get("json") == "-" || !f.IsExported() && !embedded {
			named = append(named, f.Index)
			continue
		}
		outer := around[fmt.Sprint(f.Index[:len(f.Index)-1])]
		one := field{stem: name, index: f.Index, conditions: slices.Clone(outer)}
		if err := one.tagged(t, f); err != nil {
			return nil, err
		}
		if embedded {
			around[fmt.Sprint(f.Index)] = one.conditions
			continue
		}
		if f.Anonymous {
			named = append(named, f.Index)
		}
		if name == "" {
			one.stem = snake(f.Name)
		}
		for option := range strings.SplitSeq(options, ",") {
			one.empty = one.empty || option == "omitempty"
			one.zero = one.zero || option == "omitzero"
		}
		fields = append(fields, one)
	}
	return fields, nil
}

func within(index, outer []int) bool {
	return len(index) > len(outer) && slices.Equal(index[:len(outer)], outer)
}

// open reports whether the fields of an embedded type stand among those around it.
func open(t reflect.Type) bool {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t.Kind() == reflect.Struct && !own(t)
}

var (
	errorType = of[error]()
	textType  = of[encoding.TextMarshaler]()
	plainType = of[interface{ PlainJSON() any }]()
)

// own reports whether values of a type are written by methods of theirs, or of pointers to them.
func own(t reflect.Type) bool {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t.Kind() == reflect.Interface {
		return false
	}
	if _, _, ok := units.Written(reflect.Zero(t).Interface()); ok {
		return false
	}
	for _, i := range []reflect.Type{plainType, errorType, textType} {
		if reflect.PointerTo(t).Implements(i) {
			return true
		}
	}
	return false
}

// tagged reads the plain tag of a field.
func (f *field) tagged(t reflect.Type, from reflect.StructField) error {
	tag := from.Tag.Get("plain")
	if tag == "" {
		return nil
	}
	for part := range strings.SplitSeq(tag, ",") {
		what, of, _ := strings.Cut(part, "=")
		switch what {
		case "as":
			if f.as = quantities[of]; f.as == nil || from.Type.Kind() != reflect.Float64 {
				return refuse("", "has the tag plain:%q on the field %s of %v; it must be a float64 and one of the quantities", tag, from.Name, t)
			}
		case "with", "without", "when":
			of, is, _ := strings.Cut(of, ":")
			parent := t
			for _, i := range from.Index[:len(from.Index)-1] {
				if parent = parent.Field(i).Type; parent.Kind() == reflect.Pointer {
					parent = parent.Elem()
				}
			}
			neighbour, ok := parent.FieldByName(of)
			if !ok {
				return refuse("", "has the tag plain:%q on the field %s of %v, which has no field %q", tag, from.Name, t, of)
			}
			index := append(slices.Clone(from.Index[:len(from.Index)-1]), neighbour.Index...)
			f.conditions = append(f.conditions, condition{index, what != "without", is})
		default:
			return refuse("", "has the tag plain:%q on the field %s of %v; write with, without, when or as", tag, from.Name, t)
		}
	}
	return nil
}

// counts reports whether a field has a key in a struct.
func (f *field) counts(v reflect.Value) (reflect.Value, bool) {
	for _, c := range f.conditions {
		neighbour, err := v.FieldByIndexErr(c.index)
		if err != nil || c.is == "" && neighbour.IsZero() == c.set || c.is != "" && fmt.Sprint(neighbour) != c.is {
			return v, false
		}
	}
	value, err := v.FieldByIndexErr(f.index)
	if err != nil || f.zero && value.IsZero() || f.empty && empty(value) {
		return v, false
	}
	if f.as != nil {
		value = value.Convert(f.as)
	}
	return value, true
}

// empty is what omitempty leaves out in encoding/json.
func empty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Array, reflect.Map, reflect.Slice, reflect.String:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}
