// Package showtest tests the mains of the examples: what they print, and how they fail.
package showtest

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/levelhead/examples/internal/show"
)

// Main is a command: it takes arguments and returns the exit status.
type Main func(args []string, stdout, stderr io.Writer) int

// Text runs the command, which must succeed, keep its lines short and be sound, and
// returns what it prints.
func (run Main) Text(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := run(args, &out, &errs); status != 0 || errs.Len() > 0 {
		t.Fatalf("%q: status %d: %s", args, status, &errs)
	}
	for line := range strings.Lines(out.String()) {
		if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > show.Width {
			t.Errorf("%q: %d columns: %s", args, n, line)
		}
	}
	Sound(t, out.String())
	Plain(t, out.String())
	return out.String()
}

// Words is Text in one line, wherever it was wrapped.
func (run Main) Words(t *testing.T, args ...string) string {
	t.Helper()
	return strings.Join(strings.Fields(run.Text(t, args...)), " ")
}

// Picture is the picture that the command writes; it must carry the caution.
func (run Main) Picture(t *testing.T, args ...string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "picture.svg")
	run.Text(t, append([]string{"-svg", path}, args...)...)
	svg, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(Pictures(t, svg)); n != 1 {
		t.Errorf("%q: %d pictures", args, n)
	}
	return string(svg)
}

// Fails runs the command, which must fail with a status and a message that says
// something, and print nothing else. But for faults of the flags, status 2, after which
// the flags are listed, the message is one line.
func (run Main) Fails(t *testing.T, status int, says string, args ...string) {
	t.Helper()
	var out, errs bytes.Buffer
	got := run(args, &out, &errs)
	if got != status || !strings.Contains(errs.String(), says) || out.Len() > 0 {
		t.Errorf("%q: status %d, message %q, printed %q; want %d and %q", args, got, &errs, &out, status, says)
	}
	if lines := strings.Count(errs.String(), "\n"); status == 1 && lines != 1 {
		t.Errorf("%q: a message of %d lines: %q", args, lines, &errs)
	}
}

// File writes a machine file and returns its path. Pairs of old and new text are
// replaced in it, of which all old ones must be there.
func File(t *testing.T, data []byte, oldnew ...string) string {
	t.Helper()
	text := string(data)
	for i := 0; i < len(oldnew); i += 2 {
		if !strings.Contains(text, oldnew[i]) {
			t.Fatalf("no %q in the machine file", oldnew[i])
		}
		text = strings.ReplaceAll(text, oldnew[i], oldnew[i+1])
	}
	path := filepath.Join(t.TempDir(), "machine.json")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// InOrder checks that parts stand in a text, one after the other.
func InOrder(t *testing.T, text string, parts ...string) {
	t.Helper()
	rest := text
	for _, part := range parts {
		_, after, found := strings.Cut(rest, part)
		if !found {
			t.Errorf("no %q, or not in its place, in\n%s", part, text)
			return
		}
		rest = after
	}
}
