package main

import (
	"fmt"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// fact is a line of a flight mode, under a short name.
type fact struct{ Name, Text string }

// modeView is a flight mode as the text and the page show it.
type modeView struct {
	Title  string
	Facts  []fact
	Tables []*show.Table
}

// modeViews are the modes of the sheet. The first that can be worked out says what is
// assumed for the corners of all.
func modeViews(rig *setup.Rig, s *sheet.Sheet) []modeView {
	var views []modeView
	said := false
	for _, m := range s.Modes {
		v := modeView{fmt.Sprintf("Flight mode %q", m.Name), facts(rig, m), modeTables(rig, m)}
		if worksOut(m) && !said {
			v.Facts = append(v.Facts, fact{"Beyond ±100 %", "mixing can ask for more than ±100 %. This sheet assumes that the radio allows it up to the pulse limits. Some radios stop earlier"})
			said = true
		}
		for i := range v.Facts {
			v.Facts[i].Text += "."
		}
		views = append(views, v)
	}
	return views
}

// facts are what a mode is set to, and what follows for its ends and corners.
func facts(rig *setup.Rig, m sheet.Mode) []fact {
	hold := fmt.Sprintf("gives %s throttle; it is off in this mode", show.Percent(m.Hold))
	if m.Held {
		hold = fmt.Sprintf("gives %s throttle; it is on in this mode", show.Percent(m.Hold))
	}
	list := []fact{{"Throttle hold", hold}}
	if m.Unmet != "" {
		list = append(list, fact{"Targets out of reach", m.Unmet})
	}
	if !worksOut(m) {
		return list
	}
	rates := fact{"Rates", ratesText(m.Rates) + fmt.Sprintf(", expo %v", percent2(m.Expo))}
	if solved(rig, m.Name) {
		rates.Name = "Rates to enter"
		rates.Text += ". They follow from the targets; the tables are for them"
	}
	list = append(list, rates, fact{"Pitch curve", fmt.Sprintf("%s (%s)", points(m.Curve), show.Joined(m.CurveKind))})
	if m.Symmetry != nil {
		list = append(list, fact{"Low and high pitch", symmetryText(m.Symmetry)})
	}
	if e := m.Entry; e != nil && !solved(rig, m.Name) {
		list = append(list, fact{"To meet the targets, enter", fmt.Sprintf("%s; pitch curve %s", ratesText(e.Rates), points(e.Points))})
	}
	list = append(list, fact{"Stick corners", corners(rig, m.Corners)})
	return append(list, loadFacts(rig, m)...)
}

// symmetryText says by how much low and high pitch differ in size, and why.
func symmetryText(s *setup.Symmetry) string {
	larger, sum, geometry, settings := "high pitch is larger", s.Sum, s.Geometry, s.Settings
	if s.High < 0 {
		sum, geometry, settings = -sum, -geometry, -settings
	}
	switch {
	case units.Round(sum, 2) == 0:
		larger = "they differ"
	case sum < 0:
		larger, sum, geometry, settings = "low pitch is larger", -sum, -geometry, -settings
	}
	return fmt.Sprintf("the gauge reads %s at low stick and %s at high stick. In size %s by %s: %s from the geometry and %s from the settings",
		show.Signed(s.Low), show.Signed(s.High), larger, show.Angle(sum), show.Signed(geometry), show.Signed(settings))
}

// worksOut reports whether there is anything to tabulate of a mode: there is not
// where its targets are out of reach and it has nothing else.
func worksOut(m sheet.Mode) bool { return len(m.Rows) > 0 }

// solved reports whether a mode's curve and rates are solved from targets.
func solved(rig *setup.Rig, mode string) bool {
	m, ok := rig.Mode(mode)
	return ok && m.Mode().Pitch == nil
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
		list = append(list, fmt.Sprintf("at stick %v enter %v", percent2(p[0]), percent2(p[1])))
	}
	return strings.Join(list, "; ")
}

// corners says at which corners of the sticks a servo reaches its limit, and which the
// machine cannot reach.
func corners(rig *setup.Rig, list []setup.Corner) string {
	var unreachable, limited []string
	for _, c := range list {
		var servos []string
		for i, p := range c.BeyondLimit {
			if p != 0 {
				servos = append(servos, fmt.Sprintf("%s by %s", rig.Servos()[i].Name, show.Pulse(max(p, -p))))
			}
		}
		switch {
		case c.Unreachable != "":
			unreachable = append(unreachable, fmt.Sprintf("%s: %s", c.Stick, c.Unreachable))
		case servos != nil:
			limited = append(limited, fmt.Sprintf("%s: %s", c.Stick, strings.Join(servos, ", ")))
		}
	}
	var parts []string
	add := func(which []string, what string) {
		if which != nil {
			text := fmt.Sprintf("%d of %d %s.", len(which), len(list), what)
			for _, corner := range which {
				text += " " + sentence(corner)
			}
			parts = append(parts, strings.TrimSuffix(text, "."))
		}
	}
	add(unreachable, "cannot be reached")
	add(limited, "take a servo beyond its pulse limit")
	if parts != nil {
		return strings.Join(parts, ". ")
	}
	return fmt.Sprintf("the machine reaches all %d, and every servo stays within its pulse limits", len(list))
}
