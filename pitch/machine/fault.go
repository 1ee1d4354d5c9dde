package machine

import (
	"fmt"
	"strings"
)

// Fault reports what is wrong with the field at a path, such as
// "plate.legs[1].servo.sub_trim", with the field's line where the machine came from a file.
// The cause may be nil.
func (m *Machine) Fault(path, reason string, cause error) *FieldError {
	return &FieldError{Path: path, Line: m.line(path), Reason: reason, Err: cause}
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

// fail reports a fault in the field at path.
func (m *Machine) fail(path, format string, args ...any) error {
	return m.Fault(path, fmt.Sprintf(format, args...), nil)
}

// DropLines makes m one that did not come from a file: its errors name no lines.
func (m *Machine) DropLines() { m.lines = nil }
