package curve_test

import (
	"testing"

	"example.org/levelhead/curve"
	"example.org/levelhead/units/fieldtest"
)

func TestFields(t *testing.T) {
	fieldtest.Check(t, "points", fivePoints, func(p []curve.Point) error {
		_, err := curve.New(curve.Monotone, p)
		return err
	})
}
