package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
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
		switch {
		case len(p.Front) == 1:
			best = []string{"all"}
		case best == nil && behind == nil:
			best = []string{"equal in every point compared"}
		}
		t.Add(fmt.Sprint(i+1), list(best, ", "), list(behind, "; "), p.toDo(&p.Results[m.Index]))
	}
	t.Note("Gives up is how far the choice is behind the next better one, each point by itself.")
	steps := "Tilt and resolution are compared in steps of 0.01°"
	if p.loaded() {
		steps = "Tilt and resolution are compared in steps of 0.01°, servo load in steps of 1 %, and stroke in steps of 5 ms"
	}
	t.Note("%s. Choices less apart than that can count as equal.", steps)
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
		return "tilt " + some(units.Angle(b.By).Degrees(), 2, "°") + " more"
	case choose.Resolution:
		return "resolution " + some(units.Angle(b.By).Degrees(), 3, "°") + " coarser"
	case choose.Load:
		return "servo load " + some(units.Ratio(b.By).Percent(), 1, " %") + " higher"
	default:
		return "stroke " + some(units.Time(b.By).Milliseconds(), 0, " ms") + " longer"
	}
}

// some is an amount above 0 to some decimals. It is never written as 0.
func some(x float64, decimals int, unit string) string {
	text := fmt.Sprintf("%.*f", decimals, x)
	if strings.Trim(text, "0.") == "" {
		return fmt.Sprintf("less than %.*f", decimals, math.Pow(10, -float64(decimals))) + unit
	}
	return text + unit
}

// toDo says what to change for a result from the present machine.
func (p *page) toDo(r *choose.Result) string {
	if r.Rig == p.Present.Rig {
		return "-"
	}
	words := p.holes(r)
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
	if r.Horn.Radius != p.Present.Horn.Radius {
		words = append(words, fmt.Sprintf("move the pitch links to the %s holes", millimetres(r.Horn.Radius)))
	}
	if n := r.Horn.HalfTurns; n != 0 {
		verb := "lengthen"
		if n < 0 {
			verb = "shorten"
		}
		words = append(words, verb+" the pitch links by "+linkage.Turns(float64(n)))
	}
	return list(append(words, "enter new rates and curves from the new bench sheet"), "; ")
}

// holes says where to put the servo links for a result, if that is elsewhere than now.
func (p *page) holes(r *choose.Result) (words []string) {
	var arms []units.Length
	var moved []string
	for i, c := range r.Changes {
		arms = append(arms, c.Arm)
		if c.Arm != p.Present.Changes[i].Arm {
			moved = append(moved, fmt.Sprintf("%s to the %s hole", c.Servo, millimetres(c.Arm)))
		}
	}
	switch {
	case moved == nil:
	case different(arms):
		words = append(words, "move the servo links on the arms: "+list(moved, ", "))
	default:
		words = append(words, fmt.Sprintf("move the servo links to the %s holes of the arms", millimetres(arms[0])))
	}
	if r.Ball != 0 && slices.ContainsFunc(p.Present.Rig.Parts().Plate.Legs, func(leg swash.LegSpec) bool { return leg.Ball.Radius != r.Ball }) {
		words = append(words, fmt.Sprintf("move the servo links to the balls at %s", millimetres(r.Ball)))
	}
	return words
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
