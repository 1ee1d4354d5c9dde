package main

import (
	"encoding/json"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show/showtest"
)

func TestJSON(t *testing.T) {
	command.JSONOfEach(t, results.BenchSheet, "-machine", showtest.Machines)
}

// Where the machine cannot get, no zero stands for a figure.
func TestJSONOutOfReach(t *testing.T) {
	file := showtest.File(t, demo.Direct, `"horn_radius": "20 mm"`, `"horn_radius": "5 mm"`,
		`{"collective": "47 %", "right": "62 %", "forward": "56 %"}`, `{"collective": "100 %", "right": "130 %", "forward": "80 %"}`,
		`[["0 %", "-30 %"], ["50 %", "49.5 %"], ["100 %", "94 %"]]`, `[["0 %", "-100 %"], ["50 %", "0 %"], ["100 %", "100 %"]]`)
	sheet := command.JSON(t, results.BenchSheet, "-machine", file, "-mode", "hover")
	modes, _ := sheet["modes"].([]any)
	if len(modes) != 1 {
		t.Fatalf("%d modes, want hover alone", len(modes))
	}
	text, err := json.Marshal(modes[0])
	if err != nil {
		t.Fatal(err)
	}
	showtest.InOrder(t, string(text), `"cyclic":[{"stick":"right","unreachable":"the pitch link`, `"demand_percent":-100,"stick_percent":0,"throttle_percent":0,"unreachable":"the pitch link`)
}

// The curves of all modes stand in one picture.
func TestPicture(t *testing.T) {
	showtest.InOrder(t, command.Picture(t), "<svg", "What the pitch gauge should read", "Collective alone must not tilt", "What the throttle does")
	command.PictureOfEach(t, showtest.Machines)
}
