package main

import (
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
)

var command showtest.Main = run

const (
	spatial   = "../demo/testdata/spatial.json"
	paddlebar = "../demo/testdata/paddlebar.json"
)

// Two modes of the demonstration machine, and one of them on bell cranks.
func TestText(t *testing.T) {
	out := command.Words(t)
	showtest.InOrder(t, out, "CAUTION", "blades off", "rotor disc", "1: flight mode aerobatic on Wagtail 50,", "2: flight mode hover on Wagtail 50,", "Invented for demonstration",
		"2 less 1", "100 % +9.01° +9.71° +0.69°", "differs most at stick 96 %, by +0.70°", "tells them apart", "at stick 50 % in 1",
		"right 5.98° 8.86° +2.88° +79.99°", "On Wagtail 50 B", "STOP: Live throttle at low stick", "FIX: The throttle curve is another drive's", "Enter rates: collective 32 %, right 45 %",
		"Throttle, as 1 has it: monotone curve 92 % at stick 0 %", "hold 0 %.", "0 % -98.5 % -8.99° -9.00° +0.01°", "furthest off at stick 18 %, by +0.06°", "What full cyclic then adds", "Read the gauge")
	if n := strings.Count(out, "Invented for demonstration"); n != 1 {
		t.Errorf("what is invented is said %d times", n)
	}
}

// One machine file alone has two of its modes compared, and nothing is carried over.
func TestOneMachine(t *testing.T) {
	path := showtest.File(t, demo.Direct)
	out := command.Words(t, "-machine", path, "-mode", "hover")
	showtest.InOrder(t, out, "1: flight mode hover", "2: flight mode aerobatic", "-0.69°")
	if strings.Contains(out, "Enter") {
		t.Errorf("there is nothing to carry it over to:\n%s", out)
	}
	alike := command.Words(t, "-machine", path, "-mode", "hover", "-with-mode", "hover")
	showtest.InOrder(t, alike, "by 0.00°", "does not tell them apart")
}

// Two machine files are compared by the modes of one name, and the first is carried over
// to the second.
func TestTwoMachines(t *testing.T) {
	out := command.Words(t, "-machine", paddlebar, "-with", spatial, "-mode", "hover")
	showtest.InOrder(t, out, "1: flight mode hover on Wagtail 50 P", "2: flight mode hover on Wagtail 50 S", "0.07° to 180°", "beyond the gauge's scale", "On Wagtail 50 S", "Clipped corners", "Enter rates")
	out = command.Words(t, "-machine", paddlebar, "-with", spatial, "-mode", "glide, throttle held")
	showtest.InOrder(t, out, "2: flight mode", "hold 0 %, on in this mode")
	out = command.Words(t, "-with", paddlebar, "-with-mode", "hover", "-mode", "aerobatic")
	showtest.InOrder(t, out, "1: flight mode aerobatic on Wagtail 50,", "2: flight mode hover on Wagtail 50 P")
}

// A ring of another phase turns cyclic, a rotor that turns the other way is said to, and
// more points bring the two together.
func TestOtherHead(t *testing.T) {
	path := showtest.File(t, demo.BellCranks, `"phase": "80°"`, `"phase": "40°"`, `"turn": "clockwise"`, `"turn": "counter-clockwise"`, `"step": "0.5°"`, `"step": "0.02°"`)
	showtest.InOrder(t, command.Words(t, "-with", path), "Rotor 1 turns clockwise, rotor 2 counter-clockwise", "STOP: Cyclic acts in another direction", "NOTE: The rotors turn opposite ways",
		"Blade pitch differs between the points", "With -points 4", "change apart", "-120.01° 10.37°")
	if out := command.Words(t, "-with", path, "-points", "4"); strings.Contains(out, "With -points") {
		t.Errorf("with the points that are enough:\n%s", out)
	}
}

// What the other machine cannot do is said in place of what to enter.
func TestOutOfReach(t *testing.T) {
	path := showtest.File(t, demo.BellCranks, `"920 µs"`, `"1420 µs"`, `"2120 µs"`, `"1620 µs"`)
	out := command.Words(t, "-with", path)
	showtest.InOrder(t, out, "2: flight mode hover", "2 clips servo collective", "What full cyclic adds", "2 clips servo", "STOP: It cannot, and there is nothing to enter", "out of reach by")
	if strings.Contains(out, "Enter rates") {
		t.Errorf("there is nothing to enter:\n%s", out)
	}
	if svg := command.Picture(t, "-with", path); strings.Contains(svg, "carried over") {
		t.Error("there is nothing to draw")
	}
}

func TestLongNames(t *testing.T) {
	long := strings.Repeat("x", 120)
	command.Text(t, "-machine", showtest.File(t, demo.Direct, "aerobatic", long, "Wagtail 50, a", long), "-with", spatial)
}

func TestPicture(t *testing.T) {
	showtest.InOrder(t, command.Picture(t), "<svg", "Blade pitch", "1: aerobatic", "2: hover", "How far 2 is from 1", "How far 1 carried over", "half a gauge step")
}

func TestErrors(t *testing.T) {
	for _, tt := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"-machine", "no such file.json"}, 1, "no such file.json"},
		{[]string{"-with", showtest.File(t, []byte("{"))}, 1, "machine.json"},
		{[]string{"-mode", "cruise"}, 1, `no flight mode "cruise"; the machine has "hover"`},
		{[]string{"-with-mode", "cruise"}, 1, `no flight mode "cruise"`},
		{[]string{"-points", "many"}, 2, "-points"},
		{[]string{"machine.json"}, 2, "-with"},
	} {
		command.Fails(t, tt.status, tt.says, tt.args...)
	}
}
