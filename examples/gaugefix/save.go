package main

import (
	"bytes"
	"encoding/json"
	"os"

	"example.org/levelhead/pitch/setup"
)

// save writes a machine file.
func save(path string, m *setup.Machine) error {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(m); err != nil {
		return err
	}
	return os.WriteFile(path, out.Bytes(), 0o644)
}
