package setup

import (
	"fmt"

	"example.org/levelhead/units"
)

// RateLimit returns the largest rate that the radio takes, of collective and of
// cyclic alike.
func (r *Rig) RateLimit() units.Ratio { return orFull(r.Radio().RateLimit) }

// RateLimitText says the RateLimit in words: as ours where the file does not give the
// radio's.
func (r *Rig) RateLimitText() string {
	if r.Radio().RateLimit == nil {
		return fmt.Sprintf("our limit %v; the radio's manual decides", r.RateLimit())
	}
	return fmt.Sprintf("the radio's limit %v", r.RateLimit())
}

// TrimStep returns the step in which sub-trims are set: the radio's, or for a stepless one
// 1 µs, as finely as anyone sets it.
func (r *Rig) TrimStep() units.PulseWidth {
	if step := r.Radio().PulseStep; step > 0 {
		return step
	}
	return 1 * units.PulseMicrosecond
}
