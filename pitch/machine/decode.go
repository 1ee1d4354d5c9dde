package machine

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"unicode/utf8"

	"example.org/levelhead/pitch/internal/fieldpath"
	"example.org/levelhead/pitch/internal/words"
)

// maxDepth bounds the nesting of a machine file: it needs no more than seven.
const maxDepth = 32

// node is a JSON value that remembers its line.
type node struct {
	line    int
	value   any // string, json.Number, bool or nil; unset for the other two
	members []member
	items   []*node
	kind    json.Delim // '{', '[' or 0
}

type member struct {
	name string
	node *node
}

func (n *node) String() string {
	switch v := n.value.(type) {
	case string:
		return "text"
	case json.Number:
		return "a number"
	case bool:
		return "true or false"
	case nil:
		if n.kind == '{' {
			return "an object"
		}
		if n.kind == '[' {
			return "a list"
		}
		return "null"
	default:
		return fmt.Sprint(v)
	}
}

// reader builds nodes from JSON text.
type reader struct {
	data    []byte
	decoder *json.Decoder
	offset  int // up to where lines have been counted
	line    int
}

func readTree(data []byte) (*node, error) {
	if len(data) > MaxFile {
		err := &CountError{Of: "bytes", Count: len(data), Most: MaxFile}
		return nil, &FieldError{Reason: err.Error(), Err: err}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // the byte order mark of some editors
	if text := bytes.TrimLeft(data, " \t\r\n"); len(text) == 0 {
		return nil, &FieldError{Reason: "the file is empty; copy an example file"}
	} else if text[0] != '{' {
		line := 1 + bytes.Count(data[:len(data)-len(text)], []byte("\n"))
		return nil, &FieldError{Reason: fmt.Sprintf("the file must begin with {; line %d has none", line), Line: line}
	}
	r := &reader{data: data, decoder: json.NewDecoder(bytes.NewReader(data)), line: 1}
	r.decoder.UseNumber()
	n, err := r.node(0)
	if err != nil {
		return nil, err
	}
	if _, err := r.decoder.Token(); !errors.Is(err, io.EOF) {
		return nil, r.fail("there is more text after the machine; remove it")
	}
	return n, nil
}

// here returns the line that the decoder has reached.
func (r *reader) here() int {
	to := min(int(r.decoder.InputOffset()), len(r.data))
	r.line += bytes.Count(r.data[r.offset:to], []byte("\n"))
	r.offset = to
	return r.line
}

func (r *reader) fail(reason string) error {
	return &FieldError{Line: r.here(), Reason: reason}
}

// bound refuses a longer text than a machine file needs, before anything is done with it.
func (r *reader) bound(text string, most int, of string) error {
	if n := utf8.RuneCountInString(text); n > most {
		err := &CountError{Of: of, Count: n, Most: most}
		return &FieldError{Line: r.here(), Reason: err.Error(), Err: err}
	}
	return nil
}

func (r *reader) token() (json.Token, error) {
	t, err := r.decoder.Token()
	if err == nil {
		return t, nil
	}
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, r.fail("the text ends too early; close every bracket and quote")
	}
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		line := 1 + bytes.Count(r.data[:min(int(syntax.Offset), len(r.data))], []byte("\n"))
		return nil, &FieldError{Line: line, Reason: "not JSON: " + syntax.Error(), Err: err}
	}
	return nil, &FieldError{Line: r.here(), Reason: "not JSON: " + err.Error(), Err: err}
}

func (r *reader) node(depth int) (*node, error) {
	if depth > maxDepth {
		return nil, r.fail(fmt.Sprintf("brackets are nested deeper than %d levels; a machine needs seven", maxDepth))
	}
	t, err := r.token()
	if err != nil {
		return nil, err
	}
	n := &node{line: r.here()}
	delim, ok := t.(json.Delim)
	if !ok {
		n.value = t
		switch v := t.(type) {
		case string:
			err = r.bound(v, MaxText, "characters in a text")
		case json.Number:
			err = r.bound(v.String(), MaxText, "characters in a number")
		}
		return n, err
	}
	n.kind = delim
	taken := map[string]bool{} // names of members
	for r.decoder.More() {
		var name string
		if delim == '{' {
			t, err := r.token()
			if err != nil {
				return nil, err
			}
			name, _ = t.(string)
			if err := r.bound(name, MaxName, "characters in a field's name"); err != nil {
				return nil, err
			}
			if taken[name] {
				return nil, r.fail(fmt.Sprintf("field %q is given twice; remove one", name))
			}
			taken[name] = true
		}
		child, err := r.node(depth + 1)
		if err != nil {
			return nil, err
		}
		if delim == '{' {
			n.members = append(n.members, member{name, child})
		} else {
			n.items = append(n.items, child)
		}
	}
	_, err = r.token() // the closing bracket
	return n, err
}

// binder fills Go values from nodes, strictly: every field must be there, and
// no other, unless its tag says omitempty. It notes the line of each path.
type binder struct {
	lines map[string]int
}

func (b *binder) fail(path string, n *node, format string, args ...any) error {
	return &FieldError{Path: path, Line: n.line, Reason: fmt.Sprintf(format, args...)}
}

func (b *binder) bind(n *node, to reflect.Value, path string) error {
	b.lines[path] = n.line
	if to.Kind() == reflect.Pointer {
		to.Set(reflect.New(to.Type().Elem()))
		if d, ok := to.Interface().(interface{ setDefaults() }); ok {
			d.setDefaults()
		}
		return b.bind(n, to.Elem(), path)
	}
	if text, ok := to.Addr().Interface().(encoding.TextUnmarshaler); ok {
		s, ok := n.value.(string)
		if !ok {
			return b.fail(path, n, "must be text in quotes, not %v", n)
		}
		if err := text.UnmarshalText([]byte(s)); err != nil {
			return &FieldError{Path: path, Line: n.line, Reason: words.Reason(err), Err: err}
		}
		return nil
	}
	switch to.Kind() {
	case reflect.String:
		s, ok := n.value.(string)
		if !ok {
			return b.fail(path, n, "must be text in quotes, not %v", n)
		}
		to.SetString(s)
	case reflect.Bool:
		v, ok := n.value.(bool)
		if !ok {
			return b.fail(path, n, "must be true or false, without quotes, not %v", n)
		}
		to.SetBool(v)
	case reflect.Int:
		number, _ := n.value.(json.Number)
		v, err := number.Int64()
		if err != nil || int64(int(v)) != v {
			return b.fail(path, n, "must be a whole number without quotes, not %v", numberOr(n))
		}
		to.SetInt(v)
	case reflect.Float64:
		number, _ := n.value.(json.Number)
		v, err := number.Float64()
		if err != nil {
			return b.fail(path, n, "must be a number without quotes, not %v", n)
		}
		to.SetFloat(v)
	case reflect.Slice, reflect.Array:
		return b.bindList(n, to, path)
	case reflect.Map:
		return b.bindMap(n, to, path)
	case reflect.Struct:
		return b.bindStruct(n, to, path)
	default:
		return b.fail(path, n, "cannot hold %v", to.Type())
	}
	return nil
}

// numberOr says a number itself, and of anything else what it is.
func numberOr(n *node) string {
	if number, ok := n.value.(json.Number); ok {
		return number.String()
	}
	return n.String()
}

func (b *binder) bindList(n *node, to reflect.Value, path string) error {
	if n.kind != '[' {
		return b.fail(path, n, "must be a list in [ ], not %v", n)
	}
	if to.Kind() == reflect.Slice {
		to.Set(reflect.MakeSlice(to.Type(), len(n.items), len(n.items)))
	} else if len(n.items) != to.Len() {
		return b.fail(path, n, "must have %d values, not %d", to.Len(), len(n.items))
	}
	for i, item := range n.items {
		if err := b.bind(item, to.Index(i), fmt.Sprintf("%s[%d]", path, i)); err != nil {
			return err
		}
	}
	return nil
}

func (b *binder) bindMap(n *node, to reflect.Value, path string) error {
	if n.kind != '{' {
		return b.fail(path, n, "must be an object in { }, not %v", n)
	}
	to.Set(reflect.MakeMap(to.Type()))
	for _, m := range n.members {
		value := reflect.New(to.Type().Elem()).Elem()
		if err := b.bind(m.node, value, fieldpath.Join(path, m.name)); err != nil {
			return err
		}
		to.SetMapIndex(reflect.ValueOf(m.name), value)
	}
	return nil
}

func (b *binder) bindStruct(n *node, to reflect.Value, path string) error {
	if n.kind != '{' {
		return b.fail(path, n, "must be an object in { }, not %v", n)
	}
	var names []string
	wanted := map[string]reflect.Value{}
	optional := map[string]bool{}
	for i := range to.NumField() {
		name, options, _ := strings.Cut(to.Type().Field(i).Tag.Get("json"), ",")
		if name == "" || name == "-" {
			continue
		}
		names = append(names, name)
		wanted[name] = to.Field(i)
		optional[name] = options == "omitempty"
	}
	for _, m := range n.members {
		field, ok := wanted[m.name]
		if !ok {
			return b.fail(fieldpath.Join(path, m.name), m.node, "unknown field; the fields here are %s", strings.Join(names, ", "))
		}
		if err := b.bind(m.node, field, fieldpath.Join(path, m.name)); err != nil {
			return err
		}
		delete(wanted, m.name)
	}
	for _, name := range names {
		if _, missing := wanted[name]; missing && !optional[name] {
			return b.fail(fieldpath.Join(path, name), n, "missing field; add it to the object that begins on this line")
		}
	}
	return nil
}
