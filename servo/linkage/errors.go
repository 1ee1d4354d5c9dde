package linkage

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// SpecError reports a part of an arm's description that cannot be built.
type SpecError struct {
	Field  string // the field of the spec, such as "Radius", "Driven.Radius" or "member 2"
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

// TravelError reports an input outside a linkage's travel, or an output that no
// input within it gives.
type TravelError struct {
	In     float64 // the input asked for; NaN where an output was asked for
	Out    float64 // the output asked for, where In is NaN
	Excess float64 // of the input over the travel's end, below 0 at the lower one; of the output over the range of outputs alike
	Stop   Stop    // what ends the travel there
}

func (e *TravelError) Error() string {
	if math.IsNaN(e.In) {
		return fmt.Sprintf("linkage: output %.6g is outside its range by %.3g (SI units): %v", e.Out, e.Excess, e.Stop)
	}
	return fmt.Sprintf("linkage: input %.6g is outside its travel by %.3g (SI units): %v", e.In, e.Excess, e.Stop)
}
