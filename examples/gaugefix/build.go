package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/gauge"
)

// between stands between items, some of whose names have a comma.
const between = "; "

// printBuild says what is known of the machine as built.
func (f *findings) printBuild(w io.Writer) {
	fmt.Fprintln(w)
	known := &show.Table{Title: "Known: how far items are off from the machine file", Heads: []string{"<item", "off by", "within", "common"}}
	var unknown, partly []string
	together := f.together()
	for _, e := range f.result.Parameters {
		in := slices.ContainsFunc(together, func(g group) bool { return slices.Contains(g.items, e.Parameter) })
		switch kind := e.Parameter.Kind; {
		case e.Verdict == gauge.Known:
			known.Add(f.Name(e.Parameter), kind.Format(e.Off), size(kind, sure*e.Sigma), size(kind, sure*e.Tolerance))
		case e.Verdict == gauge.Unknown:
			unknown = append(unknown, f.Name(e.Parameter))
		case !in:
			partly = append(partly, f.Name(e.Parameter))
		}
	}
	if len(known.Rows) > 0 {
		known.Note("Off by is how much more than in the machine file it is. Within is how far from that it can be, in 19 of 20 cases. Common is how far such an item is off at most on 19 of 20 machines.")
		known.Print(w)
	} else {
		show.Print(w, "", "  ", "Known: nothing by itself yet.")
	}
	for _, g := range together {
		fmt.Fprintln(w)
		show.Print(w, "", "  ", "Known only together: "+f.names(g.items)+".")
		show.Print(w, "  ", "  ", "The readings cannot tell which of these is off. Together they change")
		for _, c := range g.effects {
			show.Print(w, "  - ", "    ", fmt.Sprintf("reading %d by %s, within %s", c.At+1, gauge.GaugeZero.Format(float64(c.Off)), show.Angle(sure*c.Sigma)))
		}
	}
	for _, p := range []struct {
		say   string
		items []string
	}{{"Known in part", partly}, {"Unknown from these readings", unknown}} {
		if len(p.items) > 0 {
			fmt.Fprintln(w)
			show.Print(w, "", "  ", p.say+": "+strings.Join(p.items, between)+".")
		}
	}
	fmt.Fprintln(w)
	show.Print(w, "", "  ", "Each amount after \"within\" is right in 19 of 20 cases. They all assume a machine built with care. They also assume that each turn and step does exactly what it should.")
}

// group is items that the readings do not tell apart, and all that is known of them.
type group struct {
	items   []gauge.Parameter
	effects []gauge.Combination
}

func (f *findings) together() []group {
	var groups []group
	for _, c := range f.result.Combinations {
		if n := len(groups); n == 0 || !slices.Equal(groups[n-1].items, c.Parameters) {
			groups = append(groups, group{items: c.Parameters})
		}
		last := &groups[len(groups)-1]
		last.effects = append(last.effects, c)
	}
	return groups
}

func (f *findings) names(items []gauge.Parameter) string {
	var names []string
	for _, p := range items {
		names = append(names, f.Name(p))
	}
	return strings.Join(names, between)
}
