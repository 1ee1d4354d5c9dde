package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// trades says what each of the best trade-offs is best at, gives up, and asks to be changed.
func (p *page) trades() *show.Table {
	t := &show.Table{Title: "What each choice is best at, what it gives up, and what to do for it",
		Heads: []string{"<choice", "<best at", "<gives up", "<to do"}}
	for i, m := range p.Front {
		var best, behind []string
		for _, o := range m.Best {
			best = append(best, o.String())
		}
		for _, b := range m.Behind {
			behind = append(behind, fmt.Sprintf("%s than choice %d", worse(b), b.Neighbour+1))
		}
		if len(p.Front) == 1 {
			best = []string{"all"}
		}
		t.Add(fmt.Sprint(i+1), list(best, ", "), list(behind, "; "), toDo(&p.Results[m.Index]))
	}
	t.Note("Gives up is how far the choice is behind the next better one, each point by itself.")
	if len(p.Present.Changes) > 0 {
		t.Note("To do is what to change from the present machine. Then each changed arm stands square to its link at neutral, or off square by the teeth asked for. Teeth above 0 raise the ball. Lengths of links are from ball centre to ball centre.")
	}
	return t
}

func list(words []string, between string) string {
	if words == nil {
		return "-"
	}
	return strings.Join(words, between)
}

// worse says by how much a member is behind, in the unit of its objective.
func worse(b choose.Behind) string {
	switch b.Objective {
	case choose.Tilt:
		return fmt.Sprintf("tilt %s more", show.Angle(units.Angle(b.By)))
	case choose.Resolution:
		return fmt.Sprintf("resolution %s coarser", fine(units.Angle(b.By)))
	case choose.Load:
		return fmt.Sprintf("servo load %.1f %% higher", units.Ratio(b.By).Percent())
	default:
		return fmt.Sprintf("stroke %.0f ms longer", units.Time(b.By).Milliseconds())
	}
}

func toDo(r *choose.Result) string {
	var words []string
	changed := false
	for _, c := range r.Changes {
		changed = changed || c.Changed
	}
	if changed {
		words = append(words,
			named("cut", "servo links", "to ", r.Changes, func(c choose.ServoChange) string { return fmt.Sprintf("%.2f mm", c.Link.Millimetres()) }),
			named("set", "sub-trims", "to ", r.Changes, func(c choose.ServoChange) string {
				return strings.Replace(fmt.Sprintf("%+.4g µs", units.Round(c.SubTrim, 1).Microseconds()), "+0 ", "0 ", 1)
			}))
		if slices.ContainsFunc(r.Changes, func(c choose.ServoChange) bool { return c.Teeth != 0 }) {
			words = append(words, named("move", "servo arms", "by ", r.Changes, func(c choose.ServoChange) string { return teeth(c.Teeth) }))
		}
	}
	if n := r.Horn.HalfTurns; n != 0 {
		verb := "lengthen"
		if n < 0 {
			verb = "shorten"
		}
		words = append(words, verb+" the pitch links by "+linkage.Turns(float64(n)))
	}
	return list(words, "; ")
}

// named says what to do with things of the servos: with all of them, where all are alike, or
// else with that of each.
func named(verb, things, to string, changes []choose.ServoChange, text func(choose.ServoChange) string) string {
	var words []string
	alike := true
	for _, c := range changes {
		words = append(words, c.Servo+" "+text(c))
		alike = alike && text(c) == text(changes[0])
	}
	if alike {
		return verb + " all " + things + " " + to + text(changes[0])
	}
	return verb + " the " + things + ": " + list(words, ", ")
}

// teeth is a number of teeth of the spline, with its sign.
func teeth(n int) string {
	switch n {
	case 0:
		return "no teeth"
	case 1, -1:
		return fmt.Sprintf("%+d tooth", n)
	}
	return fmt.Sprintf("%+d teeth", n)
}

func (p *page) servos() string {
	var names []string
	for _, f := range p.Present.Changes {
		names = append(names, f.Servo)
	}
	return list(names, ", ")
}

// most is how many rejected combinations are listed.
const most = 12

// unfit lists combinations that do not suit, and why.
func (p *page) unfit() *show.Table {
	t := &show.Table{Title: "Combinations that do not suit", Heads: []string{"<servo arms", "<pitch horn", "<why"}}
	left, pulses := 0, false
	for i := range p.Results {
		r := &p.Results[i]
		switch {
		case len(r.Unfit) == 0:
		case len(t.Rows) == most:
			left++
		default:
			pulses = pulses || errors.As(r.Unfit[0], new(*choose.PulseError))
			t.Add(parts(r), millimetres(r.Horn.Radius), why(r.Unfit))
		}
	}
	if left > 0 {
		t.Note("%s left out here.", count(left, "more is", "more are"))
	}
	if pulses {
		t.Note("Servos reach their pulse limits at full sticks, mostly in the corners. If your radio limits the cyclic stick to a circle, allow some pulse there with -beyond-limit.")
	}
	return t
}

func why(reasons []error) string {
	text := reasons[0].Error()
	if n := len(reasons) - 1; n > 0 {
		text += ", and " + count(n, "more reason", "more reasons")
	}
	return text
}
