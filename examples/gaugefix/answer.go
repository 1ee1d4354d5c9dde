package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

const (
	maxAnswer = 200     // characters
	maxLine   = 1 << 20 // bytes: more is no line, but a file or a device without an end
)

// longError reports an answer that is longer than any can be.
type longError struct {
	Ends  bool // whether the line does, within maxLine
	Count int  // of its characters
}

func (e *longError) Error() string {
	if !e.Ends {
		return fmt.Sprintf("A line of more than %d bytes is not an answer. Nothing more is asked.", maxLine)
	}
	return fmt.Sprintf("An answer of %d characters is too long. Write one like 9.5 or -0.5°, or skip, undo or an empty line.", e.Count)
}

// readAnswer reads a line without the space around it, whatever its length; the end of the
// input is as an empty line. The error is a *longError or one of reading.
func readAnswer(in *bufio.Reader) (string, error) {
	var line strings.Builder
	for more := true; more; {
		part, prefix, err := in.ReadLine()
		if err != nil && !errors.Is(err, io.EOF) {
			return "", err
		}
		line.Write(part)
		if line.Len() > maxLine {
			return "", &longError{}
		}
		more = prefix && err == nil
	}
	answer := strings.TrimSpace(line.String())
	if n := utf8.RuneCountInString(answer); n > maxAnswer {
		return "", &longError{true, n}
	}
	return answer, nil
}
