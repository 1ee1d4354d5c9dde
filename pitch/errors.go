package pitch

import (
	"fmt"
	"strings"

	"example.org/levelhead/units"
)

// SpecError reports a part of a description that cannot be built, or a number
// that nothing can be, as in
//
//	pitch: ring radius must be more than 0 mm, not -3 mm
type SpecError struct {
	Field  string // in words, such as "ring radius" or "mixing arm, bar side"
	Reason string // what it must be, and what it is
	Err    error  // the cause, where another package found it
}

func (e *SpecError) Error() string { return "pitch: " + e.Field + " " + e.Reason }

func (e *SpecError) Unwrap() error { return e.Err }

// GripError reports a blade position at which the pitch link does not fit.
type GripError struct {
	Bearing units.Angle // of the blade, from the nose, clockwise seen from above
	Err     error       // a *linkage.ReachError or a *swash.DeadCentreError, whose arm is the pitch horn
}

func (e *GripError) Error() string {
	return fmt.Sprintf("pitch: pitch link and pitch horn, with the blade at %.4g° (clockwise from the nose): %s", e.Bearing.Degrees(), because(e.Err))
}

func (e *GripError) Unwrap() error { return e.Err }

// TargetError reports a blade pitch that the head cannot give.
type TargetError struct {
	Wanted  Cyclic
	Reached Cyclic // the nearest that PoseFor found
	Err     error  // what stopped the search, where something did
}

func (e *TargetError) Error() string {
	s := fmt.Sprintf("pitch: the head cannot give %v; the nearest found is %v", e.Wanted, e.Reached)
	if e.Err != nil {
		s += ", since " + because(e.Err)
	}
	return s
}

func (e *TargetError) Unwrap() error { return e.Err }

// because returns an error's words without the package's name, which the words around it bear.
func because(err error) string {
	return strings.TrimPrefix(strings.TrimPrefix(err.Error(), "pitch: "), "swash: ")
}
