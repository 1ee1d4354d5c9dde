package main

import (
	"bytes"
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/units"
)

var command showtest.Main = run

func TestText(t *testing.T) {
	caution, _, _ := strings.Cut(command.Text(t), "\n\n")
	showtest.InOrder(t, strings.Join(strings.Fields(caution), " "), "CAUTION", "blades on only for readings", "motor leads", "hold on", "rotor disc", "failsafe", "law", "club", "makers", "experienced pilot")
}

// The demonstration machine's legs are all alike, so that a rate keeps its
// plate level, and one servo's end points tilt it to or from that servo's leg.
func TestTilt(t *testing.T) {
	rig, err := show.Rig("", demo.Direct)
	if err != nil {
		t.Fatal(err)
	}
	m, err := newTiltMap(rig, "right rear")
	if err != nil {
		t.Fatal(err)
	}
	const level = 1e-6 * units.Degree // far below what anyone can see
	for i, by := range changes {
		for k, row := range m.rate[i] {
			if row.Tilt > level {
				t.Errorf("rate at %v: tilts %v at stick %v", by, row.Tilt, row.Stick)
			}
			if ends := m.ends[i][k]; by != 1 && row.Demand != 0 && ends.Tilt < level {
				t.Errorf("end points at %v: level at stick %v", by, ends.Stick)
			}
		}
	}
	high := func(i int) string { return show.Bearing(m.ends[i][steps].LowSide) }
	if less, more := high(0), high(len(changes)-1); less != "120°" || more != "300°" {
		t.Errorf("low side %s with less travel and %s with more, want 120° and 300°", less, more)
	}
}

// On bell cranks one servo's end points tilt nothing, and are not said to.
func TestBellCranks(t *testing.T) {
	out := command.Words(t, "-machine", "../demo/testdata/bellcranks.json")
	if showtest.InOrder(t, out, "each servo moves one control alone"); strings.Contains(out, "One servo's end points tilt the plate") {
		t.Errorf("not so on bell cranks: %s", out)
	}
}

func TestPicture(t *testing.T) {
	showtest.InOrder(t, command.Picture(t), "<svg", "the end points of servo &#34;front&#34; are changed", "the collective rate of all servos")
	command.Picture(t, "-machine", "../demo/testdata/bellcranks.json") // level all the way
}

func TestErrors(t *testing.T) {
	for _, tt := range []struct {
		args   []string
		status int
		want   string
	}{
		{[]string{"-servo", "port"}, 1, `"port"; the machine has "front", "right rear", "left rear"`},
		{[]string{"-machine", "no such file.json"}, 1, "no such file.json"},
		{[]string{"machine.json"}, 2, "-machine"},
		{[]string{"-warp"}, 2, "-warp"},
	} {
		var out, errs bytes.Buffer
		if status := run(tt.args, &out, &errs); status != tt.status || !strings.Contains(errs.String(), tt.want) {
			t.Errorf("%q: status %d, message %q; want %d and %q", tt.args, status, &errs, tt.status, tt.want)
		}
	}
}

func TestSuitsTheDrive(t *testing.T) {
	command.SuitsTheDrive(t, func(machine, written string) []string { return []string{"-machine", machine, "-svg", written} })
}
