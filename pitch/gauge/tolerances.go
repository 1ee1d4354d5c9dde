package gauge

import "example.org/levelhead/units"

// Tolerances tell how far each kind of parameter is commonly off from what the file says,
// before anything is measured. Each is one standard deviation of a normal spread about the
// file's value. A kind whose tolerance is 0 is as the file says, and is not looked for.
type Tolerances struct {
	ServoCentre units.Angle  // of the arm at the neutral pulse
	ServoTravel units.Ratio  // of the arm's turn
	EndPoint    units.Ratio  // of either side
	ArmRadius   units.Length // of a servo arm
	ServoLink   units.Length // of a link under the plate
	HubHeight   units.Length
	PitchLink   units.Length
	HornRadius  units.Length // of a pitch horn
}

// DefaultTolerances are for a machine set up with care from its file: servo arms
// squared by eye and sub-trim, links measured by caliper (common practice, no source).
func DefaultTolerances() Tolerances {
	return Tolerances{
		ServoCentre: 1 * units.Degree,
		ServoTravel: 3 * units.Percent,
		EndPoint:    0.5 * units.Percent,
		ArmRadius:   0.1 * units.Millimetre,
		ServoLink:   0.2 * units.Millimetre,
		HubHeight:   0.3 * units.Millimetre,
		PitchLink:   0.3 * units.Millimetre,
		HornRadius:  0.1 * units.Millimetre,
	}
}

// of returns the standard deviation of a parameter in SI units. Those of gauges are
// their own.
func (t *Tolerances) of(k Kind) float64 {
	return [kinds]float64{
		float64(t.ServoCentre), float64(t.ServoTravel), float64(t.EndPoint), float64(t.EndPoint),
		float64(t.ArmRadius), float64(t.ServoLink), float64(t.HubHeight), float64(t.PitchLink),
		float64(t.HornRadius),
	}[k]
}

// validate reports the first tolerance that is below zero or too large for a build to
// be looked at as nearly the file's.
func (t *Tolerances) validate() error {
	const most = 0.35 // rad, ratio: 20°, 35 %
	const longest = 10 * units.Millimetre
	fields := [GaugeZero]string{"ServoCentre", "ServoTravel", "EndPoint", "EndPoint", "ArmRadius", "ServoLink", "HubHeight", "PitchLink", "HornRadius"}
	for k := range Kind(GaugeZero) {
		limit := most
		if name, _ := k.Unit(); name == " mm" {
			limit = float64(longest)
		}
		if s := t.of(k); !(s >= 0 && s <= limit) {
			return refuse("tolerances."+fields[k], "must be from 0 to %s, not %s", k.Format(limit)[1:], k.Format(s))
		}
	}
	return nil
}
