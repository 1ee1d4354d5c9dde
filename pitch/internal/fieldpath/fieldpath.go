// Package fieldpath makes the paths of a machine file's fields.
package fieldpath

import (
	"fmt"
)

// Leg returns the path of leg i.
func Leg(i int) string { return fmt.Sprintf("plate.legs[%d]", i) }

// Mode returns the path of mode i.
func Mode(i int) string { return fmt.Sprintf("modes[%d]", i) }

func Join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}
