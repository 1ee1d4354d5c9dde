package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// text runs the command, which must succeed, and returns what it prints.
func text(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(args, &out, &errs); status != 0 || errs.Len() > 0 {
		t.Fatalf("holes %q: status %d: %s", args, status, &errs)
	}
	return out.String()
}

// contains looks for parts of a text, one after another.
func contains(t *testing.T, text string, parts ...string) {
	t.Helper()
	at := 0
	for _, part := range parts {
		next := strings.Index(text[at:], part)
		if next < 0 {
			t.Fatalf("no %q in what is left:\n%s", part, text[at:])
		}
		at += next + len(part)
	}
}

func TestText(t *testing.T) {
	out := text(t)
	caution, _, _ := strings.Cut(out, "\n\n")
	contains(t, strings.Join(strings.Fields(caution), " "), "CAUTION", "blades off", "hold on", "rotor disc", "failsafe", "law", "experienced pilot")
	contains(t, out, "Wagtail 50", "16 combinations", "6 will do and 6", "Invented for demonstration", "box of parts is invented",
		"as it is", "1  14 mm", "6  14 mm", "clipped pulse is 12 µs", "best at", "lean, stroke", "front, right rear, left rear", "Will not do", "friction")
	for _, out := range []string{
		out,
		text(t, "-unlike", "-arms", "12 mm, 13 mm", "-horns", "18 mm", "-clip", "50 µs"),
		text(t, "-machine", "../demo/testdata/spatial.json", "-teeth", "-1, 0", "-balls", "29 mm, 30 mm", "-refit"),
		text(t, "-machine", "../demo/testdata/bellcranks.json", "-horns", "18 mm, 20 mm", "-clip", "1 ms"),
	} {
		for line := range strings.Lines(out) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 100 {
				t.Errorf("%d columns: %s", n, line)
			}
		}
	}
}

func TestFlags(t *testing.T) {
	out := text(t, "-arms", "14 mm", "-horns", "18 mm,22 mm", "-workers", "1")
	contains(t, out, "2 combinations", "2 will do and 2", "22 mm", "18 mm", "+22/+22/-22 µs", "a turn longer", "a turn shorter")
	if strings.Contains(out, "box of parts") || strings.Contains(out, "Will not do") {
		t.Errorf("what is named by flags is no invented box, and all will do:\n%s", out)
	}
	contains(t, text(t, "-arms", "12 mm, 14 mm", "-horns", "20 mm", "-unlike"), "8 combinations", "12/12/14 mm")
	contains(t, text(t, "-arms", "3 mm", "-horns", "20 mm"), "0 will do and 0", "out of reach by")
}

func TestPicture(t *testing.T) {
	for _, args := range [][]string{
		nil,
		{"-unlike", "-arms", "12 mm, 14 mm", "-horns", "18 mm"},
		{"-machine", "../demo/testdata/spatial.json", "-horns", "18 mm, 20 mm"},
		{"-arms", "3 mm"}, // none will do
	} {
		path := filepath.Join(t.TempDir(), "holes.svg")
		text(t, append(args, "-svg", path)...)
		svg, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range []string{"<svg", "against resolution", "as it is"} {
			if !bytes.Contains(svg, []byte(part)) {
				t.Errorf("%q: no %q in the picture", args, part)
			}
		}
		decoder := xml.NewDecoder(bytes.NewReader(svg))
		for {
			if _, err := decoder.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%q: not well-formed: %v", args, err)
			}
		}
	}
}

func TestErrors(t *testing.T) {
	for _, tt := range []struct {
		args   []string
		status int
		want   string
	}{
		{[]string{"-machine", "no such file.json"}, 1, "no such file.json"},
		{[]string{"-svg", "no such folder/holes.svg"}, 1, "no such folder"},
		{[]string{"-arms", "-8 mm"}, 1, "arms, number 1"},
		{[]string{"-clip", "-1 µs"}, 1, "clip"},
		{[]string{"-machine", "../demo/testdata/bellcranks.json", "-arms", "8 mm"}, 1, "only the horns"},
		{[]string{"-arms", "8"}, 2, "no unit"},
		{[]string{"-arms", ""}, 2, "arms"},
		{[]string{"-teeth", "half"}, 2, `"half" is not a whole number`},
		{[]string{"machine.json"}, 2, "-machine"},
		{[]string{"-warp"}, 2, "-warp"},
	} {
		var out, errs bytes.Buffer
		if status := run(tt.args, &out, &errs); status != tt.status || !strings.Contains(errs.String(), tt.want) {
			t.Errorf("%q: status %d, message %q; want %d and %q", tt.args, status, &errs, tt.status, tt.want)
		}
	}
}
