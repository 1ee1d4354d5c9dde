package plain

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"go/token"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.org/levelhead/units"
)

// Format is the number under the key "format" of every result. It changes when a key, its unit
// or its meaning changes, and not when one is added.
const Format = 1

// Marshal returns a result as JSON that ends in a newline. The result is a struct, a map, an
// error, or a pointer to one. Its keys come after "format" and "what", which says what kind of
// result it is. The error is an *Error.
func Marshal(what string, result any) ([]byte, error) {
	if what == "" {
		return nil, refuse("what", "must not be empty")
	}
	n, err := newEncoder().result(reflect.ValueOf(result))
	if err != nil {
		return nil, err
	}
	if n == nil || n.form != object {
		return nil, refuse("", "can write a struct, a map or an error, not %T; give a struct with it as a field", result)
	}
	whole := &node{form: object}
	whole.add("format", &node{text: strconv.Itoa(Format)})
	whole.add("what", word(what))
	for _, m := range n.members {
		if !whole.add(m.key, m.node) {
			return nil, refuse(m.key, "is a key of its own in every result; give the field another name")
		}
	}
	var out bytes.Buffer
	whole.print(&out, "")
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// deepest is how many values may stand in one another.
const deepest = 100

// encoder makes nodes of values.
type encoder struct {
	fields map[reflect.Type][]field
	within map[place]bool // around a value
}

// place is a pointer, list or map.
type place struct {
	at  uintptr
	len int
	t   reflect.Type
}

func newEncoder() *encoder {
	return &encoder{map[reflect.Type][]field{}, map[place]bool{}}
}

func (e *encoder) result(v reflect.Value) (*node, error) { return e.value(v, "", false, 0) }

// settle follows pointers and interfaces to a value that is written, and returns those that
// it passes. It is false for nil.
func settle(v reflect.Value) (at reflect.Value, passed []reflect.Value, ok bool) {
	for {
		switch v.Kind() {
		case reflect.Invalid:
			return v, nil, false
		case reflect.Interface, reflect.Pointer:
			if v.IsNil() {
				return v, nil, false
			}
			if own(v.Type()) || len(passed) > deepest {
				return v, passed, true
			}
			if v.Kind() == reflect.Pointer {
				passed = append(passed, v)
			}
			v = v.Elem()
		default:
			return v, passed, true
		}
	}
}

// value returns the node of a value, and nil for what has none. Bare tells that the key around
// it has its unit.
func (e *encoder) value(v reflect.Value, path string, bare bool, depth int) (*node, error) {
	v, passed, ok := settle(v)
	if !ok {
		return nil, nil
	}
	if depth > deepest {
		return nil, refuse(path, "stands in more than %d others", deepest)
	}
	for _, around := range append(passed, v) {
		here := place{t: around.Type()}
		switch around.Kind() {
		case reflect.Pointer, reflect.Map:
			here.at = around.Pointer()
		case reflect.Slice:
			here.at, here.len = around.Pointer(), around.Len()
		}
		if here.at == 0 || around.Kind() == reflect.Slice && here.len == 0 {
			continue
		}
		if e.within[here] {
			return nil, refuse(path, "holds itself")
		}
		e.within[here] = true
		defer delete(e.within, here)
	}
	if own(v.Type()) {
		return e.own(v, path, depth)
	}
	if number, symbol, ok := units.Written(v.Interface()); ok {
		return quantity(v, number, suffixes[symbol], path, bare)
	}
	switch v.Kind() {
	case reflect.Struct:
		n := &node{form: object}
		return n, e.structure(n, v, path, depth)
	case reflect.Slice, reflect.Array:
		return e.list(v, path, bare, depth)
	case reflect.Map:
		return e.mapping(v, path, bare, depth)
	case reflect.String:
		return word(v.String()), nil
	case reflect.Bool:
		return &node{text: strconv.FormatBool(v.Bool())}, nil
	case reflect.Float64, reflect.Float32:
		return number(v.Float(), v.Type().Bits()), nil
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		if name, ok := v.Interface().(fmt.Stringer); ok {
			return text(path, name.String)
		}
		return &node{text: strconv.FormatInt(v.Int(), 10)}, nil
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		if name, ok := v.Interface().(fmt.Stringer); ok {
			return text(path, name.String)
		}
		return &node{text: strconv.FormatUint(v.Uint(), 10)}, nil
	}
	return nil, refuse(path, "is a %v, which has no form in JSON", v.Type())
}

// quantity is the node of a quantity.
func quantity(v reflect.Value, x float64, suffix, path string, bare bool) (*node, error) {
	if math.IsInf(x, 0) && !math.IsInf(v.Float(), 0) {
		return nil, refuse(path, "is too large to write in its unit: %v in SI units", v.Float())
	}
	n := number(x, 64)
	if bare || n == nil {
		return n, nil
	}
	outer := &node{form: object}
	outer.add(key("value", suffix), n)
	return outer, nil
}

// structure adds the fields of a struct to a node.
func (e *encoder) structure(n *node, v reflect.Value, path string, depth int) error {
	fields, known := e.fields[v.Type()]
	if !known {
		var err error
		if fields, err = fieldsOf(v.Type()); err != nil {
			err.(*Error).Path = path
			return err
		}
		e.fields[v.Type()] = fields
	}
	for _, f := range fields {
		value, counts := f.counts(v)
		if !counts {
			continue
		}
		if err := e.member(n, f.stem, value, path, depth); err != nil {
			return err
		}
	}
	return nil
}

// member adds a value to a node under its key.
func (e *encoder) member(n *node, stem string, v reflect.Value, path string, depth int) error {
	settled, _, ok := settle(v)
	if !ok {
		return nil
	}
	unit := suffix(settled.Type())
	name := key(stem, unit)
	at := join(path, name)
	m, err := e.value(v, at, unit != "", depth+1)
	if err != nil || m == nil {
		return err
	}
	if !n.add(name, m) {
		return refuse(at, "is the key of two fields")
	}
	return nil
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// list is the node of a list, with null for what has none.
func (e *encoder) list(v reflect.Value, path string, bare bool, depth int) (*node, error) {
	n := &node{form: list}
	for i := range v.Len() {
		item, err := e.value(v.Index(i), fmt.Sprintf("%s[%d]", path, i), bare && v.Type().Elem().Kind() != reflect.Interface, depth+1)
		if err != nil {
			return nil, err
		}
		if item == nil {
			item = &node{text: "null"}
		}
		n.members = append(n.members, member{node: item})
	}
	return n, nil
}

// mapping is the node of a map.
func (e *encoder) mapping(v reflect.Value, path string, bare bool, depth int) (*node, error) {
	type entry struct {
		key   string
		value reflect.Value
	}
	var entries []entry
	for _, k := range v.MapKeys() {
		name, err := e.value(k, path, true, depth+1)
		if err != nil {
			return nil, err
		}
		if name == nil || name.form != scalar {
			return nil, refuse(path, "has a key of %v; it must be text or a number", k.Type())
		}
		text := name.text
		if name.isWord {
			text = name.word
		}
		entries = append(entries, entry{text, v.MapIndex(k)})
	}
	slices.SortFunc(entries, func(a, b entry) int { return strings.Compare(a.key, b.key) })
	n := &node{form: object}
	for i, one := range entries {
		at := join(path, one.key)
		if i > 0 && entries[i-1].key == one.key {
			return nil, refuse(at, "is the text of two keys")
		}
		item, err := e.value(one.value, at, bare, depth+1)
		if err != nil {
			return nil, err
		}
		if item != nil {
			n.add(one.key, item)
		}
	}
	return n, nil
}

// own is the node of a value that its methods write.
func (e *encoder) own(v reflect.Value, path string, depth int) (*node, error) {
	all := v
	if v.Kind() != reflect.Pointer { // methods can be those of a pointer
		all = reflect.New(v.Type())
		all.Elem().Set(v)
	}
	for _, from := range []reflect.Value{v, all} {
		switch of := from.Interface().(type) {
		case interface{ PlainJSON() any }:
			var form any
			if err := guard(path, func() error { form = of.PlainJSON(); return nil }); err != nil {
				return nil, err
			}
			return e.value(reflect.ValueOf(form), path, false, depth+1)
		case error:
			return e.failure(of, path, depth)
		case encoding.TextMarshaler:
			var text []byte
			err := guard(path, func() (err error) { text, err = of.MarshalText(); return err })
			if err != nil {
				return nil, err
			}
			return word(string(text)), nil
		}
	}
	return nil, refuse(path, "is a %v, which has no form in JSON", v.Type())
}

// failure is the node of an error.
func (e *encoder) failure(err error, path string, depth int) (*node, error) {
	v := reflect.ValueOf(err)
	says, failed := text(path, err.Error)
	if failed != nil {
		return nil, failed
	}
	n := &node{form: object}
	n.add("kind", word(kind(v.Type())))
	n.add("text", says)
	if v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	if kind(v.Type()) != anyError && v.Kind() == reflect.Struct {
		fields, err := fieldsOf(v.Type())
		if err != nil {
			err.(*Error).Path = path
			return nil, err
		}
		for _, f := range fields {
			value, counts := f.counts(v)
			if !counts {
				continue
			}
			switch f.stem {
			case "err":
				f.stem = "cause"
			case "kind", "text":
				f.stem += "_field" // what every error has stands there
			}
			if err := e.member(n, f.stem, value, path, depth); err != nil {
				return nil, err
			}
		}
		return n, nil
	}
	var causes []error
	switch of := err.(type) {
	case interface{ Unwrap() error }:
		if cause := errors.Unwrap(err); cause != nil {
			return n, e.member(n, "cause", reflect.ValueOf(cause), path, depth)
		}
	case interface{ Unwrap() []error }:
		causes = of.Unwrap()
	}
	if causes != nil {
		return n, e.member(n, "causes", reflect.ValueOf(causes), path, depth)
	}
	return n, nil
}

const anyError = "error"

// kind returns the words for a type of error: "setup target error". Of one that is not
// exported it is "error".
func kind(t reflect.Type) string {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if !token.IsExported(t.Name()) || t.PkgPath() == "" {
		return anyError
	}
	return t.PkgPath()[strings.LastIndex(t.PkgPath(), "/")+1:] + " " + strings.Join(wordsOf(t.Name()), " ")
}

// text is the node of what a method says.
func text(path string, say func() string) (*node, error) {
	var text string
	err := guard(path, func() error { text = say(); return nil })
	return word(text), err
}

// guard calls a method of a type that is not ours, which can fail in any way.
func guard(path string, call func() error) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = refuse(path, "cannot be written: a method of it panics: %v", fault)
		}
	}()
	if failed := call(); failed != nil {
		return &Error{path, "cannot be written: " + failed.Error(), failed}
	}
	return nil
}

// number is the node of a number, and nil for one that is not finite.
func number(x float64, bits int) *node {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	format := byte('f')
	if size := math.Abs(x); size != 0 && (size < 1e-6 || size >= 1e21) {
		format = 'e'
	}
	return &node{text: strconv.FormatFloat(x+0, format, -1, bits)} // + 0 takes the sign off -0
}

// word is the node of a text.
func word(text string) *node {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	_ = e.Encode(text) // a string has a form, and a buffer takes it
	return &node{text: strings.TrimSuffix(out.String(), "\n"), word: text, isWord: true}
}
