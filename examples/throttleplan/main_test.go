package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

// text runs the command, which must succeed, and returns what it prints.
func text(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(args, &out, &errs); status != 0 || errs.Len() > 0 {
		t.Fatalf("throttleplan %q: status %d: %s", args, status, &errs)
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

// words joins the text's lines, wherever they are wrapped.
func words(text string) string { return strings.Join(strings.Fields(text), " ") }

func TestText(t *testing.T) {
	out := text(t)
	last := -1
	for _, part := range []string{"CAUTION", "blades off", "rotor disc", "Wagtail", "Invented for demonstration", "drive are invented", "Hover: pitch", "mode: hover", "100 %", "mode: aerobatic", "100 %", "mode: glide", "no throttle to enter", "log of a flight"} {
		at := strings.Index(out[last+1:], part)
		if at < 0 {
			t.Fatalf("no %q after the first %d bytes", part, last)
		}
		last += 1 + at
	}
	long := bytes.ReplaceAll(demo.Direct, []byte("aerobatic"), []byte(strings.Repeat("x", 120)))
	for _, out := range []string{out, text(t, "-charge", "5 %"), text(t, "-speed", "100 rpm"), text(t, "-machine", file(t, long))} {
		for line := range strings.Lines(out) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 100 {
				t.Errorf("%d columns: %s", n, line)
			}
		}
	}
	one := text(t, "-mode", "aerobatic")
	if !strings.Contains(one, "mode: aerobatic") || strings.Contains(one, "mode: hover") || !strings.HasPrefix(one, "CAUTION") {
		t.Errorf("-mode aerobatic prints\n%s", one)
	}
}

// Every point either holds the speed asked for or says that it does not, and then
// gives a lower speed at full throttle.
func TestShort(t *testing.T) {
	const slack = 1e-9 // of the throttle at the best speed, which is 1e-12 on the safe side
	p, err := newPlan(options{speed: 2200 * units.RevolutionPerMinute, charge: 10 * units.Percent})
	if err != nil {
		t.Fatal(err)
	}
	held, short := 0, 0
	for _, m := range p.modes {
		for _, q := range m.points {
			throttle := q.Operation.Throttle
			switch {
			case q.stopped != "":
				t.Errorf("%s, stick %v: %s", m.Mode.Name, q.stick, q.stopped)
			case q.short == nil:
				held++
				if q.speed != p.at.Speed || !(throttle > 0 && throttle <= 1) {
					t.Errorf("%s, stick %v: %v at throttle %v", m.Mode.Name, q.stick, q.speed, throttle)
				}
			default:
				short++
				if q.speed >= p.at.Speed || !(throttle > 1-slack && throttle <= 1) {
					t.Errorf("%s, stick %v, short: %v at throttle %v", m.Mode.Name, q.stick, q.speed, throttle)
				}
			}
		}
	}
	if held == 0 || short == 0 {
		t.Errorf("%d points held and %d short, want some of both", held, short)
	}
	out := words(text(t, "-charge", "10 %"))
	if !strings.Contains(out, "100 % cannot be held") || !strings.Contains(out, "full throttle is not enough") {
		t.Error("the text does not say that the speed cannot be held")
	}
	if out := words(text(t)); strings.Contains(out, "cannot be held") {
		t.Error("a full battery cannot hold the speed")
	}
}

func TestHover(t *testing.T) {
	if out := words(text(t, "-speed", "100 rpm")); !strings.Contains(out, "Hover: the rotor cannot carry the machine") {
		t.Error("100 rpm carries the machine")
	}
	if out := words(text(t, "-speed", "2800 rpm")); !strings.Contains(out, "but rotor: cannot hold 2800 rpm") {
		t.Error("the drive holds 2800 rpm in hover")
	}
	warm := rotor.Celsius(35)
	o := options{speed: 2200 * units.RevolutionPerMinute, charge: 1}
	low, err := newPlan(o)
	if err != nil {
		t.Fatal(err)
	}
	o.height, o.temperature = 1000*units.Metre, &warm
	high, err := newPlan(o)
	if err != nil {
		t.Fatal(err)
	}
	if high.hover.Pitch <= low.hover.Pitch || high.at.Density >= low.at.Density {
		t.Errorf("hover at %v in thin air, %v in thick", high.hover.Pitch, low.hover.Pitch)
	}
}

func TestPicture(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plan.svg")
	text(t, "-svg", path)
	svg, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{"<svg", "aerobatic, throttle", "hover, speed", "current, A"} {
		if !bytes.Contains(svg, []byte(part)) {
			t.Errorf("no %q in the picture", part)
		}
	}
}
