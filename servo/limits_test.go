package servo_test

import (
	"errors"
	"math"
	"testing"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// nextTo returns the number next to x on the way to end.
func nextTo[Q ~float64](x Q, end float64) Q { return Q(math.Nextafter(float64(x), end)) }

// A pulse on a limit is within it; the next number beyond is not, and the error says
// by how much.
func TestPulseForOnTheLimits(t *testing.T) {
	for name, arm := range map[string]units.Angle{"longest": 50 * units.Degree, "shortest": -50 * units.Degree} {
		s := plain()
		want, err := s.PulseFor(arm)
		if err != nil {
			t.Fatal(err)
		}
		limit, inward, sign := &s.Max, math.Inf(-1), 1.
		if name == "shortest" {
			limit, inward, sign = &s.Min, math.Inf(1), -1
		}
		*limit = want
		if got, err := s.PulseFor(arm); err != nil || got != want {
			t.Errorf("%s pulse: %v, %v; want %v", name, got, err, want)
		}
		*limit = nextTo(want, inward)
		var beyond *servo.RangeError
		if _, err := s.PulseFor(arm); !errors.As(err, &beyond) || beyond.Arm != arm || !(sign*float64(beyond.Excess) > 0) || beyond.Excess != want-*limit {
			t.Errorf("next to the %s pulse: %v", name, err)
		}
	}
}

// The ends of a rating's fields are allowed, or are refused, as Validate's errors say,
// and so is the next number.
func TestRatingLimits(t *testing.T) {
	const tiny = math.SmallestNonzeroFloat64
	up, down, huge := math.Inf(1), math.Inf(-1), math.MaxFloat64
	for name, c := range map[string]struct {
		set      func(*servo.Rating, float64)
		allowed  []float64
		excluded []float64
	}{
		"voltage above zero": {
			func(r *servo.Rating, v float64) { r.Points[0].Voltage = units.Voltage(v) }, []float64{tiny}, []float64{0, down, up, math.NaN()}},
		"voltage above the one before": {
			func(r *servo.Rating, v float64) { r.Points[1].Voltage = units.Voltage(v) },
			[]float64{nextTo(4.8, up), nextTo(7.4, down)}, []float64{4.8, 7.4}},
		"voltage of the last": {
			func(r *servo.Rating, v float64) { r.Points[2].Voltage = units.Voltage(v) }, []float64{huge}, []float64{6, up}},
		"stall torque": {
			func(r *servo.Rating, v float64) { r.Points[1].Stall = units.Torque(v) }, []float64{tiny, huge}, []float64{0, up, math.NaN()}},
		"speed": {
			func(r *servo.Rating, v float64) { r.Points[1].Speed = units.AngularSpeed(v) }, []float64{tiny, huge}, []float64{0, up, math.NaN()}},
		"deadband": {
			func(r *servo.Rating, v float64) { r.Deadband = units.PulseWidth(v) }, []float64{0, huge}, []float64{-tiny, up, math.NaN()}},
		"full torque at": {
			func(r *servo.Rating, v float64) { r.FullTorqueAt = units.Angle(v) },
			[]float64{1e-300, float64(90 * units.Degree)}, []float64{0, float64(90*units.Degree) * (1 + 0x1p-50), up, math.NaN()}},
		"frame": {
			func(r *servo.Rating, v float64) { r.Frame = units.Time(v) }, []float64{tiny, huge}, []float64{0, up, math.NaN()}},
	} {
		for _, v := range c.allowed {
			r := digital()
			c.set(&r, v)
			if err := r.Validate(); err != nil {
				t.Errorf("%s of %v: %v", name, v, err)
			}
		}
		for _, v := range c.excluded {
			r := digital()
			c.set(&r, v)
			var field *units.FieldError
			if err := r.Validate(); !errors.As(err, &field) {
				t.Errorf("%s of %v: %v", name, v, err)
			}
		}
	}
}
