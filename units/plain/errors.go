package plain

import "fmt"

// An Error reports a value that cannot be written.
type Error struct {
	Path   string // of the value in what was to be written, such as "modes[0].rows[2].gauge_deg"
	Reason string // what the value must be, and what it is
	Err    error  // the cause, where there is one
}

func (e *Error) Error() string {
	if e.Path == "" {
		return "plain: " + e.Reason
	}
	return "plain: " + e.Path + " " + e.Reason
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

func refuse(path, reason string, args ...any) *Error {
	return &Error{Path: path, Reason: fmt.Sprintf(reason, args...)}
}
