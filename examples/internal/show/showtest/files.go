package showtest

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Twice runs the command two times, which must give the same bytes, and returns them.
func (run Main) Twice(t *testing.T, args ...string) string {
	t.Helper()
	first := run.Text(t, args...)
	if again := run.Text(t, args...); again != first {
		t.Errorf("%q prints another text when it is run again:\n%s\nand at first\n%s", args, again, first)
	}
	return first
}

// Files holds a command to what all of them do with files. Reads are the flags that name
// files to read, each followed by one that is there; writes are those that name files to
// write, of which the first one may take the place of the text.
//
// It must write the same bytes whenever it is run. It must refuse to write what it reads,
// by whatever name, or two things to one file. Where it cannot write, it must say so,
// and print the text nevertheless.
func (run Main) Files(t *testing.T, reads, writes []string) {
	t.Helper()
	text := run.Twice(t, reads...)
	dir := t.TempDir()
	with := func(more ...string) []string { return slices.Concat(reads, more) }

	var all, paths []string
	for _, flag := range writes {
		path := filepath.Join(dir, flag)
		all, paths = append(all, flag, path), append(paths, path)
	}
	contents := func() (all [][]byte) {
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, data)
		}
		return all
	}
	run.Twice(t, with(all...)...)
	first := contents()
	run.Text(t, with(all...)...)
	for i, again := range contents() {
		if !bytes.Equal(again, first[i]) {
			t.Errorf("%s writes another file when it is run again", writes[i])
		}
	}

	for i, flag := range writes {
		for k := 1; k < len(reads); k += 2 {
			link := filepath.Join(dir, "link to "+flag+reads[k-1])
			path, err := filepath.Abs(reads[k])
			if err != nil {
				t.Fatal(err)
			}
			names := []string{reads[k], path}
			if os.Symlink(path, link) == nil {
				names = append(names, link)
			}
			before, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			for _, name := range names {
				run.Fails(t, 1, "is read and must stay", with(flag, name)...)
			}
			if after, err := os.ReadFile(path); err != nil || !bytes.Equal(before, after) {
				t.Fatalf("%s has written over what %s reads (%v)", flag, reads[k-1], err)
			}
		}
		for _, other := range writes[:i] {
			path := filepath.Join(dir, "twice")
			run.Fails(t, 1, "two things at once", with(flag, path, other, path)...)
		}
		path := filepath.Join(dir, "none", "file")
		var out, errs bytes.Buffer
		status := run(with(flag, path), &out, &errs)
		if status != 1 || !strings.Contains(errs.String(), path+" is not written") || strings.Count(errs.String(), "\n") != 1 {
			t.Errorf("%s in a folder that is not there: status %d, message %q", flag, status, &errs)
		}
		if out.String() != text {
			t.Errorf("%s in a folder that is not there: printed\n%s\nwant\n%s", flag, &out, text)
		}
	}
}
