package linkage_test

import (
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
	"example.org/levelhead/units/fieldtest"
)

func TestFields(t *testing.T) {
	line := func() linkage.LineSpec { return linkage.SliderCrank(1, 3, 0, 90*units.Degree) }
	fieldtest.Check(t, "", func() linkage.ArmSpec { return line().Arm }, func(s linkage.ArmSpec) error {
		_, err := linkage.NewArm(s)
		return err
	})
	fieldtest.Check(t, "", line, func(s linkage.LineSpec) error {
		_, err := linkage.NewArmToLine(s)
		return err
	})
	fieldtest.Check(t, "", func() linkage.ArmsSpec { return linkage.FourBar(40, 120, 80, 100, 1, 1) }, func(s linkage.ArmsSpec) error {
		_, err := linkage.NewArmToArm(s)
		return err
	}, "Driven.Link")
}
