package setup

import (
	"errors"
	"fmt"
	"strings"

	"example.org/levelhead/units"
)

// fail reports a fault in the field at path.
func (m *Machine) fail(path, format string, args ...any) error {
	return &FieldError{Path: path, Line: m.line(path), Reason: fmt.Sprintf(format, args...)}
}

// blame reports err as a fault in the field at path.
func (m *Machine) blame(path string, err error) error {
	return &FieldError{Path: path, Line: m.line(path), Reason: plain(err), Err: err}
}

// blameField is blame where path is the very field that err speaks of: its own name for the
// field is left out.
func (m *Machine) blameField(path string, err error) error {
	return &FieldError{Path: path, Line: m.line(path), Reason: reason(err), Err: err}
}

// fieldOf returns the name that names have for the Go field that err speaks of, with indices
// from 0, and whether it is that of the field itself. It is "" where there is none.
func fieldOf(names units.FieldNames, err error) (name string, itself bool) {
	var field *units.FieldError
	if !errors.As(err, &field) {
		return "", false
	}
	name, inside := names.Of(field.Field, 0)
	return name, inside == ""
}

// reason returns what an error says of a field, without the field's name.
func reason(err error) string {
	if field := (*units.FieldError)(nil); errors.As(err, &field) {
		return field.Reason
	}
	return plain(err)
}

// line returns the line of a field, or of the nearest that holds it.
func (m *Machine) line(path string) int {
	for {
		if line, ok := m.lines[path]; ok || path == "" {
			return line
		}
		path = path[:max(strings.LastIndexAny(path, ".["), 0)]
	}
}

// plain returns an error's words without the names of our packages.
func plain(err error) string {
	var words []string
	for _, word := range strings.Split(err.Error(), ": ") {
		switch word {
		case "swash", "pitch", "rotor", "servo", "linkage", "curve", "units":
		default:
			words = append(words, word)
		}
	}
	return strings.Join(words, ": ")
}
