package network_test

import (
	"testing"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/servo/network"
	"example.org/levelhead/units/fieldtest"
)

// What is not of a body's kind does not matter: the Height of a crank, and the Point and Axis
// of a plate.
func TestFields(t *testing.T) {
	fieldtest.Check(t, "", func() network.Spec {
		s := with(fourBar(), network.Spec{Bodies: []network.Body{
			{Name: "plate", Kind: network.Plate, Input: true},
			{Name: "rod", Kind: network.Slider, Axis: linkage.Direction{Z: 1}, Input: true},
		}})
		s.Links[0].Stiffness = 1000
		return s
	}, func(s network.Spec) error {
		_, err := network.New(s)
		return err
	}, "Bodies[0].Height", "Bodies[1].Height", "Bodies[3].Height", "Bodies[2].Point", "Bodies[2].Axis")
}
