package choose

import (
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

// limits compares what was measured in a mode with the machine's limits.
func (m *measurer) limits(mode string, beyondLimit units.PulseWidth) {
	limits, ours := m.rig.Limits(), machine.DefaultLimits()
	rate := m.rig.RateLimit()
	if m.Error > limits.PitchError {
		m.unfit = append(m.unfit, beyond("pitch error", mode, m.Error, limits.PitchError, machine.LimitText(limits.PitchError, ours.PitchError)))
	}
	if m.Rate > rate {
		m.unfit = append(m.unfit, beyond(m.rate, mode, m.Rate, rate, m.rig.RateLimitText()))
	}
	if m.BeyondLimit > beyondLimit {
		m.unfit = append(m.unfit, &PulseError{mode, m.BeyondLimit, beyondLimit})
	}
	if m.DeadCentre < limits.DeadCentre {
		m.unfit = append(m.unfit, beyond("angle to a dead centre", mode, m.DeadCentre, limits.DeadCentre, machine.LimitText(limits.DeadCentre, ours.DeadCentre)))
	}
	if m.BallLinkAngle > limits.BallLinkAngle {
		m.unfit = append(m.unfit, beyond("ball-link angle", mode, m.BallLinkAngle, limits.BallLinkAngle, machine.LimitText(limits.BallLinkAngle, ours.BallLinkAngle)))
	}
}
