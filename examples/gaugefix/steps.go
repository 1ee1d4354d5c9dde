package main

import (
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/units"
)

// printSteps says what to do, in order, and what comes of it.
func (f *findings) printSteps(w io.Writer) {
	fmt.Fprintln(w)
	fix := f.fix
	switch {
	case fix.Within:
		show.Print(w, "", "  ", "What to do: "+f.again()+fmt.Sprintf("These readings ask for no change. "+
			"At the stick positions in the table below, each blade is calculated within half a gauge step, %v, of what is wanted. "+
			"Only blade pitch was looked at. Play, binding, loads and tracking in flight were not.", f.pitch.Step/2))
	case fix.Unsure:
		show.Print(w, "", "  ", "What to do: measure first. These readings say too little to tell what is off: a change now could be for the worse.")
	case len(fix.Steps) == 0:
		show.Print(w, "", "  ", "What to do: "+f.again()+"No half turn of a link and no step of the radio makes it better. What is still off is in the table below.")
	default:
		show.Print(w, "", "  ", "What to do, in this order. "+f.again()+"Under each step: what the gauge should then show, blade after blade, in 95 cases of 100.")
		for i := range fix.Steps {
			s := &fix.Steps[i]
			show.Print(w, fmt.Sprintf("%3d. ", i+1), "     ", s.Do())
			show.Print(w, "     ", "       ", readsAfter(s))
		}
		if f.rig.Machine.Plate.BellCranks == nil {
			show.Print(w, "     ", "     ", "Set nothing by one servo's end point: it tilts the plate.")
		}
		if last := fix.Steps[len(fix.Steps)-1].Action; last >= gauge.SubTrim {
			show.Print(w, "     ", "     ", "Before you read again, write into the machine file what the radio now has: the sub-trims, and the rates and the curve of every mode, of those with targets too. Readings are held against the file; -save writes such a file.")
		}
	}
	for i := range f.rig.Modes {
		if err := fix.Unmet[f.rig.Modes[i].Mode.Name]; err != nil {
			show.Print(w, "OUT OF REACH: ", "  ", fmt.Sprintf("mode %s: %v.", f.rig.Modes[i].Mode.Name, err))
		}
	}
	fmt.Fprintln(w)
	f.targets().Print(w)
}

// again asks for the readings that were left out, if any, before all else.
func (f *findings) again() string {
	var left []string
	for _, o := range f.result.Outliers {
		left = append(left, fmt.Sprint(o.Index+1))
	}
	switch len(left) {
	case 0:
		return ""
	case 1:
		return "First read reading " + left[0] + " again. It was left out. "
	}
	return "First read readings " + strings.Join(left, ", ") + " again. They were left out. "
}

// readsAfter says what the gauge should show on the blades, in their order, once a step is
// done. Cyclic rates are seen at full cyclic stick, all else without it.
func readsAfter(s *gauge.Step) string {
	cyclic := s.Action == gauge.Rate && strings.Contains(s.What, "cyclic")
	var places []string
	for i := 0; i < len(s.After); {
		where, reads, sigma := s.After[i].Where, []string(nil), units.Angle(0)
		for ; i < len(s.After) && s.After[i].Where == where; i++ {
			p := s.After[i].Reads
			reads, sigma = append(reads, show.Plain(p.Value.Degrees(), 1)+"°"), max(sigma, p.Sigma)
		}
		where = strings.TrimPrefix(where, "mode "+s.Mode+", ")
		if stick := s.After[i-1].Stick; cyclic == (stick.Right != 0 || stick.Forward != 0) {
			places = append(places, fmt.Sprintf("%s: %s %s", where, strings.Join(reads, ", "), plusMinus(sigma)))
		}
	}
	return strings.Join(places, "; ") + "."
}

// targets shows what every blade does as it stands and once all steps are done.
func (f *findings) targets() *show.Table {
	t := &show.Table{Title: "Blade pitch, and what the gauge should show at last", Heads: []string{"<mode and stick", "blade", "wanted", "now", "after", "gauge shows"}}
	last := ""
	for i := range f.fix.After {
		before, after := &f.fix.Before[i], &f.fix.After[i]
		where := strings.TrimPrefix(after.Where, "mode ")
		if where == last {
			where = ""
		} else {
			last = where
		}
		reads := show.Plain(after.Reads.Value.Degrees(), 1) + "° " + plusMinus(after.Reads.Sigma)
		if !f.pitch.Shows(after.Reads.Value) {
			reads = "off scale"
		}
		t.Add(where, fmt.Sprint(after.Blade+1), show.Signed(after.Wanted), show.Signed(before.Pitch.Value),
			show.Signed(after.Pitch.Value), reads)
	}
	return t
}

// printNext says what to measure next.
func (f *findings) printNext(w io.Writer) {
	fmt.Fprintln(w)
	p := f.plan
	now := "Blade pitch over all sticks is now known to " + known(p.Now) + ". "
	if len(p.Take) == 0 {
		show.Print(w, "", "  ", now+"No further reading of those looked at makes it known much better.")
		return
	}
	title := now + "To know it better, read next:"
	if f.fix.Unsure {
		title = now + "Before you change anything, read:"
	}
	t := &show.Table{Title: title, Heads: []string{"<what", "<with the", "then known to"}}
	for _, s := range p.Take {
		t.Add(f.say(s.Point), s.Gauge, known(s.After))
	}
	t.Print(w)
}
