package main

import (
	"bytes"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/machine/machinetest"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units/plain"
)

// Whatever machine file is taken, some of its numbers changed, has a page, with sound pictures, and a result as JSON.
func FuzzPage(f *testing.F) {
	f.Add(demo.Direct, []byte{})
	f.Add(demo.BellCranks, []byte{})
	f.Fuzz(func(t *testing.T, data, changes []byte) {
		m, err := machine.Parse(machinetest.Mutated(data, changes))
		if err != nil || len(m.Modes) > 3 || len(m.Plate.Legs) > 6 {
			return // refused, or only slow
		}
		rig, err := setup.Build(m)
		if err != nil {
			return // refused
		}
		s, err := sheet.Of(rig)
		if err != nil {
			return
		}
		var page bytes.Buffer
		if err := writePage(&page, rig, s); err != nil {
			t.Fatal(err)
		}
		showtest.Pictures(t, page.Bytes())
		if bytes.Contains(page.Bytes(), []byte("NaN")) || bytes.Contains(page.Bytes(), []byte("+Inf")) {
			t.Error("no number on the page")
		}
		written, err := plain.Marshal(results.BenchSheet, s)
		if err != nil {
			t.Fatal(err)
		}
		showtest.CheckJSON(t, results.BenchSheet, written)
	})
}
