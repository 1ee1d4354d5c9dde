package setup

import (
	"fmt"
	"strings"
)

// fail reports a fault in the field at path.
func (m *Machine) fail(path, format string, args ...any) error {
	return &FieldError{Path: path, Line: m.line(path), Reason: fmt.Sprintf(format, args...)}
}

// blame reports err as a fault in the field at path.
func (m *Machine) blame(path string, err error) error {
	return &FieldError{Path: path, Line: m.line(path), Reason: plain(err), Err: err}
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
