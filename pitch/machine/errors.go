package machine

import "fmt"

// FieldError reports what is wrong with a machine file, and where.
type FieldError struct {
	Path   string // the field, such as "plate.legs[1].servo.sub_trim"; "" is the file as a whole
	Line   int    // in the file, from 1; 0 where the machine did not come from one
	Reason string
	Err    error // the cause, where another package found it
}

func (e *FieldError) Error() string {
	s := "machine file"
	if e.Line > 0 {
		s += fmt.Sprintf(", line %d", e.Line)
	}
	if e.Path != "" {
		s += ": " + e.Path
	}
	return s + ": " + e.Reason
}

func (e *FieldError) Unwrap() error { return e.Err }

// CountError reports that there is more of something than a machine file may hold. It is the
// cause of a *FieldError, which names the field.
type CountError struct {
	Of    string // such as "characters"; "" is what the field lists
	Count int
	Most  int // that are allowed
}

func (e *CountError) Error() string {
	if e.Of == "" {
		return fmt.Sprintf("has %d entries; write at most %d", e.Count, e.Most)
	}
	return fmt.Sprintf("has %d %s; write at most %d", e.Count, e.Of, e.Most)
}
