package setup

import (
	"fmt"

	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/machine"
)

// fail reports a fault in the field at path.
func fail(m *machine.Machine, path, format string, args ...any) error {
	return m.Fault(path, fmt.Sprintf(format, args...), nil)
}

// blame reports err as a fault in the field at path.
func blame(m *machine.Machine, path string, err error) error {
	return m.Fault(path, words.Plain(err), err)
}

// blameField is blame where path is the very field that err speaks of: its own name for the
// field is left out.
func blameField(m *machine.Machine, path string, err error) error {
	return m.Fault(path, words.Reason(err), err)
}
