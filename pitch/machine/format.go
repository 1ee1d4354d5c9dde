package machine

import (
	"encoding/json"
	"fmt"
	"strconv"
)

// Format is the number of the form of machine files that this package reads, under their key
// "format". It changes when a file of the form before would be refused, or would mean something
// else.
const Format = 1

// addFormat is what to do about a file without a format.
var addFormat = fmt.Sprintf(`is missing; add "format": %d, as the first line after {`, Format)

// checkFormat refuses a file of another format, before anything else in it is looked at: its
// fields can be others.
func (n *node) checkFormat() error {
	for _, m := range n.members {
		if m.name != "format" {
			continue
		}
		number, ok := m.node.value.(json.Number)
		if ok && number.String() == strconv.Itoa(Format) {
			return nil
		}
		return &FieldError{Path: "format", Line: m.node.line, Reason: otherFormat(numberOr(m.node), newer(number))}
	}
	return &FieldError{Path: "format", Line: n.line, Reason: addFormat}
}

// newer reports whether a number is that of a format after ours.
func newer(number json.Number) bool {
	format, err := number.Float64()
	return err == nil && format > Format
}

func otherFormat(format string, newer bool) string {
	if newer {
		return fmt.Sprintf("must be %d, the newest that this program knows, not %s; use a newer program for this file", Format, format)
	}
	return fmt.Sprintf("must be %d, not %s", Format, format)
}

// checkFormat refuses a machine of another format.
func (m *Machine) checkFormat() error {
	switch m.Format {
	case Format:
		return nil
	case 0:
		return m.fail("format", "must be %d: set Format to machine.Format", Format)
	}
	return m.fail("format", "%s", otherFormat(strconv.Itoa(m.Format), m.Format > Format))
}
