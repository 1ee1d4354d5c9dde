package pitch_test

import (
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
	"example.org/levelhead/units/fieldtest"
)

func TestFields(t *testing.T) {
	g := demoGrip(t)
	fieldtest.Check(t, "", func() pitch.GripSpec {
		spec := g.Spec()
		mm := units.Millimetre
		spec.Mixer = pitch.MixingArm{PlateSide: 10 * mm, BarSide: 12 * mm, BarRadius: 20 * mm, WashoutIn: 10 * mm, WashoutOut: 12 * mm}
		return spec
	}, func(s pitch.GripSpec) error {
		_, err := pitch.NewGrip(s, neutral)
		return err
	})
	fieldtest.Check(t, "pose", func() swash.Pose { return swash.Pose{Height: neutral} }, func(p swash.Pose) error {
		_, err := g.Pitch(0, p)
		return err
	})
	fieldtest.Check(t, "want", func() pitch.Cyclic { return pitch.Cyclic{Collective: 3 * units.Degree} }, func(c pitch.Cyclic) error {
		_, err := g.PoseFor(c)
		return err
	})
}
