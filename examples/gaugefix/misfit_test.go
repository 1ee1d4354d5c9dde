package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch/gauge"
)

// Readings that do not belong to the build are shown and explained, and nothing is worked
// out from them.
func TestMisfit(t *testing.T) {
	file := readings(t, "blade,1,hover,100 %,,,,-9.5°", "blade,2,hover,50 %,,,,5°")
	picture := filepath.Join(t.TempDir(), "pitch.svg")
	var out, errs bytes.Buffer
	if status := command([]string{"-readings", file, "-svg", picture}, &out, &errs); status != 1 || !strings.Contains(errs.String(), file+", lines 2 to 3: ") || !strings.Contains(errs.String(), "do not belong") || strings.Contains(errs.String(), "million") {
		t.Errorf("status %d: %s", status, &errs)
	}
	showtest.InOrder(t, strings.Join(strings.Fields(out.String()), " "), "CAUTION", "STOP", "do not belong", "less than once in a million",
		"Read these again", "- Reading 1 was -9.50°: blade 1", "Check each of these on the machine", "blade 1 pitch link", "-9.50° 2 blade 2")
	if strings.Contains(out.String(), "What to do") {
		t.Errorf("worked out:\n%s", &out)
	}
	if _, err := os.Stat(picture); err == nil {
		t.Error("a picture of nothing")
	}
}

// The kinds of misfit that readings of the demonstration machine hardly give.
func TestMisfitKinds(t *testing.T) {
	for _, tt := range []struct {
		misfit gauge.MisfitError
		says   string
	}{
		{gauge.MisfitError{P: 0.0005}, "about once in 2000 times"},
		{gauge.MisfitError{P: 0.0005}, "One item or a few wrong readings cannot explain this"},
		{gauge.MisfitError{P: 0.011, Readings: 5, Worst: 2, Student: 3.8}, "Reading 3 does not go with the others and the machine file. Among as many good readings, one is so far off about once in 1400 times"},
		{gauge.MisfitError{Err: errors.New("none")}, "No machine built anywhere near the machine file shows these readings"},
	} {
		var out bytes.Buffer
		(&findings{misfit: &tt.misfit}).printMisfit(&out)
		if words := strings.Join(strings.Fields(out.String()), " "); !strings.Contains(words, tt.says) {
			t.Errorf("no %q in %s", tt.says, words)
		}
	}
}
