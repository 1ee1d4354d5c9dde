package servo_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// digital is an invented servo.
func digital() servo.Rating {
	return servo.Rating{
		Points: []servo.RatingPoint{
			{Voltage: 4.8 * units.Volt, Stall: 8 * units.KilogramForceCentimetre, Speed: units.TransitSpeed(0.12 * units.Second)},
			{Voltage: 6 * units.Volt, Stall: 10 * units.KilogramForceCentimetre, Speed: units.TransitSpeed(0.10 * units.Second)},
			{Voltage: 7.4 * units.Volt, Stall: 13 * units.KilogramForceCentimetre, Speed: units.TransitSpeed(0.08 * units.Second)},
		},
		Deadband:     2 * µs,
		FullTorqueAt: 0.8 * units.Degree,
		Frame:        3 * units.Millisecond,
	}
}

func TestRatingAt(t *testing.T) {
	r := digital()
	if err := r.Validate(); err != nil {
		t.Fatal(err)
	}
	for volts, want := range map[float64]float64{4.8: 8, 5.4: 9, 6: 10, 6.7: 11.5, 7.4: 13} {
		p, err := r.At(units.Voltage(volts))
		if err != nil || math.Abs(p.Stall.KilogramForceCentimetres()-want) > 1e-12 {
			t.Errorf("%v V: %v, %v; want %v kgf·cm", volts, p.Stall, err, want)
		}
	}
	// Half-way in voltage is half-way in speed, not in transit time.
	p, err := r.At(5.4)
	want := (float64(r.Points[0].Speed) + float64(r.Points[1].Speed)) / 2
	if err != nil || math.Abs(float64(p.Speed)-want) > 1e-12 {
		t.Errorf("speed %v, want %v", float64(p.Speed), want)
	}
	var v *servo.VoltageError
	if p, err := r.At(8.4); !errors.As(err, &v) || math.Abs(float64(v.Beyond)-1) > 1e-12 || p != r.Points[2] {
		t.Errorf("8.4 V: %v, %v", p, err)
	}
	if p, err := r.At(3); !errors.As(err, &v) || v.Beyond >= 0 || p != r.Points[0] {
		t.Errorf("3 V: %v, %v", p, err)
	}
	var f *units.FieldError
	if _, err := r.At(units.Voltage(math.NaN())); !errors.As(err, &f) {
		t.Errorf("NaN: %v", err)
	}
	if _, err := (&servo.Rating{}).At(6); !errors.As(err, &f) {
		t.Errorf("no points: %v", err)
	}
}

// ArmYield is half the deadband without load, and grows in proportion to the load up to
// the error of full torque.
func TestSag(t *testing.T) {
	r, s := digital(), plain() // 45° for 400 µs: 2 µs are 0.225°
	rapid.Check(t, func(t *rapid.T) {
		part := rapid.Float64Range(0, 0.999).Draw(t, "part of stall")
		at := r.Points[1]
		sag, err := r.ArmYield(at, &s, -units.Torque(part)*at.Stall)
		if want := 0.1125 + 0.8*part; err != nil || math.Abs(sag.Degrees()-want) > 1e-9 {
			t.Fatalf("%v°, %v; want %v°", sag.Degrees(), err, want)
		}
	})
	var over *servo.OverloadError
	if _, err := r.ArmYield(r.Points[1], &s, r.Points[1].Stall); !errors.As(err, &over) {
		t.Errorf("at stall: %v", err)
	}
	if _, err := r.ArmYield(r.Points[1], &s, units.Torque(math.NaN())); !errors.As(err, &over) {
		t.Errorf("NaN: %v", err)
	}
}

func TestStrokeTime(t *testing.T) {
	r := digital()
	at := r.Points[1]
	for _, c := range []struct{ turn, load, want float64 }{
		{60, 0, 0.103}, {-60, 0, 0.103}, {30, 0, 0.053}, {60, 0.5, 0.203}, {60, -0.5, 0.103},
	} {
		got, err := r.StrokeTime(at, units.Angle(c.turn)*units.Degree, units.Torque(c.load)*at.Stall)
		if err != nil || math.Abs(float64(got)-c.want) > 1e-12 {
			t.Errorf("%v° against %v of stall: %v, %v; want %v s", c.turn, c.load, got, err, c.want)
		}
	}
	var over *servo.OverloadError
	if _, err := r.StrokeTime(at, 1, 2*at.Stall); !errors.As(err, &over) {
		t.Errorf("beyond stall: %v", err)
	}
}

func TestRatingValidate(t *testing.T) {
	for name, spoil := range map[string]func(*servo.Rating){
		"Points":            func(r *servo.Rating) { r.Points = nil },
		"Points[0].Stall":   func(r *servo.Rating) { r.Points[0].Stall = 0 },
		"Points[1].Voltage": func(r *servo.Rating) { r.Points[1].Voltage = 4 },
		"Points[2].Speed":   func(r *servo.Rating) { r.Points[2].Speed = units.AngularSpeed(math.Inf(1)) },
		"Deadband":          func(r *servo.Rating) { r.Deadband = -1 },
		"FullTorqueAt":      func(r *servo.Rating) { r.FullTorqueAt = 0 },
		"Frame":             func(r *servo.Rating) { r.Frame = units.Time(math.NaN()) },
	} {
		r := digital()
		spoil(&r)
		var f *units.FieldError
		if err := r.Validate(); !errors.As(err, &f) || f.Field != name {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// An invented digital servo on 6.6 V: how far its arm gives way under 3 kgf·cm, and
// how long a stroke of 40° takes against it.
func ExampleRating() {
	r := digital()
	at, err := r.At(6.6 * units.Volt)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := plain()
	load := 3 * units.KilogramForceCentimetre
	sag, err := r.ArmYield(at, &s, load)
	if err != nil {
		fmt.Println(err)
		return
	}
	stroke, err := r.StrokeTime(at, 40*units.Degree, load)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("stalls at %.1f kgf·cm; gives way by %.2f°; the stroke takes %.0f ms\n",
		at.Stall.KilogramForceCentimetres(), sag.Degrees(), 1000*float64(stroke))
	// Output: stalls at 11.3 kgf·cm; gives way by 0.33°; the stroke takes 85 ms
}
