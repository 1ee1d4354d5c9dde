package choose

import (
	"fmt"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// limits holds what was measured in a mode to the machine's limits.
func (m *measurer) limits(mode string, clip units.PulseWidth) {
	limits, ours := m.rig.Limits, setup.DefaultLimits()
	rate := m.rig.RateLimit()
	if m.Error > limits.PitchError {
		m.unfit = append(m.unfit, beyond("miss of a pitch target", mode, m.Error, limits.PitchError, setup.LimitText(limits.PitchError, ours.PitchError)))
	}
	if m.Rate > rate {
		m.unfit = append(m.unfit, beyond(m.rate, mode, m.Rate, rate, m.rig.RateLimitText()))
	}
	if m.BeyondLimit > clip {
		m.unfit = append(m.unfit, beyond("clipped pulse", mode, m.BeyondLimit, clip, fmt.Sprintf("limit %v", clip)))
	}
	if m.DeadCentre < limits.DeadCentre {
		m.unfit = append(m.unfit, beyond("angle to a dead centre", mode, m.DeadCentre, limits.DeadCentre, setup.LimitText(limits.DeadCentre, ours.DeadCentre)))
	}
	if m.BallLinkAngle > limits.BallLinkAngle {
		m.unfit = append(m.unfit, beyond("cone of a ball link", mode, m.BallLinkAngle, limits.BallLinkAngle, setup.LimitText(limits.BallLinkAngle, ours.BallLinkAngle)))
	}
}
