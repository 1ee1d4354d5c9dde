package files

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// WriteError reports a file that could not be written.
type WriteError struct {
	Path string
	Kept bool // there was a file before, and it is as it was
	Err  error
}

func (e *WriteError) Error() string {
	reason := e.Err // without the name of the file on the way, which tells nobody anything
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.Is(e.Err, fs.ErrNotExist):
		reason = errors.New("its folder is not there")
	case errors.As(e.Err, &path):
		reason = path.Err
	case errors.As(e.Err, &link):
		reason = link.Err
	}
	if e.Kept {
		return fmt.Sprintf("%s is not written, and what it held is still there: %v", e.Path, reason)
	}
	return fmt.Sprintf("%s is not written: %v", e.Path, reason)
}

func (e *WriteError) Unwrap() error { return e.Err }

// Write makes the file at path hold data, or leaves it as it was: whatever goes wrong,
// and wherever the program is stopped, the file holds all of the one or all of the other.
// The data go to a new file in the same folder, which takes the old one's place when all
// of it is on the disk. The file keeps its mode, and a link to it stays a link. A second
// name of it by a hard link goes on to hold the old data. Where the program is stopped, a
// file .levelhead-….tmp can be left over.
//
// A device or a pipe is written to as it is, and so is the standard output, wherever it
// goes. The error is a *WriteError.
func Write(path string, data []byte) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && printed(info):
		_, err = os.Stdout.Write(data)
	case err == nil && !info.Mode().IsRegular():
		err = pour(path, data)
	case err == nil || errors.Is(err, fs.ErrNotExist):
		err = replace(path, info, data)
	}
	if err != nil {
		return &WriteError{path, info != nil && info.Mode().IsRegular(), err}
	}
	return nil
}

// printed reports whether a file is where the standard output goes.
func printed(info fs.FileInfo) bool {
	out, err := os.Stdout.Stat()
	return err == nil && os.SameFile(info, out)
}

// pour writes to what is not a file.
func pour(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

func replace(path string, old fs.FileInfo, data []byte) error {
	w := &writing{data: data, old: old}
	var err error
	if w.place, err = place(path); err != nil {
		return err
	}
	for _, step := range w.steps() {
		if err := step(); err != nil {
			w.clear()
			return err
		}
	}
	return nil
}

// writing is a file on its way.
type writing struct {
	place string
	data  []byte
	old   fs.FileInfo // of the file that is there; nil is none
	temp  *os.File    // in the same folder
}

// steps are what writing takes, in order. Up to the last but one the old file is in place,
// and from there on the new one.
func (w *writing) steps() []func() error {
	return []func() error{w.allowed, w.create, w.write, w.keepMode, w.sync, w.close, w.rename, w.syncFolder}
}

// allowed refuses to replace a file that may not be written.
func (w *writing) allowed() error {
	if w.old == nil {
		return nil
	}
	f, err := os.OpenFile(w.place, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

func (w *writing) create() (err error) {
	mode := fs.FileMode(0o644)
	if w.old != nil {
		mode = w.old.Mode().Perm() // at no time can it be read by more people
	}
	const tries = 100
	for range tries {
		name := filepath.Join(filepath.Dir(w.place), fmt.Sprintf(".levelhead-%x.tmp", rand.Uint64()))
		w.temp, err = os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
		if !errors.Is(err, fs.ErrExist) {
			break
		}
	}
	return err
}

func (w *writing) write() error {
	_, err := w.temp.Write(w.data)
	return err
}

// keepMode gives the new file the old one's mode, of which the user's mask has been taken.
func (w *writing) keepMode() error {
	if w.old == nil {
		return nil
	}
	info, err := w.temp.Stat()
	if err != nil || info.Mode().Perm() == w.old.Mode().Perm() {
		return err
	}
	return w.temp.Chmod(w.old.Mode().Perm())
}

func (w *writing) sync() error   { return w.temp.Sync() }
func (w *writing) close() error  { return w.temp.Close() }
func (w *writing) rename() error { return os.Rename(w.temp.Name(), w.place) }

// syncFolder has the new name on the disk, too. The file is whole without it, and not all
// systems can do it, so nothing is said where it fails.
func (w *writing) syncFolder() error {
	if folder, err := os.Open(filepath.Dir(w.place)); err == nil {
		folder.Sync()
		folder.Close()
	}
	return nil
}

// clear removes what a failed step leaves.
func (w *writing) clear() {
	if w.temp != nil {
		w.temp.Close()
		os.Remove(w.temp.Name())
	}
}
