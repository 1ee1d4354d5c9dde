package setup

import "fmt"

// ModeError reports what keeps a flight mode from being worked out.
type ModeError struct {
	Mode  string
	Where string // such as "stick 100 %"
	Err   error
}

func (e *ModeError) Error() string {
	return fmt.Sprintf("mode %q, %s: %v", e.Mode, e.Where, e.Err)
}

func (e *ModeError) Unwrap() error { return e.Err }
