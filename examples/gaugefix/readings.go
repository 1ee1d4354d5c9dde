package main

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/setup"
)

// example is an invented session on the demonstration machine, and the template of a
// readings file.
//
//go:embed session.csv
var example []byte

// columns of a readings file, in their order.
var columns = []string{"what", "which", "mode", "stick", "right", "forward", "bearing", "reads"}

// The most that a readings file may hold: far more than anyone writes into one.
const (
	maxFile = 1 << 20 // bytes
	maxCell = 200     // characters of a cell
)

// lineError reports a fault of a readings file.
type lineError struct {
	Line   int    // from 1
	Column string // by its name; "" is the whole line
	Err    error
}

func (e *lineError) Error() string {
	if e.Column == "" {
		return fmt.Sprintf("line %d: %v", e.Line, e.Err)
	}
	return fmt.Sprintf("line %d, column %s: %v", e.Line, e.Column, e.Err)
}

func (e *lineError) Unwrap() error { return e.Err }

// parse reads a readings file of a machine with so many blades. It returns the readings, and the line of each. The error is
// a *lineError.
func parse(data []byte, rig *setup.Rig, blades int) (readings []gauge.Reading, lines []int, err error) {
	file := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))) // spreadsheets begin with a mark
	file.Comment, file.TrimLeadingSpace, file.FieldsPerRecord = '#', true, -1
	for first := true; ; first = false {
		cells, err := file.Read()
		if errors.Is(err, io.EOF) && !first {
			return readings, lines, nil
		}
		if errors.Is(err, io.EOF) {
			err = fmt.Errorf("the header is missing; begin with %s", strings.Join(columns, ","))
		}
		if err != nil {
			line := 1 + bytes.Count(data, []byte("\n"))
			if fault := (*csv.ParseError)(nil); errors.As(err, &fault) {
				line, err = fault.Line, fault.Err
			}
			return nil, nil, &lineError{Line: line, Err: err}
		}
		line, _ := file.FieldPos(0)
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		switch {
		case first && !slices.Equal(cells, columns):
			return nil, nil, &lineError{Line: line, Err: fmt.Errorf("the header is wrong; write %s", strings.Join(columns, ","))}
		case first:
			continue
		case len(cells) != len(columns):
			return nil, nil, &lineError{Line: line, Err: fmt.Errorf("the row has %d cells; write %d, with a comma for each empty one", len(cells), len(columns))}
		}
		reading, column, err := parseRow(cells, rig, blades)
		if err != nil {
			at, _ := file.FieldPos(slices.Index(columns, column)) // a cell in quotes can begin on a later line
			return nil, nil, &lineError{at, column, err}
		}
		if len(readings) == gauge.MaxReadings {
			return nil, nil, &lineError{Line: line, Err: fmt.Errorf("the file has more than %d readings; leave some out", gauge.MaxReadings)}
		}
		readings, lines = append(readings, reading), append(lines, line)
	}
}
