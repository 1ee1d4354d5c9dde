package machine

import "example.org/levelhead/units"

// OffScale reports whether the gauge, read to half a step, cannot show an angle.
func (g Gauge) OffScale(p units.Angle) bool {
	return p < g.Low-g.Step/2 || p > g.High+g.Step/2
}
