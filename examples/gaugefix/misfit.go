package main

import (
	"fmt"
	"io"

	"example.org/levelhead/examples/internal/show"
)

// printMisfit explains readings that do not belong to this build.
func (f *findings) printMisfit(w io.Writer) {
	m := f.misfit
	fmt.Fprintln(w)
	if m.Err != nil {
		show.Print(w, "STOP: ", "      ", "No build near the machine file's shows these readings. Check the signs, the flight modes and the file itself.")
		return
	}
	show.Print(w, "STOP: ", "      ", fmt.Sprintf("These readings do not belong to this build: no build with its parts about where they should be shows them. Chance makes sound readings look so bad %s. Nothing is worked out from them.", m.Chance()))
	if len(m.Suspects) > 0 {
		show.Print(w, "  ", "    ", "Without some of these the rest would be explained, and there are too few readings to tell which is wrong. Read them again:")
		for _, i := range m.Suspects {
			show.Print(w, "  - ", "    ", fmt.Sprintf("reading %d, %s: %s", i+1, show.Signed(f.readings[i].Value), f.say(f.readings[i].Point)))
		}
	}
	if len(m.Unless) > 0 {
		show.Print(w, "  ", "    ", "Or one part is far off, which alone would explain all of them. Look at:")
		for _, u := range m.Unless {
			show.Print(w, "  - ", "    ", fmt.Sprintf("the %s, off by %s", u.Name, amount(u.Parameter.Kind, u.Off, u.Sigma)))
		}
	}
	if len(m.Suspects)+len(m.Unless) == 0 {
		show.Print(w, "  ", "    ", "Neither a few wrong readings nor one part far off explains it. Check that the machine file is that of this machine, that the sticks and modes are those in the table, and that the gauge's sign is right: leading edge up is above zero.")
	}
}
