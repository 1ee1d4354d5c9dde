package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/units"
)

// text runs the command, which must succeed, and returns what it prints.
func text(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(args, &out, &errs); status != 0 || errs.Len() > 0 {
		t.Fatalf("servopick %q: status %d: %s", args, status, &errs)
	}
	return out.String()
}

// file writes a machine file and returns its path.
func file(t *testing.T, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "machine.json")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// compared is the demonstration machine with every candidate.
func compared(t *testing.T, voltage units.Voltage, rpm units.AngularSpeed) *comparison {
	t.Helper()
	c, err := newComparison(options{voltage: voltage, speed: rpm * units.RevolutionPerMinute})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestText(t *testing.T) {
	out := text(t)
	last := -1
	for _, part := range []string{"CAUTION", "blades off", "rotor disc", "Wagtail", "mode hover", "Invented for demonstration", "rotor are invented", "Largest load", "small analogue", "STALLS", "not rated", "strong digital", "stalls under", "0.6 V above", "friction"} {
		at := strings.Index(out[last+1:], part)
		if at < 0 {
			t.Fatalf("no %q after the first %d bytes", part, last)
		}
		last += 1 + at
	}
	long := bytes.ReplaceAll(demo.Direct, []byte("right rear"), []byte(strings.Repeat("x", 120)))
	for _, out := range []string{out, text(t, "-volts", "1"), text(t, "-volts", "50", "-speed", "3500 rpm"), text(t, "-machine", file(t, long))} {
		for line := range strings.Lines(out) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 100 {
				t.Errorf("%d columns: %s", n, line)
			}
		}
	}
	if out := text(t, "-mode", "aerobatic"); !strings.Contains(out, "mode aerobatic") || !strings.HasPrefix(out, "CAUTION") {
		t.Errorf("-mode aerobatic prints\n%s", out)
	}
}

// A servo stalls just where the largest load is its stall torque or more, and one
// that does not is slowed by that load and loses pitch.
func TestResults(t *testing.T) {
	const rounding = 1e-12
	for _, rpm := range []units.AngularSpeed{1000, 1900, 3000} {
		c := compared(t, 6, rpm)
		for _, r := range c.results {
			if stalls := c.largest().Peak >= r.at.Stall; stalls != (r.stalled != nil) {
				t.Errorf("%v rpm, %s: load %v, stall %v, but %v", float64(rpm), r.name, c.largest().Peak, r.at.Stall, r.stalled)
			}
			left := float64(r.at.Speed) * (1 - float64(c.largest().Peak/r.at.Stall))
			least := r.Frame + units.Time(math.Abs(float64(c.turns[c.worst]))/left)
			if r.stalled == nil && r.stroke < least*(1-rounding) {
				t.Errorf("%v rpm, %s: a stroke of %v, want %v or more", float64(rpm), r.name, r.stroke, least)
			}
			if r.dropped == nil && !(r.lost.Blade < -r.deadband) || r.deadband <= 0 {
				t.Errorf("%v rpm, %s: loses %v, and %v to its deadband", float64(rpm), r.name, r.lost.Blade, r.deadband)
			}
			if r.unrated != nil {
				t.Errorf("%s: %v", r.name, r.unrated)
			}
		}
	}
}

// More voltage makes a rated servo no weaker, more speed loads it more, and a voltage
// that is not rated is said.
func TestTrends(t *testing.T) {
	low, high, fast := compared(t, 6, 1900), compared(t, 7, 1900), compared(t, 6, 2200)
	for i, r := range low.results {
		h := high.results[i]
		if beyond := r.Points[len(r.Points)-1].Voltage < 7; beyond != (h.unrated != nil) {
			t.Errorf("%s at 7 V: %v", r.name, h.unrated)
		}
		if h.at.Stall < r.at.Stall || h.unrated == nil && h.at.Stall == r.at.Stall {
			t.Errorf("%s: %v at 6 V, %v at 7 V", r.name, r.at.Stall, h.at.Stall)
		}
	}
	if fast.largest().Peak <= low.largest().Peak || fast.step != low.step || low.step <= 0 {
		t.Errorf("load %v and %v, steps %v and %v", low.largest(), fast.largest(), low.step, fast.step)
	}
}

func TestPicture(t *testing.T) {
	path := filepath.Join(t.TempDir(), "servos.svg")
	text(t, "-svg", path)
	svg, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{"<svg", "Stall torque", "pitch lost", "strong", "STALLS", "(at 6 V)"} {
		if !bytes.Contains(svg, []byte(part)) {
			t.Errorf("no %q in the picture", part)
		}
	}
}
