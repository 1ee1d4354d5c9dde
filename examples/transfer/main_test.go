package main

import (
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/units"
)

var command showtest.Main = run

const (
	spatial = "../demo/testdata/spatial.json"
	flybar  = "../demo/testdata/flybar.json"
)

// Two modes of the demonstration machine, and one of them on bell cranks.
func TestText(t *testing.T) {
	out := command.Words(t)
	showtest.InOrder(t, out, "CAUTION: Take the main blades off", "blades on only for readings", "rotor disc", `Setup 1: flight mode "aerobatic" on Whinchat,`, `Setup 2: flight mode "hover" on Whinchat,`, "Other machine: Turnstone", "Invented for demonstration",
		"pitch 2 change", "100 % +10.98° +9.55° -1.43°", "differs most at stick 0 %, by +8.00°", "shows the difference", "on setup 1 at stick 50 %",
		"right 8.49° 7.01° -1.48° +79.89°", "Enter this on Turnstone", "STOP: Live throttle at low stick", "FIX: The throttle curve comes from another machine", "Enter these rates: collective 52 %, right cyclic 71.5 %",
		"Keep the throttle of setup 1: a curve (smooth, without overshoot) with 82 % at stick 0 %", "hold 0 %.", "0 % -96.5 % -11.02° -11.02° -0.01°", "largest error over the whole stick", "What full cyclic then adds", "read the gauge")
	if n := strings.Count(out, "Invented for demonstration"); n != 1 {
		t.Errorf("what is invented is said %d times", n)
	}
}

// One machine file alone has two of its modes compared, and nothing is transferred.
func TestOneMachine(t *testing.T) {
	path := showtest.File(t, demo.Direct)
	out := command.Words(t, "-machine", path, "-mode", "hover")
	showtest.InOrder(t, out, `Setup 1: flight mode "hover"`, `Setup 2: flight mode "aerobatic"`, "+1.43°")
	if strings.Contains(out, "Enter") {
		t.Errorf("there is nothing to transfer it to:\n%s", out)
	}
	alike := command.Words(t, "-machine", path, "-mode", "hover", "-with-mode", "hover")
	showtest.InOrder(t, alike, "by 0.00°", "does not show the difference")
}

// Two machine files are compared by the modes of one name, and the first is transferred
// to the second.
func TestTwoMachines(t *testing.T) {
	out := command.Words(t, "-machine", flybar, "-with", spatial, "-mode", "hover")
	showtest.InOrder(t, out, `Setup 1: flight mode "hover" on Dabchick`, `Setup 2: flight mode "hover" on Dunlin`, "low side 2", "0 % level - 0.04° 180°", "on Dunlin", "Enter these rates")
	out = command.Words(t, "-machine", flybar, "-with", spatial, "-mode", "glide, throttle held")
	showtest.InOrder(t, out, "Setup 2: flight mode", "hold 0 %, on in this mode")
	out = command.Words(t, "-with", flybar, "-with-mode", "hover", "-mode", "aerobatic")
	showtest.InOrder(t, out, `Setup 1: flight mode "aerobatic" on Whinchat,`, `Setup 2: flight mode "hover" on Dabchick`, "FIX: The throttle curve comes from another machine", "before anybody starts the engine.")
}

// A ring of another phase turns cyclic, a rotor that turns the other way is said to, and
// more points bring the two together.
func TestOtherHead(t *testing.T) {
	path := showtest.File(t, demo.BellCranks, `"phase": "80°"`, `"phase": "40°"`, `"rotation": "clockwise"`, `"rotation": "counter-clockwise"`, `"step": "0.1°"`, `"step": "0.01°"`)
	showtest.InOrder(t, command.Words(t, "-with", path), "The rotor of setup 1 turns clockwise, that of setup 2 counter-clockwise", "STOP: Cyclic acts in another direction", "NOTE: The rotors turn opposite ways",
		"Blade pitch differs between the points", "Use -points 7", "angle off apart", "-119.68")
	if out := command.Words(t, "-with", path, "-points", "7"); strings.Contains(out, "Use -points") {
		t.Errorf("with the points that are enough:\n%s", out)
	}
}

// What the other machine cannot do is said in place of what to enter.
func TestOutOfReach(t *testing.T) {
	path := showtest.File(t, demo.BellCranks, `"1050 µs"`, `"1400 µs"`, `"1950 µs"`, `"1600 µs"`)
	out := command.Words(t, "-with", path)
	showtest.InOrder(t, out, `Setup 2: flight mode "hover"`, "setup 2 has servo collective at its limit", "What full cyclic adds", "Setup 2 has servo", "STOP: Enter nothing. The machine cannot give that pitch", "out of reach by")
	if strings.Contains(out, "Enter these rates") {
		t.Errorf("there is nothing to enter:\n%s", out)
	}
	if svg := command.Picture(t, "-with", path); strings.Contains(svg, "transferred") {
		t.Error("there is nothing to draw")
	}
}

func TestLongNames(t *testing.T) {
	long := strings.Repeat("x", 120)
	command.Text(t, "-machine", showtest.File(t, demo.Direct, "aerobatic", long, "Whinchat, a trainer", long), "-with", spatial)
}

func TestPicture(t *testing.T) {
	showtest.InOrder(t, command.Picture(t), "<svg", "Blade pitch", "setup 1, mode &#34;aerobatic&#34;", "setup 2, mode &#34;hover&#34;", "How far the pitch of setup 2 is", "Setup 1 transferred", "half a step of the gauge")
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

func TestSuitsTheDrive(t *testing.T) {
	command.SuitsTheDrive(t, func(machine, written string) []string { return []string{"-machine", machine, "-svg", written} })
}

// The table of full cyclic and the picture compare with setup 1 without its radio's steps, as
// the table of the curve's points does.
func TestWantedIsBeforeRounding(t *testing.T) {
	p, err := newPage(options{})
	if err != nil {
		t.Fatal(err)
	}
	const rounding = 2e-6 * units.Degree // to a millionth of a degree, on both sides
	for _, row := range p.transferred.compared.Rows {
		for _, r := range p.transfer.Readings {
			if off := row.A.Gauge - r.Target.Pitch; row.Stick == r.Target.Stick && max(off, -off) > rounding {
				t.Errorf("stick %v: compared with %v, want %v", row.Stick, row.A.Gauge, r.Target.Pitch)
			}
		}
	}
	worst := p.transferred.compared.Largest.Pitch - p.transfer.WorstEntered.Pitch
	if max(worst, -worst) > rounding {
		t.Errorf("worst in the picture %v, in the text %v", p.transferred.compared.Largest.Pitch, p.transfer.WorstEntered.Pitch)
	}
}
