package swash

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// However a limit is come to, it is the one that halving alone finds: the same cause, and the
// same tilt to the last of the parts in which limits are found.
func TestLimitIsThatOfHalving(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const height = 60 * units.Millimetre
		spec := PlateSpec{Height: height, Guide: GuideAt(math.Pi)}
		legs := rapid.IntRange(3, 4).Draw(t, "legs")
		var servos []servo.Servo
		var mix Mix
		for i := range legs {
			ball := Ball{Bearing: units.Angle(2 * math.Pi * float64(i) / float64(legs)), Radius: 30 * units.Millimetre}
			arm := units.Length(rapid.Float64Range(8, 20).Draw(t, "arm")) * units.Millimetre
			leg, err := Upright(ball, height, arm, 50*units.Millimetre, Outward)
			if err != nil {
				t.Fatal(err)
			}
			spec.Legs = append(spec.Legs, leg)
			room := units.PulseWidth(rapid.Float64Range(100, 2500).Draw(t, "room")) * units.PulseMicrosecond
			const neutral = 3000 * units.PulseMicrosecond
			servos = append(servos, servo.Servo{
				Neutral: neutral, Throw: 400 * units.PulseMicrosecond, Travel: 36 * units.Degree,
				Low: 1, High: 1, Min: neutral - room, Max: neutral + room,
			})
			sin, cos := math.Sincos(float64(ball.Bearing))
			mix = append(mix, Demand{Collective: 1, Right: -sin, Forward: -cos})
		}
		p, err := NewPlate(spec)
		if err != nil {
			t.Fatal(err)
		}
		d, err := NewControl(p, servos, mix)
		if err != nil {
			t.Fatal(err)
		}
		f := d.frontier(height)
		bearing := units.Angle(rapid.Float64Range(0, 2*math.Pi).Draw(t, "bearing"))
		toward := TiltTo(1, bearing)
		holds := func(tilt units.Angle) error { return f.at(Tilt{tilt * toward.Right, tilt * toward.Forward}).cause }
		want := Limit{bearing, 0, nil}
		strides := 0
		for ; strides < farthest && want.Cause == nil; strides++ {
			want.Cause = holds(units.Angle(strides+1) * stride)
		}
		want.Tilt = maxTilt
		if want.Cause != nil {
			held := units.Angle(strides-1) * stride
			lo, hi := int64(0), int64(parts)
			for hi-lo > 1 {
				mid := (lo + hi) / 2
				if err := holds(held + stride*units.Angle(mid)/parts); err != nil {
					hi, want.Cause = mid, err
				} else {
					lo = mid
				}
			}
			want.Tilt = held + stride*units.Angle(lo)/parts
		}
		same := func(from int) {
			got := f.limit(bearing, from)
			if got.Tilt != want.Tilt || text(got.Cause) != text(want.Cause) {
				t.Errorf("from %d strides: %.15g rad, %v; by halving %.15g rad, %v", from, float64(got.Tilt), got.Cause, float64(want.Tilt), want.Cause)
			}
		}
		for _, from := range []int{0, max(strides-3, 0), min(strides+3, farthest)} {
			same(from)
		}
	})
}

func text(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}
