package main

import (
	"bytes"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/machine"
)

// save writes a machine file.
func save(path string, m *machine.Machine) error {
	var out bytes.Buffer
	if err := show.JSON(&out, m); err != nil {
		return err
	}
	return files.Write(path, out.Bytes())
}
