package linkage

import (
	"fmt"

	"example.org/levelhead/units"
)

// SpecError reports a part of an arm's description that cannot be built.
type SpecError struct {
	Field  string // the field of ArmSpec, such as "Radius"
	Reason string // what is wrong with it, with the amount
}

func (e *SpecError) Error() string { return "linkage: " + e.Field + ": " + e.Reason }

// ReachError reports that a link cannot span from its arm's circle to the
// ball it should drive, whatever the arm's angle.
type ReachError struct {
	// Gap is by how much the link is too short (positive) or too long
	// (negative) at the arm angle where it comes nearest to fitting.
	Gap units.Length
}

func (e *ReachError) Error() string {
	if e.Gap < 0 {
		return fmt.Sprintf("linkage: link too long by %.4g mm", -e.Gap.Millimetres())
	}
	return fmt.Sprintf("linkage: link too short by %.4g mm", e.Gap.Millimetres())
}
