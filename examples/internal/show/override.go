package show

import (
	"encoding"
	"flag"
	"fmt"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
)

// Changed is Rig with a change to what the file gives, such as by flags. An error of
// change is returned as it is.
func Changed(path string, data []byte, change func(*machine.Machine) error) (*setup.Rig, error) {
	rig, err := Rig(path, data)
	if err != nil {
		return nil, err
	}
	m := rig.Machine()
	if err := change(m); err != nil {
		return nil, err
	}
	if rig, err = setup.Build(m); err != nil {
		return nil, fmt.Errorf("with the flags' values in it, %w", err)
	}
	return rig, nil
}

// Optional defines a flag for a quantity with its unit, such as "1900 rpm". Where it is
// not given, *to stays nil.
func Optional[T any, P interface {
	*T
	encoding.TextUnmarshaler
}](flags *flag.FlagSet, to **T, name, usage string) {
	flags.Func(name, usage, func(text string) error {
		value := P(new(T))
		*to = value
		return value.UnmarshalText([]byte(text))
	})
}
