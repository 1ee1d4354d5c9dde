package files

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// put writes a file for a test, and hold checks one.
func put(t *testing.T, path, text string) string {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func hold(t *testing.T, path, want string) {
	t.Helper()
	if data, err := os.ReadFile(path); err != nil || string(data) != want {
		t.Errorf("%s holds %.20q, %v; want %.20q", path, data, err, want)
	}
}

// only checks that a folder holds some files and nothing that writing has left.
func only(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("the folder holds %q, want %q", got, want)
	}
}

func link(t *testing.T, to, path string) string {
	t.Helper()
	if err := os.Symlink(to, path); err != nil {
		t.Skipf("no links here: %v", err)
	}
	return path
}

func TestRead(t *testing.T) {
	path := put(t, filepath.Join(t.TempDir(), "a"), "12345")
	if data, err := Read(path, 5); err != nil || string(data) != "12345" {
		t.Errorf("%q, %v", data, err)
	}
	var size *SizeError
	if data, err := Read(path, 4); !errors.As(err, &size) || size.Most != 4 || size.Path != path || data != nil {
		t.Errorf("%q, %v; want no data and a *SizeError of 4", data, err)
	}
	var missing *MissingError
	if _, err := Read(filepath.Dir(path), 5); !errors.As(err, &missing) || err.Error() != filepath.Dir(path)+" is a folder; name a file in it" {
		t.Errorf("a folder: %v", err)
	}
	if _, err := Read(path+"b", 5); !errors.As(err, &missing) || !errors.Is(err, os.ErrNotExist) || err.Error() != path+"b: there is no such file here; check the name and its folder" {
		t.Errorf("no file: %v", err)
	}
	if _, err := os.Stat("/dev/zero"); err != nil {
		t.Skip("no /dev/zero here: a file without an end is not looked at")
	}
	if _, err := Read("/dev/zero", 1<<20); !errors.As(err, &size) {
		t.Errorf("/dev/zero: %v", err)
	}
}

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	for _, text := range []string{"new", "another one, longer", ""} {
		if err := Write(path, []byte(text)); err != nil {
			t.Fatal(err)
		}
		hold(t, path, text)
	}
	only(t, dir, "a")
}

func TestWriteKeepsTheMode(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no such modes here")
	}
	path := put(t, filepath.Join(t.TempDir(), "a"), "old")
	for _, mode := range []os.FileMode{0o600, 0o640, 0o755, 0o666} {
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
		if err := Write(path, []byte("new")); err != nil {
			t.Fatal(err)
		}
		if info, err := os.Stat(path); err != nil || info.Mode() != mode {
			t.Errorf("mode %v, %v; want %v", info.Mode(), err, mode)
		}
	}
}

// A link stays one, and what it points at is written: through several links, a folder that
// is one, and to a file that is not there yet.
func TestWriteKeepsLinks(t *testing.T) {
	dir := t.TempDir()
	far := filepath.Join(dir, "far")
	if err := os.MkdirAll(filepath.Join(far, "deep"), 0o755); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(far, "a"), "old")
	link(t, filepath.Join("far", "deep"), filepath.Join(dir, "near"))
	for _, tt := range []struct{ to, path, file string }{
		{filepath.Join("far", "a"), "one", "a"},
		{"one", "two", "a"},
		{filepath.Join(far, "a"), "whole", "a"},
		{"near/../a", "round", "a"}, // the folder above the one that near points at
		{filepath.Join("far", "fresh"), "dangling", "fresh"},
	} {
		path := link(t, tt.to, filepath.Join(dir, tt.path))
		if err := Write(path, []byte(tt.path)); err != nil {
			t.Fatal(err)
		}
		hold(t, filepath.Join(far, tt.file), tt.path)
		if to, err := os.Readlink(path); err != nil || to != tt.to {
			t.Errorf("%s: points at %q, %v; want %q", path, to, err, tt.to)
		}
	}
	if err := Write(filepath.Join(dir, "near", "in"), []byte("in")); err != nil {
		t.Fatal(err)
	}
	hold(t, filepath.Join(far, "deep", "in"), "in")
	only(t, far, "a", "deep", "fresh")
	ring := link(t, "ring", filepath.Join(dir, "ring"))
	if err := Write(ring, nil); err == nil {
		t.Error("a ring of links was written to")
	}
}

// What cannot be written leaves all as it was, and the error says what of.
func TestWriteErrors(t *testing.T) {
	dir := t.TempDir()
	path := put(t, filepath.Join(dir, "a"), "old")
	var fault *WriteError
	for path, says := range map[string]string{
		dir:                              "directory",
		filepath.Join(dir, "none", "b"):  "its folder is not there",
		filepath.Join(path, "b"):         "not a directory",
		filepath.Join(dir, "a\x00"):      "invalid",
		filepath.Join(dir, "b") + "/":    "its folder is not there",
		strings.Repeat("n", 300) + ".md": "too long",
	} {
		err := Write(path, []byte("new"))
		if !errors.As(err, &fault) || fault.Path != path || fault.Kept || !strings.Contains(err.Error(), path+" is not written") {
			t.Errorf("%q: %v", path, err)
		}
		if runtime.GOOS == "linux" && !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v; want %q", path, err, says)
		}
	}
	only(t, dir, "a")
	hold(t, path, "old")

	if err := os.Chmod(path, 0o400); err != nil {
		t.Fatal(err)
	}
	if f, err := os.OpenFile(path, os.O_WRONLY, 0); err == nil {
		f.Close()
		return // root may write to any file: TestNotAllowed has one that may not
	}
	if err := Write(path, []byte("new")); !errors.As(err, &fault) || !fault.Kept {
		t.Errorf("a file that must not be written: %v", err)
	}
	hold(t, path, "old")
}

// Every step may fail; what has been made on the way is then gone, and the old file whole.
func TestStepsFail(t *testing.T) {
	dir := t.TempDir()
	path := put(t, filepath.Join(dir, "a"), "old")
	for at := range (&writing{}).steps() {
		w := &writing{place: path, data: []byte("new")}
		for _, step := range w.steps()[:at] {
			if err := step(); err != nil {
				t.Fatal(err)
			}
		}
		w.clear()
		want := "old"
		if at == len(w.steps())-1 {
			want = "new" // it is in place
		}
		hold(t, path, want)
		only(t, dir, "a")
	}
}

func TestApart(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	a, b := put(t, in("a"), "a"), put(t, in("b"), "b")
	if err := Apart([]string{b, "", in("c"), ""}, []string{a, "", in("d")}); err != nil {
		t.Errorf("files that differ: %v", err)
	}
	hard := in("hard")
	if err := os.Link(a, hard); err != nil {
		hard = a
		t.Logf("no hard links here: %v", err)
	}
	folder := link(t, ".", in("folder"))
	for _, path := range []string{a, in("./a"), hard, link(t, "a", in("soft")), filepath.Join(folder, "a")} {
		var same *SameError
		if err := Apart([]string{b, path}, []string{"", a}); !errors.As(err, &same) || same.Path != path || same.Other != a || !same.Read {
			t.Errorf("%s, which is read: %v", path, err)
		}
		if err := Apart([]string{a, b, path}, nil); !errors.As(err, &same) || same.Path != path || same.Other != a || same.Read {
			t.Errorf("%s, written twice: %v", path, err)
		}
	}
	// So are those that are not there yet, but not in folders that are not.
	if err := Apart([]string{in("new"), filepath.Join(folder, "new")}, nil); err == nil {
		t.Error("a new file, written twice")
	}
	if err := Apart([]string{in("x/new"), in("y/new")}, nil); err != nil {
		t.Errorf("files in folders that are not there: %v", err)
	}
	t.Chdir(dir)
	if err := Apart([]string{"new", in("new")}, nil); err == nil {
		t.Error("a new file, written twice, by its short and its long name")
	}
	if _, err := os.Stat("/dev/null"); err == nil {
		if err := Apart([]string{"/dev/null", "/dev/null"}, []string{"/dev/null"}); err != nil {
			t.Errorf("a device: %v", err)
		}
	}
	for err, says := range map[error]string{
		&SameError{"a", "a", true}:  "a is read",
		&SameError{"a", "b", true}:  "a, which is the same file as b, is read",
		&SameError{"a", "b", false}: "a, which is the same file as b, cannot hold two",
	} {
		if !strings.Contains(err.Error(), says) {
			t.Errorf("%v; want %q", err, says)
		}
	}
}

// Data larger than one write of the system's take are whole.
func TestWriteMuch(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	data := bytes.Repeat([]byte("0123456789abcdef"), 1<<18)
	if err := Write(path, data); err != nil {
		t.Fatal(err)
	}
	hold(t, path, string(data))
}
