package show

import (
	"fmt"
	"strings"

	"example.org/levelhead/pitch/setup"
)

// Mode returns the flight mode of a name. The error names those that there are.
func Mode(rig *setup.Rig, name string) (setup.Setup, error) {
	var names []string
	for _, m := range rig.Modes() {
		if m.Name() == name {
			return m, nil
		}
		names = append(names, fmt.Sprintf("%q", m.Name()))
	}
	return setup.Setup{}, fmt.Errorf("there is no flight mode %q; the machine has %s", name, strings.Join(names, ", "))
}
