package swash_test

import (
	"testing"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Servos that may hardly move let the plate tilt by less than a degree: that limit too
// lies where the pose can just be held.
func TestEnvelopeOfHardlyAnyTravel(t *testing.T) {
	for _, room := range []units.PulseWidth{3, 6, 9, 12, 15, 20} {
		p := evenPlate(t)
		s := plainServo()
		s.Min, s.Max = s.Neutral-room*units.PulseMicrosecond, s.Neutral+room*units.PulseMicrosecond
		mix, err := p.Mix()
		if err != nil {
			t.Fatal(err)
		}
		d := drive(t, p, mix, s, s, s)
		height := p.Neutral().Height
		e, err := d.Envelope(height, 8)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range e.Limits {
			if l.Cause == nil || l.Tilt <= 0 {
				t.Errorf("%v µs: limit %v, cause %v", float64(room), l.Tilt, l.Cause)
				continue
			}
			for _, c := range []struct {
				part units.Angle
				held bool
			}{{1 - 1e-6, true}, {1 + 1e-6, false}} {
				_, _, err := d.Demand(d.NewState(), swash.Pose{Height: height, Tilt: swash.TiltTo(l.Tilt*c.part, l.Bearing)})
				if (err == nil) != c.held {
					t.Errorf("%v µs: at %v of the limit %v: %v", float64(room), float64(c.part), l.Tilt, err)
				}
			}
		}
	}
}
