package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/units"
)

// printSteps says what to do, in order, and what comes of it.
func (f *findings) printSteps(w io.Writer) {
	fix := f.fix
	switch {
	case fix.Within:
		show.Print(w, "", "  ", "What to do: "+f.again()+fmt.Sprintf("These readings ask for no change. "+
			"At the stick positions in the table below, each blade is calculated within half a gauge step, %v, of what is wanted. "+
			"Only blade pitch was looked at. Play, binding, loads and tracking in flight were not.", f.pitch.Step/2))
	case fix.Unsure:
		show.Print(w, "", "  ", "What to do: measure first. These readings say too little to tell what is off. A change now can make it worse.")
	case len(fix.Steps) == 0:
		show.Print(w, "", "  ", "What to do: "+f.again()+"No half turn of a link and no step of the radio makes it better. What is still off is in the table below.")
	default:
		show.Print(w, "", "  ", "What to do, in this order. "+f.again()+"Under each step is what the gauge should then show.")
		for i := range fix.Steps {
			s := &fix.Steps[i]
			show.Print(w, fmt.Sprintf("%3d. ", i+1), "     ", s.Do())
			for _, line := range readsAfter(s) {
				show.Print(w, "     ", "       ", line)
			}
		}
		f.printCare(w)
	}
	for _, mode := range f.rig.Modes() {
		if err := fix.Unmet[mode.Name()]; err != nil {
			show.Print(w, "OUT OF REACH: ", "  ", fmt.Sprintf("mode %q: %s.", mode.Name(), strings.TrimPrefix(err.Error(), "gauge: ")))
		}
	}
	f.printTargets(w)
}

// printCare says what to mind with the steps.
func (f *findings) printCare(w io.Writer) {
	has := func(actions ...gauge.Action) bool {
		for _, s := range f.fix.Steps {
			for _, a := range actions {
				if s.Action == a {
					return true
				}
			}
		}
		return false
	}
	say := func(text string) { show.Print(w, "     ", "     ", text) }
	if has(gauge.TurnLink, gauge.TurnPitchLink) {
		say("A turn is one turn of one ball link on its thread.")
	}
	if f.rig.Machine().Plate.BellCranks == nil {
		say("Never correct pitch with one servo's end points. That tilts the swashplate.")
	}
	if has(gauge.SubTrim, gauge.Rate, gauge.CurvePoint) {
		say("Before you read again, copy the radio's new sub-trims, rates and curves into the machine file, for every mode. " +
			"gaugefix compares your readings with that file. Or let -save write it.")
	}
	say("Read again after the steps. Only the gauge knows.")
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
	return "First read readings " + list(left) + " again. They were left out. "
}

// list joins words: "1, 2 and 3".
func list(words []string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// readsAfter says what the gauge should show on each blade once a step is done, a line for
// each position of the sticks. Cyclic rates are seen at full cyclic stick, all else without
// it.
func readsAfter(s *gauge.Step) []string {
	cyclic := s.Control == gauge.RightCyclic || s.Control == gauge.ForwardCyclic
	var places []string
	for i := 0; i < len(s.After); {
		first, reads, sigma := &s.After[i], []string(nil), units.Angle(0)
		for ; i < len(s.After) && s.After[i].At == first.At; i++ {
			p := s.After[i].Reads
			reads, sigma = append(reads, fmt.Sprintf("%s on blade %d", tenth(p.Value), s.After[i].Blade+1)), max(sigma, p.Sigma)
		}
		if cyclic == first.Cyclic() {
			places = append(places, fmt.Sprintf("%s: %s, within %s", first.At, list(reads), withinTenth(sigma)))
		}
	}
	return places
}

// printTargets shows what every blade does as it stands and once all steps are done.
func (f *findings) printTargets(w io.Writer) {
	title, heads := "Blade pitch in mode %q, now", []string{"<sticks", "blade", "wanted", "now", "gauge", "within"}
	if len(f.fix.Steps) > 0 {
		title, heads = "Blade pitch in mode %q, now and when all steps are done", slices.Insert(heads, 4, "after")
	}
	var t *show.Table
	for i := range f.fix.After {
		before, after := &f.fix.Before[i], &f.fix.After[i]
		if i == 0 || after.Mode != f.fix.After[i-1].Mode {
			if t != nil {
				t.Print(w)
			}
			fmt.Fprintln(w)
			t = &show.Table{Title: fmt.Sprintf(title, after.Mode), Heads: heads}
		}
		where := after.At
		if len(t.Rows) > 0 && after.Where == f.fix.After[i-1].Where {
			where = ""
		}
		reads, sure := tenth(after.Reads.Value), withinTenth(after.Reads.Sigma)
		if !f.pitch.Shows(after.Reads.Value) {
			reads, sure = "off scale", "-"
		}
		cells := []string{where, fmt.Sprint(after.Blade + 1), show.Signed(after.Wanted), show.Signed(before.Pitch.Value), reads, sure}
		if len(f.fix.Steps) > 0 {
			cells = slices.Insert(cells, 4, show.Signed(after.Pitch.Value))
		}
		t.Add(cells...)
	}
	if t == nil {
		return
	}
	t.Note("+ is leading edge up. Wanted is what the machine file asks for. Now is the calculated pitch of the machine as built.")
	if len(f.fix.Steps) > 0 {
		t.Note("After is its calculated pitch when all steps are done. Gauge is what the gauge should then show, to a tenth of a degree.")
	} else {
		t.Note("Gauge is what the gauge should show, to a tenth of a degree.")
	}
	t.Note("Within is how far from that the gauge should be at most, in 19 of 20 cases.")
	t.Note("At full cyclic stick the blade is where it has most pitch.")
	t.Print(w)
}

// printNext says what to measure next.
func (f *findings) printNext(w io.Writer) {
	fmt.Fprintln(w)
	p := f.plan
	now := "Blade pitch is now known within " + within(p.Now) + ", on average over all sticks."
	switch {
	case len(p.Take) > 0:
	case p.Now <= p.Resolution:
		show.Print(w, "", "  ", "What to read next: nothing. "+now+" The gauge cannot tell it better.")
		return
	default:
		show.Print(w, "", "  ", "What to read next: nothing. "+now+" No further reading of those looked at narrows that by more than 1 %.")
		return
	}
	title := "What to read next, in this order. "
	if f.fix.Unsure {
		title = "What to read before you change anything, in this order. "
	}
	t := &show.Table{Title: title + now, Heads: []string{"<reading", "<with the", "then known within"}}
	for _, s := range p.Take {
		t.Add(f.say(s.Point), s.Gauge, within(s.After))
	}
	t.Note("A reading with the cyclic stick centred is listed first, even where another helps up to a quarter more. The same goes for a blade %s. "+
		"Readings that narrow the figure by 1 %% or less are not listed.", gauge.Direction(f.rig.Gauge().Bearing))
	t.Print(w)
}
