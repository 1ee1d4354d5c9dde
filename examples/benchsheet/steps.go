package main

import (
	"fmt"
	"slices"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/sheet"
)

// stepsTitle says which mode the table of steps holds for.
func stepsTitle(s *sheet.Sheet) string {
	if len(s.Steps) == 0 {
		return "What one step changes: no flight mode can be worked out"
	}
	return fmt.Sprintf("What one step changes in mode %q, all else left alone", s.Steps[0].Mode)
}

// stepsText explains the columns of the table of steps.
func stepsText(s *sheet.Sheet) string {
	const columns = "Gauge is the change of the gauge reading. For a cyclic rate it is the change of the cyclic pitch, ±. Tilt is how far the step tilts the plate, and low side is where the plate then goes down. " +
		"With the blade over another side, a step that tilts the plate changes the gauge by another amount."
	if len(s.Steps) == 0 || slices.ContainsFunc(s.Modes, func(m sheet.Mode) bool { return m.Name == s.Steps[0].Mode }) {
		return columns
	}
	return fmt.Sprintf("These steps are for mode %q, which this sheet leaves out. In the mode shown they differ. ", s.Steps[0].Mode) + columns
}

func stepsTable(steps []sheet.Step) *show.Table {
	t := &show.Table{Heads: []string{"<adjustment", "<measured at", "gauge", "tilt", "low side"}}
	for _, s := range steps {
		if s.Unreachable != "" {
			t.Add(fmt.Sprintf("%s: cannot be made (%s)", s.What, s.Unreachable), s.At, "-", "-", "-")
			continue
		}
		tilt, low := show.Tilt(s.Tilt, s.LowSide)
		if low == "-" {
			tilt = "-"
		}
		pitch := show.Signed(s.Pitch)
		if pitch == show.Angle(0) && s.Pitch != 0 {
			pitch = "< 0.01°"
		}
		t.Add(s.What, s.At, pitch, tilt, low)
	}
	return t
}
