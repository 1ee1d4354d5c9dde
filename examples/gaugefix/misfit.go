package main

import (
	"fmt"
	"io"

	"example.org/levelhead/examples/internal/show"
)

// printMisfit explains readings that do not belong to this machine as built.
func (f *findings) printMisfit(w io.Writer) {
	m := f.misfit
	if m.Err != nil {
		show.Print(w, "STOP: ", "      ", "No machine built anywhere near the machine file shows these readings. Check the signs, the flight modes and the file itself.")
		return
	}
	say := "These readings do not belong to the machine of this file. No machine built with care to the file shows them. Good readings look like this " + m.Chance() + "."
	if m.OneAlone() {
		say = fmt.Sprintf("Reading %d does not go with the others and the machine file. Among as many good readings, one is so far off %s.", m.Worst+1, m.Chance())
	}
	show.Print(w, "STOP: ", "      ", say+" Nothing is worked out from them.")
	if len(m.Suspects) > 0 {
		show.Print(w, "  ", "    ", "Read these again. Without some of them, the rest can be explained. There are too few readings to tell which is wrong.")
		for _, i := range m.Suspects {
			show.Print(w, "  - ", "    ", fmt.Sprintf("Reading %d was %s: %s.", i+1, show.Signed(f.readings[i].Value), f.say(f.readings[i].Point)))
		}
	}
	if len(m.Unless) > 0 {
		show.Print(w, "  ", "    ", "Check each of these on the machine. One of them alone, far off, would explain all readings.")
		for _, u := range m.Unless {
			kind := u.Parameter.Kind
			show.Print(w, "  - ", "    ", fmt.Sprintf("%s: off by %s, within %s", u.Name, kind.Format(u.Off), size(kind, sure*u.Sigma)))
		}
	}
	if len(m.Suspects)+len(m.Unless) == 0 {
		show.Print(w, "  ", "    ", "Check that the machine file is that of this machine. Check that the sticks and modes are those in the table. "+
			"Check the gauge's sign: leading edge up is above zero. One item or a few wrong readings cannot explain this.")
	}
}
