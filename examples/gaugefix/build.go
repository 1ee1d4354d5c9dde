package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/gauge"
)

// between stands between parts, some of whose names have a comma.
const between = "; "

// printBuild says what the readings settle.
func (f *findings) printBuild(w io.Writer) {
	fmt.Fprintln(w)
	settled := &show.Table{Title: "Settled: how far parts are off from the machine file", Heads: []string{"<part", "<off by", "<common"}}
	var unknown, shared []string
	together := f.together()
	for _, e := range f.result.Parameters {
		in := slices.ContainsFunc(together, func(g group) bool { return slices.Contains(g.parts, e.Parameter) })
		switch {
		case e.Verdict == gauge.Known:
			settled.Add(f.Name(e.Parameter), amount(e.Parameter.Kind, e.Off, e.Sigma), strings.TrimPrefix(e.Parameter.Kind.Format(sure*e.Tolerance), "+"))
		case e.Verdict == gauge.Unknown:
			unknown = append(unknown, f.Name(e.Parameter))
		case !in:
			shared = append(shared, f.Name(e.Parameter))
		}
	}
	if len(settled.Rows) > 0 {
		settled.Print(w)
	} else {
		show.Print(w, "", "  ", "Settled: no part by itself.")
	}
	for _, g := range together {
		fmt.Fprintln(w)
		show.Print(w, "", "  ", "Settled only together: "+f.names(g.parts)+". Which of them is off the readings do not tell, but all of them together change")
		for _, c := range g.effects {
			show.Print(w, "  - ", "    ", fmt.Sprintf("reading %d by %s", c.At+1, amount(gauge.GaugeZero, float64(c.Off), float64(c.Sigma))))
		}
	}
	for _, p := range []struct {
		say   string
		parts []string
	}{{"Partly told", shared}, {"Not told by these readings", unknown}} {
		if len(p.parts) > 0 {
			fmt.Fprintln(w)
			show.Print(w, "", "  ", p.say+": "+strings.Join(p.parts, between)+".")
		}
	}
}

// group is parts that the readings do not tell apart, and all that is settled of them.
type group struct {
	parts   []gauge.Parameter
	effects []gauge.Combination
}

func (f *findings) together() []group {
	var groups []group
	for _, c := range f.result.Combinations {
		if n := len(groups); n == 0 || !slices.Equal(groups[n-1].parts, c.Parameters) {
			groups = append(groups, group{parts: c.Parameters})
		}
		last := &groups[len(groups)-1]
		last.effects = append(last.effects, c)
	}
	return groups
}

func (f *findings) names(parts []gauge.Parameter) string {
	var names []string
	for _, p := range parts {
		names = append(names, f.Name(p))
	}
	return strings.Join(names, between)
}
