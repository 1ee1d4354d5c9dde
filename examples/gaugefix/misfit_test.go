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
	if status := command([]string{"-readings", file, "-svg", picture}, &out, &errs); status != 1 || !strings.Contains(errs.String(), file+", lines 2 to 3: ") || !strings.Contains(errs.String(), "do not belong") {
		t.Errorf("status %d: %s", status, &errs)
	}
	showtest.InOrder(t, strings.Join(strings.Fields(out.String()), " "), "CAUTION", "-9.50° - -", "STOP", "do not belong", "less than once in a million",
		"Read them again:", "- reading 1, -9.50°: pitch of blade 1", "one part is far off", "blade 1 pitch link")
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
		{gauge.MisfitError{P: 0.0005}, "Neither a few wrong readings nor one part far off"},
		{gauge.MisfitError{Err: errors.New("none")}, "No build near the machine file's shows these readings"},
	} {
		var out bytes.Buffer
		(&findings{misfit: &tt.misfit}).printMisfit(&out)
		if words := strings.Join(strings.Fields(out.String()), " "); !strings.Contains(words, tt.says) {
			t.Errorf("no %q in %s", tt.says, words)
		}
	}
}
