package swash_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// An arm that cannot be built is refused by the path of its field.
func TestRefusesAnArmByItsField(t *testing.T) {
	for field, spoil := range map[string]func(*linkage.ArmSpec){
		"Arm.Radius":  func(s *linkage.ArmSpec) { s.Radius = 0 },
		"Arm.Link":    func(s *linkage.ArmSpec) { s.Link = units.Length(math.NaN()) },
		"Arm.Axis":    func(s *linkage.ArmSpec) { s.Axis = linkage.Direction{} },
		"Arm.Neutral": func(s *linkage.ArmSpec) { s.Neutral = linkage.Direction{} },
		"Arm.Shaft.Y": func(s *linkage.ArmSpec) { s.Shaft.Y = units.Length(math.Inf(-1)) },
	} {
		spec := swash.PlateSpec{Height: 60 * units.Millimetre}
		for _, b := range swash.ThreeAt120(0, 30*units.Millimetre) {
			leg, err := swash.Upright(b, 60*units.Millimetre, 15*units.Millimetre, 60*units.Millimetre, swash.Outward)
			if err != nil {
				t.Fatal(err)
			}
			spec.Legs = append(spec.Legs, leg)
		}
		spoil(&spec.Legs[2].Arm)
		_, err := swash.NewPlate(spec)
		var of *units.FieldError
		if !errors.As(err, &of) || of.Field != "Legs[2]."+field || of.Words != "swash: servo 3: "+strings.TrimSuffix(field, ".Y") {
			t.Errorf("%s: %v", field, err)
		}
	}
}
