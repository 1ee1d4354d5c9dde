// Package files reads and writes the files that a command is asked for, so that none of
// them is lost: what is written is there in whole or not at all, and never in place of
// what is read.
package files

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// SizeError reports a file that is larger than what is read of it.
type SizeError struct {
	Path string
	Most int // bytes
}

func (e *SizeError) Error() string {
	return fmt.Sprintf("%s holds more than %d bytes: such a file needs far fewer, so name another one", e.Path, e.Most)
}

// MissingError reports that there is no file to read at a path, or a folder in its place.
type MissingError struct {
	Path string
	Err  error // the cause; nil is a folder
}

func (e *MissingError) Error() string {
	if e.Err == nil {
		return e.Path + " is a folder; name a file in it"
	}
	return e.Path + ": there is no such file here; check the name and its folder"
}

func (e *MissingError) Unwrap() error { return e.Err }

// Read returns what the file at path holds. Where there is none the error is a
// *MissingError. Of one with more than most bytes, or without
// an end, it reads no more than that, and the error is a *SizeError.
func Read(path string, most int) ([]byte, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &MissingError{path, err}
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if at, err := f.Stat(); err == nil && at.IsDir() {
		return nil, &MissingError{Path: path}
	}
	data, err := io.ReadAll(io.LimitReader(f, int64(most)+1))
	if err != nil {
		return nil, err
	}
	if len(data) > most {
		return nil, &SizeError{path, most}
	}
	return data, nil
}

// SameError reports a file that would be written although it is read, or written twice.
type SameError struct {
	Path, Other string // two names of it, which can be alike
	Read        bool   // Other is read; false is written, too
}

func (e *SameError) Error() string {
	and := ""
	if e.Other != e.Path {
		and = ", which is the same file as " + e.Other + ","
	}
	if e.Read {
		return fmt.Sprintf("%s%s is read and must stay as it is: name another file to write to", e.Path, and)
	}
	return fmt.Sprintf("%s%s cannot hold two things at once: name a file for each", e.Path, and)
}

// Apart refuses, with a *SameError, files to write that are also read, or of which two are
// one file, by whatever names. Empty names stand for no file. Devices and pipes may be
// named more than once: they keep nothing that can be lost.
func Apart(writes, reads []string) error {
	for i, path := range writes {
		for _, other := range reads {
			if same(path, other) {
				return &SameError{path, other, true}
			}
		}
		for _, other := range writes[:i] {
			if same(path, other) {
				return &SameError{path, other, false}
			}
		}
	}
	return nil
}

func same(a, b string) bool {
	if a == "" || b == "" {
		return false
	}
	fileA, errA := os.Stat(a)
	fileB, errB := os.Stat(b)
	if errA == nil && errB == nil {
		return fileA.Mode().IsRegular() && os.SameFile(fileA, fileB)
	}
	// Those that are not there yet are one where both would be made in one place.
	placeA, errA := place(a)
	placeB, errB := place(b)
	return errA == nil && errB == nil && placeA == placeB
}

// place returns where a file is or would be made: in which folder and by which name, once
// all links are followed.
func place(path string) (string, error) {
	const mostLinks = 40 // one after the other; more are a ring
	for range mostLinks {
		dir, name := filepath.Split(path)
		if dir == "" {
			dir = "."
		}
		dir, err := filepath.EvalSymlinks(dir)
		if err != nil {
			return "", err
		}
		path = filepath.Join(dir, name)
		to, err := os.Readlink(path)
		switch {
		case err != nil: // no link
			return filepath.Abs(path)
		case filepath.IsAbs(to):
			path = to
		default:
			path = dir + string(filepath.Separator) + to // not cleaned, as its own folders can be links
		}
	}
	return "", fmt.Errorf("%s is one of a ring of links", path)
}
