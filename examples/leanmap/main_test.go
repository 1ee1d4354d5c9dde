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

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/units"
)

func TestText(t *testing.T) {
	var out, errs bytes.Buffer
	if status := run(nil, &out, &errs); status != 0 {
		t.Fatalf("status %d: %s", status, &errs)
	}
	caution, _, _ := strings.Cut(out.String(), "\n\n")
	caution = strings.Join(strings.Fields(caution), " ")
	for _, part := range []string{"CAUTION", "blades off", "motor leads", "hold on", "rotor disc", "failsafe", "law", "club", "makers", "experienced pilot"} {
		if !strings.Contains(caution, part) {
			t.Errorf("the text does not begin with %q", part)
		}
	}
	for line := range strings.Lines(out.String()) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > 100 {
			t.Errorf("%d columns: %s", n, line)
		}
	}
}

// The demonstration machine's legs are all alike, so that a rate keeps its
// plate level, and one servo's end points lean it to or from that servo's leg.
func TestLean(t *testing.T) {
	rig, err := show.Rig("", demo.Direct)
	if err != nil {
		t.Fatal(err)
	}
	m, err := newLeanMap(rig, "right rear")
	if err != nil {
		t.Fatal(err)
	}
	const level = 1e-6 * units.Degree // far below what anyone can see
	for i, by := range changes {
		for k, row := range m.rate[i] {
			if row.Lean > level {
				t.Errorf("rate at %v: leans %v at stick %v", by, row.Lean, row.Stick)
			}
			if ends := m.ends[i][k]; by != 1 && row.Demand != 0 && ends.Lean < level {
				t.Errorf("end points at %v: level at stick %v", by, ends.Stick)
			}
		}
	}
	high := func(i int) string { return show.Bearing(m.ends[i][steps].LowSide) }
	if less, more := high(0), high(len(changes)-1); less != "120°" || more != "300°" {
		t.Errorf("low side %s with less travel and %s with more, want 120° and 300°", less, more)
	}
}

func TestSVG(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lean.svg")
	var out, errs bytes.Buffer
	if status := run([]string{"-svg", path}, &out, &errs); status != 0 {
		t.Fatalf("status %d: %s", status, &errs)
	}
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	decoder := xml.NewDecoder(file)
	for {
		if _, err := decoder.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
	}
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
