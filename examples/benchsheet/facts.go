package main

import (
	"fmt"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// fact is a line of a flight mode, under a short name.
type fact struct{ Name, Text string }

// modeView is a flight mode as the text and the page show it.
type modeView struct {
	Name   string
	Facts  []fact
	Tables []*show.Table
}

// modeViews are the modes of the sheet. The first that works out says what holds for
// the corners of all.
func modeViews(rig *setup.Rig, s *setup.Sheet) []modeView {
	var views []modeView
	said := false
	for _, m := range s.Modes {
		v := modeView{m.Name, facts(rig, m), modeTables(rig, m)}
		if worksOut(m) && !said {
			v.Facts = append(v.Facts, fact{"Beyond ±100 %", "commands that mixing makes there are taken to run on to the pulse limits; some radios stop them earlier"})
			said = true
		}
		views = append(views, v)
	}
	return views
}

// facts are what a mode is set to, and what follows for its ends and corners.
func facts(rig *setup.Rig, m setup.SheetMode) []fact {
	hold := fmt.Sprintf("%s throttle with hold on; hold is off in this mode", show.Percent(m.Hold))
	if m.Held {
		hold = fmt.Sprintf("%s throttle; hold is on in this mode", show.Percent(m.Hold))
	}
	list := []fact{{"Throttle hold", hold}}
	if m.Unmet != "" {
		list = append(list, fact{"Targets out of reach", m.Unmet})
	}
	if !worksOut(m) {
		return list
	}
	rates := "Rates"
	if solved(rig, m.Name) {
		rates = "Rates to enter, from the targets; the tables are for these"
	}
	list = append(list,
		fact{rates, ratesText(m.Rates) + fmt.Sprintf(", expo %v", percent2(m.Expo))},
		fact{"Pitch curve, by stick", fmt.Sprintf("%s (%s)", points(m.Curve), joined(m.CurveKind))})
	if s := m.Symmetry; s != nil {
		list = append(list, fact{"Low against high", fmt.Sprintf(
			"gauge %s and %s; they differ in size by %s, of which geometry alone explains %s and settings make %s",
			show.Signed(s.Low), show.Signed(s.High), show.Signed(s.Sum), show.Signed(s.Geometry), show.Signed(s.Settings))})
	}
	if e := m.Entry; e != nil && !solved(rig, m.Name) {
		list = append(list, fact{"To meet the targets, enter", fmt.Sprintf("%s; pitch curve %s", ratesText(e.Rates), points(e.Points))})
	}
	list = append(list, fact{"Stick corners", corners(rig, m.Corners)})
	return append(list, loadFacts(rig, m)...)
}

// worksOut reports whether there is anything to tabulate of a mode: there is not
// where its targets are out of reach and it has nothing else.
func worksOut(m setup.SheetMode) bool { return len(m.Rows) > 0 }

// solved reports whether a mode's curve and rates are solved from targets.
func solved(rig *setup.Rig, mode string) bool {
	return slices.ContainsFunc(rig.Modes, func(m setup.RigMode) bool { return m.Mode.Name == mode && m.Mode.Pitch == nil })
}

func ratesText(r swash.Rates) string {
	return fmt.Sprintf("collective %v, right cyclic %v, forward cyclic %v", percent2(r.Collective), percent2(r.Right), percent2(r.Forward))
}

// percent2 returns a ratio to a hundredth of one per cent, as a radio may show
// a rate.
func percent2(r units.Ratio) units.Ratio { return units.Round(r, 2) }

// points shows a curve by its stick positions and values.
func points(curve [][2]units.Ratio) string {
	var list []string
	for _, p := range curve {
		list = append(list, fmt.Sprintf("%v at %v", percent2(p[1]), percent2(p[0])))
	}
	return strings.Join(list, ", ")
}

// joined says how a kind of curve joins its points.
func joined(kind string) string {
	switch kind {
	case "polyline":
		return "straight lines"
	case "monotone":
		return "smooth, without overshoot"
	}
	return "smooth, " + kind
}

// corners says which corners of the sticks clip a servo, and which cannot be reached.
func corners(rig *setup.Rig, list []setup.Corner) string {
	var stopped, clipped []string
	for _, c := range list {
		var servos []string
		for i, p := range c.BeyondLimit {
			if p != 0 {
				servos = append(servos, fmt.Sprintf("%s by %s", rig.Servos[i].Name, show.Pulse(max(p, -p))))
			}
		}
		switch {
		case c.Unreachable != "":
			stopped = append(stopped, fmt.Sprintf("%s (%s)", c.Stick, c.Unreachable))
		case servos != nil:
			clipped = append(clipped, fmt.Sprintf("%s (%s)", c.Stick, strings.Join(servos, ", ")))
		}
	}
	var parts []string
	add := func(which []string, what string) {
		if which != nil {
			parts = append(parts, fmt.Sprintf("%d of %d %s: %s", len(which), len(list), what, strings.Join(which, "; ")))
		}
	}
	add(stopped, "cannot be reached")
	add(clipped, "clip a servo")
	if parts != nil {
		return strings.Join(parts, ". ")
	}
	return fmt.Sprintf("all %d reached, no servo clips", len(list))
}
