package main

import (
	"fmt"
	"io"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/sheet"
)

// print writes the two machines side by side, cautions first.
func print(w io.Writer, a, b *played, o options) {
	show.PrintCaution(w, sheet.WithBlades, a.rig.Machine(), b.rig.Machine())
	for _, m := range []struct {
		letter string
		*played
	}{{"A", a}, {"B", b}} {
		show.Print(w, m.letter+": ", "   ", fmt.Sprintf("%s. It has %d joints with play, from end to end: ball links %v, servo gears %v, crank bearings %v.",
			m.rig.Name(), len(m.joints), m.play.Ball, m.play.Gear, m.play.Bearing))
		if note := m.rig.Machine().Note; note != "" {
			show.Print(w, "   ", "   ", note)
		}
	}
	fmt.Fprintln(w)
	show.Print(w, "", "", fmt.Sprintf("The tables show how far the blade and the swashplate can be moved by hand, to either side of the middle. Collective and cyclic are at zero. "+
		"A's blade stands at %s and B's at %s. Directions count clockwise from the nose, so 180° is over the tail. "+
		"The figures are right for play that is small compared with the arms.",
		show.Bearing(a.rig.Gauge().Bearing), show.Bearing(b.rig.Gauge().Bearing)))
	fmt.Fprintln(w)
	comparison(a, b, o).Print(w)
	fmt.Fprintln(w)
	contributors("A", a).Print(w)
	fmt.Fprintln(w)
	contributors("B", b).Print(w)
}

func comparison(a, b *played, o options) *show.Table {
	t := &show.Table{Heads: []string{"<", "blade A", "blade B", "tilt A", "tilt B"}}
	add := func(name string, a, b pitch.Play) {
		t.Add(name, show.Angle(a.Blade), show.Angle(b.Blade), show.Angle(a.Tilt), show.Angle(b.Tilt))
	}
	add("worst case", a.worst, b.worst)
	add("likely", a.likely, b.likely)
	add("random builds, typical", a.random.RMS, b.random.RMS)
	add("random builds, 19 of 20 within", a.random.P95, b.random.P95)
	add("random builds, largest", a.random.Largest, b.random.Largest)
	t.Note("Blade is how far the blade's pitch can move. Tilt is how far the swashplate can tilt.")
	t.Note("Worst case is every joint at that end of its play that adds up.")
	t.Note("Likely is each joint at a random end of its play.")
	t.Note("Random builds are %d machines drawn with seed %d, each joint anywhere within its play.", o.builds, o.seed)
	t.Note("Typical is an average of the random builds in which large figures count more. Likely is larger, because there each joint is at an end of its play and never between.")
	return t
}

// shown is how many joints of a machine are shown.
const shown = 6

// contributors is a table of the joints that give most play alone.
func contributors(letter string, m *played) *show.Table {
	t := &show.Table{Title: fmt.Sprintf("%s: the joints that give most play, each alone", letter), Heads: []string{"<joint", "blade", "tilt"}}
	for _, c := range m.largest(shown) {
		t.Add(c.name, show.Angle(c.play.Blade), show.Angle(c.play.Tilt))
	}
	t.Note("The joints are in the order of the larger figure of the two, before rounding.")
	return t
}
