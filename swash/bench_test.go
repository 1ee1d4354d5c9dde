package swash_test

import (
	"testing"

	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// evenPlate is the plate of testdata/three_servo_plate.csv: three upright
// legs at 120°, 30 mm balls, 15 mm arms and 60 mm links.
func evenPlate(tb testing.TB) *swash.Plate {
	tb.Helper()
	spec := swash.PlateSpec{Height: 60 * units.Millimetre}
	for _, b := range swash.ThreeAt120(0, 30*units.Millimetre) {
		leg, err := swash.Upright(b, 60*units.Millimetre, 15*units.Millimetre, 60*units.Millimetre, swash.Outward)
		if err != nil {
			tb.Fatal(err)
		}
		spec.Legs = append(spec.Legs, leg)
	}
	p, err := swash.NewPlate(spec)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

var benchArms = []units.Angle{18 * units.Degree, -12 * units.Degree, 7 * units.Degree}

func BenchmarkPoseCold(b *testing.B) {
	p := evenPlate(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Pose(benchArms); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPoseWarm(b *testing.B) {
	p := evenPlate(b)
	guess, err := p.Pose([]units.Angle{17 * units.Degree, -12 * units.Degree, 8 * units.Degree})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.PoseNear(guess, benchArms); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkArms(b *testing.B) {
	p := evenPlate(b)
	pose, err := p.Pose(benchArms)
	if err != nil {
		b.Fatal(err)
	}
	arms := make([]units.Angle, 3)
	b.ReportAllocs()
	for b.Loop() {
		if err := p.Arms(arms, pose); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEffects(b *testing.B) {
	p := evenPlate(b)
	pose, err := p.Pose(benchArms)
	if err != nil {
		b.Fatal(err)
	}
	effects := make([]swash.LegEffect, 3)
	b.ReportAllocs()
	for b.Loop() {
		if err := p.LegEffects(effects, pose, benchArms); err != nil {
			b.Fatal(err)
		}
	}
}
