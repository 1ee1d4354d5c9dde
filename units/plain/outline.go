package plain

import (
	"reflect"
	"slices"
)

// An Entry is one key that a type of result can have.
type Entry struct {
	Path string // from the result, such as "modes[].rows[].gauge_deg"; {} is an entry of a map
	Key  string // the last of the path
	Unit string // the ending of the key; "" without a quantity
	// Shape is what stands there: "number", "word", "true or false", "object", "list of
	// numbers", and so on. Of a value of an interface type it is "any".
	Shape string
	Depth int // how many objects it stands in, from 0
}

// Outline returns the keys that results of a type can have, in their order. A type inside
// itself is not gone through again. The error is an *Error for a type that Marshal refuses.
func Outline(t reflect.Type) ([]Entry, error) {
	o := &outliner{}
	_, err := o.shape(t, "", 0)
	return o.entries, err
}

type outliner struct {
	entries []Entry
	around  []reflect.Type
}

// shape returns that of a type, and adds the keys in it.
func (o *outliner) shape(t reflect.Type, path string, depth int) (string, error) {
	if t.Kind() == reflect.Pointer {
		return o.shape(t.Elem(), path, depth)
	}
	if own(t) {
		return o.own(t, path, depth)
	}
	if suffix(t) != "" && t.Kind() == reflect.Float64 {
		return "number", nil
	}
	switch t.Kind() {
	case reflect.Interface:
		if t.Implements(errorType) {
			return o.failure(path, depth), nil
		}
		return "any", nil
	case reflect.Slice, reflect.Array:
		of, err := o.shape(t.Elem(), path+"[]", depth)
		return "list of " + plural[of], err
	case reflect.Map:
		_, err := o.shape(t.Elem(), path+"{}", depth)
		return "object", err
	case reflect.Struct:
		return "object", o.structure(t, path, depth)
	case reflect.String:
		return "word", nil
	case reflect.Bool:
		return "true or false", nil
	case reflect.Float64, reflect.Float32:
		return "number", nil
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64, reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		if t.Implements(of[interface{ String() string }]()) {
			return "word", nil
		}
		return "number", nil
	}
	return "", refuse(path, "is a %v, which has no form in JSON", t)
}

var plural = map[string]string{
	"number": "numbers", "word": "words", "object": "objects", "any": "anything", "true or false": "true or false",
	"list of numbers": "lists of numbers", "list of words": "lists of words", "list of objects": "lists of objects",
}

func (o *outliner) own(t reflect.Type, path string, depth int) (string, error) {
	v := reflect.New(t)
	switch of := v.Interface().(type) {
	case interface{ PlainJSON() any }:
		var form any
		if err := guard(path, func() error { form = of.PlainJSON(); return nil }); err != nil || form == nil {
			return "any", err
		}
		return o.shape(reflect.TypeOf(form), path, depth)
	case error:
		return o.failure(path, depth), nil
	}
	return "word", nil
}

// failure adds the keys that every error has.
func (o *outliner) failure(path string, depth int) string {
	for _, key := range []string{"kind", "text"} {
		o.entries = append(o.entries, Entry{join(path, key), key, "", "word", depth})
	}
	return "object"
}

func (o *outliner) structure(t reflect.Type, path string, depth int) error {
	if slices.Contains(o.around, t) {
		return nil
	}
	o.around = append(o.around, t)
	defer func() { o.around = o.around[:len(o.around)-1] }()
	fields, err := fieldsOf(t)
	if err != nil {
		err.(*Error).Path = path
		return err
	}
	for _, f := range fields {
		of := t.FieldByIndex(f.index).Type
		if f.as != nil {
			of = f.as
		}
		unit := suffix(of)
		name := key(f.stem, unit)
		at := len(o.entries)
		o.entries = append(o.entries, Entry{join(path, name), name, unit, "", depth})
		shape, err := o.shape(of, join(path, name), depth+1)
		if err != nil {
			return err
		}
		o.entries[at].Shape = shape
	}
	return nil
}
