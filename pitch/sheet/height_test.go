package sheet_test

import (
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// Links of another length than the file's neutral height asks for are found, on plates
// given by true positions; the height shown is the links'.
func TestNeutralHeightAgainstLinks(t *testing.T) {
	const what = sheet.NeutralHeightOff
	at := func(height units.Length) *sheet.Sheet {
		return sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"spatial.json"), func(m *machine.Machine) {
			rigtest.Hover(m)
			m.Plate.NeutralHeight = height
		}))
	}
	made := at(60 * units.Millimetre).Neutral.Height
	for _, off := range []units.Length{-0.49 * units.Millimetre, 0.49 * units.Millimetre} {
		if all := found(at(made+off), what); len(all) != 0 {
			t.Errorf("%v off: %+v", off, all)
		}
	}
	s := at(made - 5.1*units.Millimetre)
	contains(t, one(t, s, what), units.Round(made, 2).String(), units.Round(made-5.1*units.Millimetre, 2).String())
	if d := s.Neutral.Height - made; d > 1e-9 || d < -1e-9 {
		t.Errorf("the plate stands at %v, not at %v", s.Neutral.Height, made)
	}
}

// A ring whose balls stand below the plate's centre needs pitch links that much longer
// on the level plate, and nothing else.
func TestRingOffset(t *testing.T) {
	const offset = -1.5 * units.Millimetre
	data := rigtest.Read(t, rigtest.Demos+"direct.json")
	flat := rigtest.Rig(t, data, rigtest.Hover)
	low := rigtest.Rig(t, data, func(m *machine.Machine) { rigtest.Hover(m); m.Head.RingOffset = offset })
	a, b := flat.Parts().Grip, low.Parts().Grip
	if b.RingOffset != offset || b.Link <= a.Link || b.Link > a.Link-offset {
		t.Errorf("offset %v, links %v and %v", b.RingOffset, a.Link, b.Link)
	}
}
