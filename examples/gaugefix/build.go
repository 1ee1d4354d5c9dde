package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/gauge"
)

// printBuild says what is known of the machine as built.
func (f *findings) printBuild(w io.Writer) {
	fmt.Fprintln(w)
	known := &show.Table{Title: "Known: how far items are off from the machine file", Heads: []string{"<item", "off by", "within", "common"}}
	var unknown, partly []gauge.Parameter
	together := f.together()
	for _, e := range f.result.Parameters {
		in := slices.ContainsFunc(together, func(g group) bool { return slices.Contains(g.items, e.Parameter) })
		switch kind := e.Parameter.Kind; {
		case e.Verdict == gauge.Known:
			known.Add(f.Name(e.Parameter), kind.Format(e.Off), size(kind, sure*e.Sigma), size(kind, sure*e.Tolerance))
		case e.Verdict == gauge.Unknown:
			unknown = append(unknown, e.Parameter)
		case !in:
			partly = append(partly, e.Parameter)
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
		f.printItems(w, "Known only together:", g.items)
		show.Print(w, "  ", "  ", "The readings cannot tell which of these is off. Together they change")
		for _, c := range g.effects {
			show.Print(w, "  - ", "    ", fmt.Sprintf("reading %d by %s, within %s", c.At+1, gauge.GaugeZero.Format(float64(c.Off)), show.Angle(sure*c.Sigma)))
		}
	}
	for _, p := range []struct {
		title string
		items []gauge.Parameter
	}{{"Known in part:", partly}, {"Unknown from these readings:", unknown}} {
		if len(p.items) > 0 {
			fmt.Fprintln(w)
			f.printItems(w, p.title, p.items)
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

// printItems lists items, those of a kind in one line.
func (f *findings) printItems(w io.Writer, title string, items []gauge.Parameter) {
	show.Print(w, "", "  ", title)
	items = slices.Clone(items)
	slices.SortFunc(items, func(a, b gauge.Parameter) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Index, b.Index))
	})
	for len(items) > 0 {
		kind := items[0].Kind
		var names []string
		for ; len(items) > 0 && items[0].Kind == kind; items = items[1:] {
			names = append(names, f.Name(items[0]))
		}
		line := strings.Join(names, "; ") // some have a comma
		if kind != gauge.HubHeight && kind != gauge.GaugeZero {
			for i := range names {
				names[i] = strings.TrimSuffix(names[i], " "+kind.String())
			}
			line = kind.String() + ": " + strings.Join(names, "; ")
		}
		show.Print(w, "  - ", "    ", line)
	}
}
