package main

import (
	"bytes"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/examples/internal/show/showtest"
)

func TestFiles(t *testing.T) {
	command.Files(t, []string{"-machine", showtest.File(t, demo.Direct)}, []string{"-html", "-svg"})
	var first, again, errs bytes.Buffer
	if run([]string{"-json"}, &first, &errs) != 0 || run([]string{"-json"}, &again, &errs) != 0 || first.String() != again.String() {
		t.Errorf("another JSON when it is run again: %s", &errs)
	}
}

// The pictures of the page are the same whenever they are drawn.
func TestPlanIsTheSame(t *testing.T) {
	rig, err := show.Rig("", demo.Direct)
	if err != nil {
		t.Fatal(err)
	}
	draw := func() string {
		svg, err := show.SVG(340, 290, nil, "the plate from above", &plan{rig})
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
