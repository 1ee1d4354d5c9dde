package linkage

import (
	"fmt"
	"math"

	"example.org/levelhead/units"
)

// words are the fields and arguments as the text of an error has them, where those are not
// the fields themselves.
var words = units.FieldNames{
	"Shaft": "Shaft", "Axis": "Axis", "Neutral": "Neutral", "Ball": "Ball", "Along": "Along",

	"ratio": "Ratio", "in": "Kind", "out": "Kind", "members[]": "member %d",
}

// ReachError reports that a link cannot span from its arm's circle to the
// ball it should drive, whatever the arm's angle.
type ReachError struct {
	// Gap is by how much the link is too short (positive) or too long
	// (negative) at the arm angle where it comes nearest to fitting.
	Gap units.Length
}

func (e *ReachError) Error() string {
	switch gap := math.Abs(e.Gap.Millimetres()); {
	case math.IsNaN(gap):
		return "the link ends at no finite place"
	case gap < 0.001:
		return "the link just misses, by less than 0.001 mm, at any angle of its arm"
	case e.Gap < 0:
		return fmt.Sprintf("the link is too long by %.4g mm at any angle of its arm", -e.Gap.Millimetres())
	}
	return fmt.Sprintf("the link is too short by %.4g mm at any angle of its arm", e.Gap.Millimetres())
}

// TravelError reports an input outside a linkage's travel, or an output that no
// input within it gives.
type TravelError struct {
	In     float64 // the input asked for, in radians or metres as the linkage's Kinds say; NaN where an output was asked for
	Out    float64 // the output asked for, where In is NaN
	Excess float64 // by how much the input, or the output, passes the end of its range: negative at the lower end
	Stop   Stop    // what ends the travel there
}

func (e *TravelError) Error() string {
	what, value := "input", e.In
	if math.IsNaN(e.In) {
		what, value = "output", e.Out
	}
	text := fmt.Sprintf("the %s of %.6g is beyond the linkage's travel by %.3g (rad or m)", what, value, e.Excess)
	if e.Stop != Unbounded {
		text += ", which ends with the " + e.Stop.String()
	}
	return text
}

var errEmpty = &units.FieldError{Words: "linkage", Reason: "is empty; make it with its constructor"}
