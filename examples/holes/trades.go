package main

import (
	"errors"
	"fmt"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/units"
)

// trades says what each member of the front is best at, gives up, and asks to be done.
func (p *page) trades() *show.Table {
	t := &show.Table{Title: "What each is best at, what it gives up against the next better one, and what is to be done for it",
		Heads: []string{"", "<best at", "<gives up", "<to do"}}
	for i, m := range p.Front {
		var best, behind []string
		for _, o := range m.Best {
			best = append(best, o.String())
		}
		for _, b := range m.Behind {
			behind = append(behind, fmt.Sprintf("%s %s to %d", amount(b), b.Objective, b.Neighbour+1))
		}
		if len(p.Front) == 1 {
			best = []string{"all"}
		}
		t.Add(fmt.Sprint(i+1), list(best), list(behind), toDo(&p.Results[m.Index]))
	}
	if len(p.Present.Fits) > 0 {
		t.Note("Arms stand square to their links at neutral where they are changed, or off that by the teeth in the list; teeth above 0 raise the ball. Links are between ball centres. Figures of several servos are in the order %s.", p.servos())
	}
	return t
}

func list(words []string) string {
	if words == nil {
		return "-"
	}
	return strings.Join(words, ", ")
}

// amount is by how much a member is behind, in the unit of its objective.
func amount(b choose.Behind) string {
	switch b.Objective {
	case choose.Tilt:
		return show.Angle(units.Angle(b.By))
	case choose.Resolution:
		return fine(units.Angle(b.By))
	case choose.Load:
		return fmt.Sprintf("%.1f %%", units.Ratio(b.By).Percent())
	default:
		return fmt.Sprintf("%.0f ms", units.Time(b.By).Milliseconds())
	}
}

func toDo(r *choose.Result) string {
	var words []string
	changed := false
	for _, f := range r.Fits {
		changed = changed || f.Changed
	}
	if changed {
		words = append(words, "servo links "+each(r.Fits, func(f choose.Fit) string { return fmt.Sprintf("%.2f", f.Link.Millimetres()) })+" mm",
			"sub-trim "+each(r.Fits, func(f choose.Fit) string { return fmt.Sprintf("%+.4g", units.Round(f.SubTrim, 1).Microseconds()) })+" µs")
		if teeth := each(r.Fits, func(f choose.Fit) string { return fmt.Sprintf("%+d", f.Teeth) }); teeth != "+0" {
			words = append(words, "arms moved by "+teeth+" teeth")
		}
	}
	if n := r.Horn.HalfTurns; n != 0 {
		count, way := "half a turn", "longer"
		if n < 0 {
			n, way = -n, "shorter"
		}
		if n > 1 {
			count = fmt.Sprintf("%d half turns", n)
		}
		words = append(words, "pitch links "+count+" "+way)
	}
	return list(words)
}

func (p *page) servos() string {
	var names []string
	for _, f := range p.Present.Fits {
		names = append(names, f.Servo)
	}
	return list(names)
}

// most is how many rejected combinations are listed.
const most = 12

// unfit lists combinations that do not suit, and why.
func (p *page) unfit() *show.Table {
	t := &show.Table{Title: "Do not suit", Heads: []string{"<arms", "<horn", "<why"}}
	left, clips := 0, false
	for i := range p.Results {
		r := &p.Results[i]
		switch {
		case len(r.Unfit) == 0:
		case len(t.Rows) == most:
			left++
		default:
			clips = clips || clipped(r.Unfit)
			t.Add(parts(r), millimetres(r.Horn.Radius), why(r.Unfit))
		}
	}
	if left > 0 {
		t.Note("And %s.", count(left, "other", "others"))
	}
	if clips {
		t.Note("A clipped pulse is at full sticks, mostly in their corners. Where the radio keeps cyclic within a circle, -clip allows some.")
	}
	return t
}

// clipped reports whether the first reason is a clipped pulse.
func clipped(reasons []error) bool {
	var limit *choose.LimitError
	return errors.As(reasons[0], &limit) && limit.What == "clipped pulse"
}

func why(reasons []error) string {
	text := reasons[0].Error()
	if n := len(reasons) - 1; n > 0 {
		text += fmt.Sprintf(" (and %d more)", n)
	}
	return text
}
