package machine_test

import (
	"bytes"
	"errors"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
)

// A file without a format is told what to add, and one of another format what it is; of what
// a later format has besides, nothing is said.
func TestFormat(t *testing.T) {
	const ours = `"format": 1,`
	full := rigtest.Full(t)
	if !bytes.Contains(full, []byte(ours)) {
		t.Fatal("no format in the file")
	}
	for text, want := range map[string]string{
		"":                              `machine file, line 1: format: is missing; add "format": 1, as the first line after {`,
		`"format": 2, "wings": [],`:     "machine file, line 2: format: must be 1, the newest that this program knows, not 2; use a newer program for this file",
		`"wings": [], "format": 12345,`: "machine file, line 2: format: must be 1, the newest that this program knows, not 12345; use a newer program for this file",
		`"format": 0,`:                  "machine file, line 2: format: must be 1, not 0",
		`"format": -1,`:                 "machine file, line 2: format: must be 1, not -1",
		`"format": 0.5,`:                "machine file, line 2: format: must be 1, not 0.5",
		`"format": "1",`:                "machine file, line 2: format: must be 1, not text",
		`"format": null,`:               "machine file, line 2: format: must be 1, not null",
	} {
		_, err := machine.Parse(bytes.Replace(full, []byte(ours), []byte(text), 1))
		if field := (*machine.FieldError)(nil); !errors.As(err, &field) || field.Path != "format" || err.Error() != want {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
	m := rigtest.Parse(t, full)
	m.DropLines()
	for format, want := range map[int]string{
		0: "machine file: format: must be 1: set Format to machine.Format",
		2: "machine file: format: must be 1, the newest that this program knows, not 2; use a newer program for this file",
	} {
		m.Format = format
		if err := m.Validate(); err == nil || err.Error() != want {
			t.Errorf("format %d: %v, want %s", format, err, want)
		}
	}
}
