//go:build linux || darwin

package files

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// What a child process of the tests is told, by its environment.
const (
	childFile  = "LEVELHEAD_TEST_FILE"  // to write childData to
	childSteps = "LEVELHEAD_TEST_STEPS" // to take, up to one that fails, before it kills itself; "" is to call Write
	childLimit = "LEVELHEAD_TEST_LIMIT" // bytes that a file may have; "" is any number
	childUser  = "LEVELHEAD_TEST_USER"  // number of the user to be; "" is the one that starts it
)

var (
	oldData   = strings.Repeat("the machine as it was\n", 1000)
	childData = strings.Repeat("the machine as it is now\n", 1000)
)

func TestMain(m *testing.M) {
	path := os.Getenv(childFile)
	if path == "" {
		os.Exit(m.Run())
	}
	if err := child(path); err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
}

func child(path string) error {
	if limit, err := strconv.ParseUint(os.Getenv(childLimit), 10, 63); err == nil {
		r := syscall.Rlimit{Cur: limit, Max: limit}
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &r); err != nil {
			return err
		}
	}
	if user, err := strconv.Atoi(os.Getenv(childUser)); err == nil {
		if err := syscall.Setuid(user); err != nil {
			return err
		}
	}
	count, err := strconv.Atoi(os.Getenv(childSteps))
	if err != nil {
		return Write(path, []byte(childData))
	}
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	w := &writing{place: path, data: []byte(childData), old: info}
	for _, step := range w.steps()[:count] {
		if err := step(); err != nil {
			break
		}
	}
	if err := syscall.Kill(os.Getpid(), syscall.SIGKILL); err != nil {
		return err
	}
	select {}
}

// start runs the child and returns what it prints, and how it ends.
func start(t *testing.T, settings ...string) (string, error) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Skipf("SKIPPED, nothing was killed: %v", err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), settings...)
	var out bytes.Buffer
	cmd.Stdout = &out
	err = cmd.Run()
	if exit := (*exec.ExitError)(nil); err != nil && !errors.As(err, &exit) {
		t.Skipf("SKIPPED, nothing was killed: this system cannot start the test again (under an emulator, say): %v", err)
	}
	return out.String(), err
}

// killed checks that the child did not end by itself.
func killed(t *testing.T, err error, says string) {
	t.Helper()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.Sys().(syscall.WaitStatus).Signal() != syscall.SIGKILL {
		t.Errorf("the child was not killed: %v, %q", err, says)
	}
}

// The file is whole whenever the program is killed: between any two steps, and in the
// middle of the data.
func TestKilled(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	steps := len((&writing{}).steps())
	leftovers := 0
	for count := range steps + 1 {
		put(t, path, oldData)
		says, err := start(t, childFile+"="+path, childSteps+"="+strconv.Itoa(count))
		killed(t, err, says)
		want := oldData
		if count >= steps-1 { // the last but one puts the file in place
			want = childData
		}
		hold(t, path, want)
	}
	for limit := 0; limit < len(childData); limit += 4096 {
		put(t, path, oldData)
		says, err := start(t, childFile+"="+path, childSteps+"="+strconv.Itoa(steps), childLimit+"="+strconv.Itoa(limit))
		killed(t, err, says)
		hold(t, path, oldData)
	}
	// What the kills have left over is in nobody's way.
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".levelhead-") {
			leftovers++
		}
	}
	if leftovers == 0 || leftovers != len(entries)-1 {
		t.Errorf("%d of %d files are left over", leftovers, len(entries))
	}
	if says, err := start(t, childFile+"="+path); err != nil {
		t.Fatalf("%v: %s", err, says)
	}
	hold(t, path, childData)
}

// Where a file cannot become as large as it would have to, as on a full disk, the old one
// is whole, nothing is left over, and the error says so.
func TestFull(t *testing.T) {
	dir := t.TempDir()
	path := put(t, filepath.Join(dir, "a"), oldData)
	for limit := 0; limit < len(childData); limit += 4096 {
		says, err := start(t, childFile+"="+path, childLimit+"="+strconv.Itoa(limit))
		if err == nil || !strings.Contains(says, path+" is not written, and what it held is still there: ") {
			t.Errorf("limit %d: %v, %q", limit, err, says)
		}
		hold(t, path, oldData)
		only(t, dir, "a")
	}
}

// A file that may not be written is not replaced either, though its folder would allow it.
func TestNotAllowed(t *testing.T) {
	if os.Getuid() != 0 {
		t.Skip("SKIPPED: only root can start the test as another user; TestWriteErrors looks at this for other users")
	}
	dir := t.TempDir()
	path := put(t, filepath.Join(dir, "a"), oldData)
	for _, dir := range []string{filepath.Dir(dir), dir} {
		if err := os.Chmod(dir, 0o777); err != nil {
			t.Fatal(err)
		}
	}
	says, err := start(t, childFile+"="+path, childUser+"=65534")
	if err == nil || !strings.Contains(says, "permission denied") {
		t.Errorf("%v, %q", err, says)
	}
	hold(t, path, oldData)
	only(t, dir, "a")
}

// A file that the standard output goes to gets what is written and what is printed.
func TestWriteToOutput(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	for _, name := range []string{path, "/dev/stdout"} {
		out, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		defer out.Close()
		self, err := os.Executable()
		if err != nil {
			t.Skip(err)
		}
		cmd := exec.Command(self)
		cmd.Env, cmd.Stdout = append(os.Environ(), childFile+"="+name), out
		if err := cmd.Run(); errors.As(err, new(*exec.ExitError)) {
			t.Fatal(err)
		} else if err != nil {
			t.Skipf("SKIPPED, nothing was written: %v", err)
		}
		if _, err := out.WriteString("printed after it"); err != nil {
			t.Fatal(err)
		}
		hold(t, path, childData+"printed after it")
	}
}

// A pipe stays one, and what is at its other end gets the data. So it is with devices; but
// a test that would replace one where it fails must not be run on those of the machine.
func TestWriteToAPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Skipf("SKIPPED, no pipe was made: %v", err)
	}
	pipe, err := os.OpenFile(path, os.O_RDWR, 0) // both ends, so that nobody waits for the other
	if err != nil {
		t.Fatal(err)
	}
	defer pipe.Close()
	if err := Write(path, []byte("new")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Type() != os.ModeNamedPipe {
		t.Fatalf("is no pipe any more: %v, %v", info.Mode(), err)
	}
	data := make([]byte, 3)
	if _, err := pipe.Read(data); err != nil || string(data) != "new" {
		t.Errorf("%q, %v came out of the pipe", data, err)
	}
	if _, err := os.Stat("/dev/full"); err == nil {
		if err := pour("/dev/full", []byte("new")); !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("/dev/full: %v", err)
		}
	}
}
