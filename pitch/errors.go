package pitch

import (
	"fmt"

	"example.org/levelhead/units"
)

// SpecError reports a part of a description that cannot be built, or a number
// that makes no sense.
type SpecError struct {
	Field  string
	Reason string
	Err    error // the cause, where another package found it
}

func (e *SpecError) Error() string { return "pitch: " + e.Field + ": " + e.Reason }

func (e *SpecError) Unwrap() error { return e.Err }

// GripError reports a blade bearing at which the pitch link does not fit.
type GripError struct {
	Bearing units.Angle
	Err     error // a *linkage.ReachError or a *swash.DeadCentreError
}

func (e *GripError) Error() string {
	return fmt.Sprintf("pitch: blade at bearing %.4g°: %v", e.Bearing.Degrees(), e.Err)
}

func (e *GripError) Unwrap() error { return e.Err }

// TargetError reports a blade pitch that the head cannot give.
type TargetError struct {
	Wanted  Cyclic
	Reached Cyclic // the nearest that was found
	Err     error  // what stopped the search, where something did
}

func (e *TargetError) Error() string {
	s := fmt.Sprintf("pitch: wanted %v, reached no nearer than %v", e.Wanted, e.Reached)
	if e.Err != nil {
		s += ": " + e.Err.Error()
	}
	return s
}

func (e *TargetError) Unwrap() error { return e.Err }
