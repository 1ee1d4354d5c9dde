package rotor

import (
	"errors"
	"math"
	"testing"

	"example.org/levelhead/units"
)

// known fails unless err is nil or one of this package's.
func known(t *testing.T, err error) bool {
	t.Helper()
	var (
		input  *units.FieldError
		wake   *WakeError
		thrust *ThrustError
		hold   *HoldError
	)
	if err != nil && !errors.As(err, &input) && !errors.As(err, &wake) && !errors.As(err, &thrust) && !errors.As(err, &hold) {
		t.Fatalf("unknown error %v", err)
	}
	return err == nil
}

// FuzzRotor: whatever the numbers, a finite answer or an error that has a type.
func FuzzRotor(f *testing.F) {
	f.Add(2, 0.7, 0.12, 0.06, 1.0, 0.0, 5.75, 0.93, 0.0113, 1.25, uint8(0), 0.14, 180.0, 1.225, 0.0)
	f.Add(3, 0.7, 0.0, 0.06, 2.0, -0.1, 5.75, 0.93, 0.0113, 1.25, uint8(1), -0.14, 180.0, 1.225, -15.0)
	f.Add(1, 1e-2, 0.0, 1e-5, 0.0, 0.0, 0.1, 10.0, 0.0, 0.0, uint8(2), 5e-324, 0.2, 0.01, 5e-324)
	f.Add(2, math.NaN(), math.Inf(1), 0.06, 1.0, 0.0, 5.75, 0.93, 0.0113, 1.25, uint8(9), 0.14, 180.0, 1.225, 0.0)
	f.Fuzz(func(t *testing.T, blades int, radius, cutout, chord, taper, twist, slope, stall, drag, rise float64, loss uint8,
		pitch, speed, density, climb float64) {
		r, err := New(Spec{
			Blades:  blades,
			Radius:  units.Length(radius),
			Cutout:  units.Length(cutout),
			Chord:   units.Length(chord),
			Taper:   units.Ratio(taper),
			Twist:   units.Angle(twist),
			Axis:    0.3,
			Section: Section{LiftSlope: slope, StallLift: stall, Drag: drag, DragRise: rise},
			TipLoss: TipLoss(loss),
		})
		if !known(t, err) {
			return
		}
		at := Condition{Speed: units.AngularSpeed(speed), Density: Density(density), Climb: units.Velocity(climb)}
		loads, err := r.Loads(units.Angle(pitch), at)
		if !known(t, err) {
			return
		}
		for _, v := range []float64{float64(loads.Thrust), float64(loads.Torque), float64(loads.Power), float64(loads.Feathering)} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("loads %+v", loads)
			}
		}
		if _, got, err := r.PitchFor(loads.Thrust, at); known(t, err) {
			unit := float64(r.scale(Coefficients{Thrust: 1}, at).Thrust)
			// One tolerance of the pitch, at the steepest thrust of a blade.
			within := 2 * pitchTolerance * slope * float64(blades)
			if math.Abs(float64(got.Thrust-loads.Thrust)) > (within+1e-12)*unit {
				t.Fatalf("thrust %v, wanted %v", got.Thrust, loads.Thrust)
			}
		}
	})
}

// FuzzHold: whatever the numbers, a balance or an error that has a type.
func FuzzHold(f *testing.F) {
	f.Add(22.2, 0.012, 96.0, 0.02, 2.5, 8.5, 0.87, 188.0, 1.5)
	f.Add(0.0, 0.0, 96.0, 0.0, 0.0, 8.5, 1.0, 188.0, 0.0)
	f.Add(1e4, 100.0, 0.01, 100.0, 1000.0, 0.01, 0.01, 1e5, 1e6)
	f.Fuzz(func(t *testing.T, volts, source, kv, winding, idle, ratio, efficiency, speed, torque float64) {
		o, err := Electric{
			Source: Source{units.Voltage(volts), units.Resistance(source)},
			Motor:  Motor{units.AngularSpeed(kv), units.Resistance(winding), units.Current(idle)},
			Gear:   Gear{units.Ratio(ratio), units.Ratio(efficiency)},
		}.Hold(units.AngularSpeed(speed), units.Torque(torque))
		if !known(t, err) {
			return
		}
		sum := float64(o.Rotor + o.GearLoss + o.NoLoadLoss + o.CopperLoss + o.SourceLoss)
		if !(o.Throttle >= 0 && o.Throttle <= 1) || !(math.Abs(sum-float64(o.Power)) <= 1e-12*float64(o.Power)) {
			t.Fatalf("power %v, parts %v: %+v", o.Power, sum, o)
		}
	})
}
