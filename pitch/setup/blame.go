package setup

import (
	"errors"
	"fmt"
	"strings"

	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
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

// reason returns what an error says of a field, without the field's name.
func reason(err error) string {
	var (
		link  *linkage.SpecError
		plate *swash.SpecError
		grip  *pitch.SpecError
		field *servo.FieldError
	)
	switch {
	case errors.As(err, &link):
		return link.Reason
	case errors.As(err, &field):
		return field.Reason
	case errors.As(err, &plate):
		return plate.Reason
	case errors.As(err, &grip):
		return grip.Reason
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
