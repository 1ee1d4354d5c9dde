package units

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
)

// A FieldError reports a field that cannot be: which one, in Go and in words, and why. The
// packages of this library say so of whatever they are given, as in
//
//	low end point must be more than 0 %, not -3 %
//
// whose Field is "Low".
type FieldError struct {
	// Field is a path as in Go, from the struct that was checked: "Throw",
	// "Points[2].Stall" or "Legs[1].Arm.Radius"; "" is the whole of what was checked. Where
	// a function takes more than one such thing, the path begins with the name of the
	// argument: "at.Speed".
	Field  string
	Words  string // what Error calls the field, where that is not Field itself; things count from 1
	Reason string // what the field must be, and what it is
	Err    error  // the cause, where there is one: a typed error with the amounts
}

func (e *FieldError) Error() string { return cmp.Or(e.Words, e.Field) + " " + e.Reason }

// Unwrap returns the cause.
func (e *FieldError) Unwrap() error { return e.Err }

// In returns err as an error of something larger, in which what err was found in is the
// field or element at the path outer: "Throw" in "Servos[1]" is "Servos[1].Throw". Words,
// such as "servo 2: ", go before those of err. An error that is no *FieldError, though one may
// be among its causes, becomes the cause of one of the field outer itself. In of nil is nil.
func In(outer, words string, err error) error {
	if err == nil {
		return nil
	}
	inner, ok := err.(*FieldError)
	if !ok {
		return &FieldError{outer, strings.TrimSuffix(words, " "), err.Error(), err}
	}
	e := *inner
	e.Words = words + cmp.Or(e.Words, e.Field)
	switch {
	case e.Field == "" || outer == "" || e.Field[0] == '[':
		e.Field = outer + e.Field
	default:
		e.Field = outer + "." + e.Field
	}
	return &e
}

// FieldNames are what fields are called elsewhere than in Go: in words, or in a file. A key
// is a path as in [FieldError] with nothing between its brackets: "Points[].Stall". It
// also stands for all that is inside that field and has no key of its own. Each %d of the
// name stands for an index, in order.
type FieldNames map[string]string

// Of returns the name of the field at a path, with indices counted from first, 0 or 1. Where
// that is the name of a field around it, inside is the way from there, such as ".Stall". Where
// there is no name it is "".
func (n FieldNames) Of(field string, first int) (name, inside string) {
	for around := field; around != ""; around = around[:max(strings.LastIndexAny(around, ".["), 0)] {
		key, indices := unindexed(around)
		name, ok := n[key]
		if !ok {
			continue
		}
		for _, i := range indices {
			name = strings.Replace(name, "%d", strconv.Itoa(i+first), 1)
		}
		return name, field[len(around):]
	}
	return "", field
}

// Refuse returns the error of the field at a path that is called by its name, with indices
// counted from 1. Its reason is made as by [fmt.Sprintf].
func (n FieldNames) Refuse(field, reason string, args ...any) *FieldError {
	words, _ := n.Of(field, 1)
	return &FieldError{Field: field, Words: words, Reason: fmt.Sprintf(reason, args...)}
}

// unindexed takes the indices out of the brackets of a path.
func unindexed(field string) (key string, indices []int) {
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(field, "[")
		b.WriteString(before)
		if !found {
			return b.String(), indices
		}
		digits, after, _ := strings.Cut(rest, "]")
		i, _ := strconv.Atoi(digits)
		indices = append(indices, i)
		b.WriteString("[]")
		field = after
	}
}
