package swash_test

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/linkage/linkagetest"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// A leg of a plate is a geometry type as any other, and holds the laws of one.
func TestLegLinkageHoldsTheLaws(t *testing.T) {
	linkagetest.Test(t, func(t *rapid.T) linkage.Linkage {
		p := build(t, drawUneven(t))
		leg, err := p.LegLinkage(rapid.IntRange(0, 2).Draw(t, "leg"))
		if err != nil {
			t.Fatal(err)
		}
		return leg
	})
}

// fourLegs is a plate of four even legs, of which one link is 0.1 mm long.
func fourLegs(tb testing.TB) *swash.Plate {
	tb.Helper()
	spec := swash.PlateSpec{Height: 60 * units.Millimetre}
	for i, b := range swash.FourAt90(0, 30*units.Millimetre) {
		leg, err := swash.Upright(b, spec.Height, 15*units.Millimetre, 60*units.Millimetre, swash.Outward)
		if err != nil {
			tb.Fatal(err)
		}
		if i == 2 {
			leg.Arm.Link += 0.1 * units.Millimetre
		}
		leg.Stiffness = 100 * units.NewtonPerMillimetre
		spec.Legs = append(spec.Legs, leg)
	}
	p, err := swash.NewPlate(spec)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

func BenchmarkPoseFourLegs(b *testing.B) {
	p := fourLegs(b)
	arms := []units.Angle{18 * units.Degree, -12 * units.Degree, 7 * units.Degree, 36 * units.Degree}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := p.Pose(arms); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEffectsFourLegs(b *testing.B) {
	p := fourLegs(b)
	effects, arms := make([]swash.LegEffect, 4), make([]units.Angle, 4)
	b.ReportAllocs()
	for b.Loop() {
		if err := p.LegEffects(effects, p.Neutral(), arms); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFights(b *testing.B) {
	p := fourLegs(b)
	arms, fights := make([]units.Angle, 4), make([]swash.Fight, 4)
	b.ReportAllocs()
	for b.Loop() {
		if err := p.Fights(fights, p.Neutral(), arms); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLegLinkage(b *testing.B) {
	leg, err := evenPlate(b).LegLinkage(0)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		m, err := leg.Move(0.2)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := leg.Back(m.Out); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBellCranks(b *testing.B) {
	lever := func(ratio float64, out linkage.Kind) linkage.Linkage {
		l, err := linkage.NewLever(ratio, linkage.Angle, out)
		if err != nil {
			b.Fatal(err)
		}
		return l
	}
	rocker, err := linkage.NewArmToArm(linkage.FourBar(14*units.Millimetre, 50*units.Millimetre, 30*units.Millimetre, 50*units.Millimetre, 90*units.Degree, 90*units.Degree))
	if err != nil {
		b.Fatal(err)
	}
	m, err := swash.NewBellCranks(swash.BellCrankSpec{Height: 60 * units.Millimetre, Collective: lever(0.012, linkage.Length), Right: rocker, Forward: rocker})
	if err != nil {
		b.Fatal(err)
	}
	arms := []units.Angle{0.2, 0.1, -0.1}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.Pose(arms); err != nil {
			b.Fatal(err)
		}
	}
}
