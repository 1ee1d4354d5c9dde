package main

import (
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
)

func TestFiles(t *testing.T) {
	showtest.Main(run).Files(t, []string{"-a", showtest.File(t, demo.Direct), "-b", showtest.File(t, demo.BellCranks)}, []string{"-svg"})
}
