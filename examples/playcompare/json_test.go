package main

import (
	"testing"

	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show/showtest"
)

func TestJSON(t *testing.T) {
	showtest.Main(run).JSONOfEach(t, results.PlayCompared, "-a", showtest.Machines)
}
