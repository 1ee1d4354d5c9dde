package show

import (
	"fmt"
	"strings"

	"example.org/levelhead/pitch/setup"
)

// Mode returns the flight mode of a name. The error names those that there are.
func Mode(rig *setup.Rig, name string) (*setup.RigMode, error) {
	var names []string
	for i := range rig.Modes {
		m := &rig.Modes[i]
		if m.Mode.Name == name {
			return m, nil
		}
		names = append(names, fmt.Sprintf("%q", m.Mode.Name))
	}
	return nil, fmt.Errorf("there is no flight mode %q; the machine has %s", name, strings.Join(names, ", "))
}
