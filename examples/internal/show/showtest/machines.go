package showtest

import (
	"os"
	"regexp"
	"strings"
	"testing"
)

// Machines are the names of the demonstration's files; those of Loaded give a rotor.
var (
	Machines = []string{"direct", "bellcranks", "flybar", "fourservos", "spatial"}
	Loaded   = []string{"direct", "flybar"}
)

var nameField = regexp.MustCompile(`("name": "[^"]*)"`)

// PictureOfEach draws the picture of each machine, and of the first one again with names that
// are too long for one line of a key or a title, of many words and of one.
func (run Main) PictureOfEach(t *testing.T, machines []string, args ...string) {
	t.Helper()
	for i, name := range machines {
		data, err := os.ReadFile("../demo/testdata/" + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		names := []string{"", strings.Repeat(" and more", 12), strings.Repeat("w", 100)}
		if i > 0 {
			names = names[:1]
		}
		for _, longer := range names {
			file := File(t, nameField.ReplaceAll(data, []byte(`${1}`+longer+`"`)))
			run.Picture(t, append([]string{"-machine", file}, args...)...)
		}
	}
}
