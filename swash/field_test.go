package swash_test

import (
	"testing"

	"example.org/levelhead/servo"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
	"example.org/levelhead/units/fieldtest"
)

func TestFields(t *testing.T) {
	fieldtest.Check(t, "", func() swash.PlateSpec {
		spec := swash.PlateSpec{Height: 60 * units.Millimetre}
		for _, b := range swash.ThreeAt120(0, 30*units.Millimetre) {
			leg, err := swash.Upright(b, 60*units.Millimetre, 15*units.Millimetre, 60*units.Millimetre, swash.Outward)
			if err != nil {
				t.Fatal(err)
			}
			leg.Stiffness = 20 * units.NewtonPerMillimetre
			spec.Legs = append(spec.Legs, leg)
		}
		return spec
	}, func(s swash.PlateSpec) error {
		_, err := swash.NewPlate(s)
		return err
	})
	p := evenPlate(t)
	mix := swash.ThreeAt120(0, 1).Mix()
	servos := []servo.Servo{plainServo(), plainServo(), plainServo()}
	fieldtest.Check(t, "servos", func() []servo.Servo { return append([]servo.Servo(nil), servos...) }, func(s []servo.Servo) error {
		_, err := swash.NewControl(p, s, mix)
		return err
	})
	fieldtest.Check(t, "mix", func() swash.Mix { return append(swash.Mix(nil), mix...) }, func(m swash.Mix) error {
		_, err := swash.NewControl(p, servos, m)
		return err
	})
	fieldtest.Check(t, "", func() swash.Rates { return swash.Rates{Collective: 1, Right: 1, Forward: 1} }, swash.Rates.Validate)
	fieldtest.Check(t, "", p.Neutral, swash.Pose.Validate)
	d := drive(t, p, mix, plainServo())
	fieldtest.Check(t, "demand", func() swash.Demand { return swash.Demand{} }, func(at swash.Demand) error {
		_, err := d.Pose(d.NewState(), at)
		return err
	})
}
