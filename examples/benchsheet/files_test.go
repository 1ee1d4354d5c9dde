package main

import (
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/examples/internal/show/showtest"
)

func TestFiles(t *testing.T) {
	var command showtest.Main = run
	command.Files(t, []string{"-machine", showtest.File(t, demo.Direct)}, []string{"-html"})
	if first, again := sheet(t, "-json"), sheet(t, "-json"); again != first {
		t.Error("another JSON when it is run again")
	}
}

// The pictures of the page are the same whenever they are drawn.
func TestPlanIsTheSame(t *testing.T) {
	rig, err := show.Rig("", demo.Direct)
	if err != nil {
		t.Fatal(err)
	}
	draw := func() string {
		svg, err := show.SVG(340, 290, "the plate from above", &plan{rig})
		if err != nil {
			t.Fatal(err)
		}
		return svg
	}
	first := draw()
	for range 20 { // what is drawn in a random order can be in the same one twice
		if draw() != first {
			t.Fatal("another picture when it is drawn again")
		}
	}
}
