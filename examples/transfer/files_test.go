package main

import (
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
)

func TestFiles(t *testing.T) {
	command.Files(t, []string{"-machine", showtest.File(t, demo.Direct), "-with", showtest.File(t, demo.BellCranks)}, []string{"-svg"})
	command.Twice(t)
}
