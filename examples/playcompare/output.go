package main

import (
	"fmt"
	"io"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
)

// print writes the two machines side by side, cautions first.
func print(w io.Writer, a, b *machine, o options) {
	show.PrintCaution(w, setup.WithBlades, a.rig.Machine, b.rig.Machine)
	for _, m := range []struct {
		letter string
		*machine
	}{{"A", a}, {"B", b}} {
		show.Print(w, m.letter+": ", "   ", fmt.Sprintf("%s, %d joints with play: ball links %v, servo gears %v, crank bearings %v, from end to end.",
			m.rig.Machine.Name, len(m.joints), m.play.Ball, m.play.Gear, m.play.Bearing))
		if note := m.rig.Machine.Note; note != "" {
			show.Print(w, "   ", "   ", note)
		}
	}
	fmt.Fprintln(w)
	show.Print(w, "", "", fmt.Sprintf("How far the blade and the plate can be moved by hand, to either side of the middle, with collective and cyclic at zero. "+
		"A's blade stands at bearing %s, B's at %s. The figures take play as small against the arms.",
		show.Bearing(a.rig.Machine.Gauge.Bearing), show.Bearing(b.rig.Machine.Gauge.Bearing)))
	fmt.Fprintln(w)
	comparison(a, b, o).Print(w)
	fmt.Fprintln(w)
	contributors("A", a).Print(w)
	fmt.Fprintln(w)
	contributors("B", b).Print(w)
}

func comparison(a, b *machine, o options) *show.Table {
	t := &show.Table{Heads: []string{"<", "blade: A", "B", "| tilt: A", "B"}}
	add := func(name string, a, b pitch.Play) {
		t.Add(name, show.Angle(a.Blade), show.Angle(b.Blade), show.Angle(a.Tilt), show.Angle(b.Tilt))
	}
	add("worst case", a.worst, b.worst)
	add("root-sum-square", a.likely, b.likely)
	add("chance, root mean square", a.chance.RMS, b.chance.RMS)
	add("chance, 95 of 100 within", a.chance.P95, b.chance.P95)
	add("chance, largest", a.chance.Largest, b.chance.Largest)
	t.Note("Worst case: every joint at the end of its play that adds up. Root-sum-square: each at an end, but which is chance.")
	t.Note("Chance: %d builds drawn with seed %d, each joint anywhere within its play.", o.builds, o.seed)
	return t
}

// contributors is a table of the joints that do most alone.
func contributors(letter string, m *machine) *show.Table {
	const most = 6
	t := &show.Table{Title: fmt.Sprintf("%s: the joints that do most, each alone", letter), Heads: []string{"<joint", "blade", "tilt"}}
	for _, c := range m.largest(most) {
		t.Add(c.name, show.Angle(c.play.Blade), show.Angle(c.play.Tilt))
	}
	return t
}
