package setup

import (
	"errors"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Symmetry compares the gauge at the two ends of a stick whose curve ends in
// equal and opposite values.
type Symmetry struct {
	Low  units.Angle `json:"low"`
	High units.Angle `json:"high"`
	// Sum is Low plus High: zero for equal and opposite pitch.
	Sum units.Angle `json:"sum"`
	// Geometry is what the sum would be with every arm in its drawn neutral
	// direction, untrimmed and alike: what arms, links and pitch horns make alone.
	Geometry units.Angle `json:"geometry"`
	// Settings is the rest: sub-trims, end points, radio steps and arms off
	// their drawn direction.
	Settings units.Angle `json:"settings"`
}

// errAtLimit stops a comparison that a pulse limit would spoil.
var errAtLimit = errors.New("a servo reaches its limit")

// Symmetry compares the ends of the collective stick, where the pitch curve
// asks for equal and opposite demands there and no servo reaches its limit.
func (s Setup) Symmetry() *Symmetry {
	if s.Validate() != nil {
		return nil
	}
	low, high := s.mode.setting.Pitch.At(0), s.mode.setting.Pitch.At(1)
	if low+high != 0 || high == 0 {
		return nil
	}
	rate := float64(s.mode.setting.Rates.Collective)
	ends := func(head *pitch.Head) (lo, hi units.Angle, err error) {
		out := head.Control.NewState()
		for _, end := range []struct {
			demand float64
			to     *units.Angle
		}{{low, &lo}, {high, &hi}} {
			if *end.to, _, err = head.Blade(out, s.rig.file.Gauge.Bearing, swash.Demand{Collective: rate * end.demand}); err != nil {
				return 0, 0, err
			}
			if _, by := WorstBeyond(out.BeyondLimit); by != 0 {
				return 0, 0, errAtLimit
			}
		}
		return lo, hi, nil
	}
	lo, hi, err := ends(s.rig.head)
	if err != nil {
		return nil
	}
	plain := s.rig.head.Control
	for i, servo := range plain.Servos() {
		servo.Mount, servo.SubTrim, servo.Step, servo.Low, servo.High = 0, 0, 0, 1, 1
		if plain, err = plain.WithServo(i, servo); err != nil {
			return nil
		}
	}
	plainLow, plainHigh, err := ends(&pitch.Head{Control: plain, Grip: s.rig.head.Grip})
	if err != nil {
		return nil
	}
	made := &Symmetry{Low: lo, High: hi, Sum: lo + hi, Geometry: plainLow + plainHigh}
	made.Settings = made.Sum - made.Geometry
	return made
}
