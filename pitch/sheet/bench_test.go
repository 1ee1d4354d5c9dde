package sheet_test

import (
	"strings"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
)

// forEachMachine runs a benchmark for each machine of the examples: as it is, and those with a
// rotor without it too, so that there are no loads.
func forEachMachine(b *testing.B, run func(b *testing.B, m *machine.Machine)) {
	for name, data := range rigtest.Files(b) {
		name = strings.TrimSuffix(name, ".json")
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			run(b, rigtest.Parse(b, data))
		})
		bare := rigtest.Parse(b, data)
		if bare.Rotor == nil {
			continue
		}
		bare.Rotor, bare.Power, bare.Mass = nil, nil, nil
		for i := range bare.Modes {
			bare.Modes[i].RotorSpeed = nil
		}
		b.Run(name+" without loads", func(b *testing.B) {
			b.ReportAllocs()
			run(b, bare)
		})
	}
}

func BenchmarkSheet(b *testing.B) {
	forEachMachine(b, func(b *testing.B, m *machine.Machine) {
		rig, err := setup.Build(m)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			if _, err := sheet.Of(rig); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkBuild(b *testing.B) {
	forEachMachine(b, func(b *testing.B, m *machine.Machine) {
		for b.Loop() {
			if _, err := setup.Build(m); err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for name, data := range rigtest.Files(b) {
		b.Run(strings.TrimSuffix(name, ".json"), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := machine.Parse(data); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
