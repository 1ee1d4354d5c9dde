package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// page is what is shown of a choice.
type page struct {
	machine *machine.Machine
	*choose.Choice
	invented bool // the parts are those of the box
}

// count writes a number with the form of a noun or verb that goes with it.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// works are mounting the parts, and reading the gauge after that.
const works = sheet.WithoutBlades | sheet.WithBlades

// print writes the choice, cautions first.
func (p *page) print(w io.Writer) {
	show.PrintCaution(w, works, p.machine)
	var suit int
	for _, r := range p.Results {
		if len(r.Unfit) == 0 {
			suit++
		}
	}
	show.Print(w, "", "", fmt.Sprintf("%s: %s of parts tried. %s within all limits looked at. %s among the best trade-offs.",
		p.machine.Name, count(len(p.Results), "combination", "combinations"), count(suit, "is", "are"), count(len(p.Front), "is", "are")))
	if p.machine.Note != "" {
		show.Print(w, "", "", p.machine.Note)
	}
	if p.invented {
		show.Print(w, "", "", "The box of parts is invented as well.")
	}
	fmt.Fprintln(w)
	p.front().Print(w)
	if len(p.Front) > 0 {
		fmt.Fprintln(w)
		p.trades().Print(w)
	}
	if suit < len(p.Results) {
		fmt.Fprintln(w)
		p.unfit().Print(w)
	}
	fmt.Fprintln(w)
	theory := ""
	if p.loaded() {
		theory = "Loads are theory: they come only from the moments that twist the blades. Friction, the weight of the parts and gusts are not included, so leave room. "
	}
	show.Print(w, "", "", theory+"Trust none of this before you have measured the machine with the new parts. Read the gauge, and set the machine up by its own bench sheet.")
}

// loaded reports whether servo loads are known and looked at.
func (p *page) loaded() bool { return slices.Contains(p.Objectives, choose.Load) }

func (p *page) front() *show.Table {
	title := "Best trade-offs: to gain on one point, you must give up another"
	switch len(p.Front) {
	case 0:
		title = "The machine as it is"
	case 1:
		title = "The best combination"
	}
	t := &show.Table{Title: title,
		Heads: []string{"<choice", "<servo arms", "<pitch horn", "tilt", "step", "deadband", "load", "stroke", "rate", "use", "miss"}}
	t.Add(append([]string{"as it is"}, figures(&p.Present)...)...)
	for i, m := range p.Front {
		t.Add(append([]string{fmt.Sprint(i + 1)}, figures(&p.Results[m.Index])...)...)
	}
	if len(p.Present.Unfit) > 0 {
		t.Note("As it is, the machine does not suit: %v.", p.Present.Unfit[0])
	}
	t.Note("Servo arms are the hole radii of the servo arms (also called servo horns).")
	if slices.ContainsFunc(p.Results, func(r choose.Result) bool { return different(r.Arms) }) {
		t.Note("Radii of different arms are in the order %s.", p.servos())
	}
	t.Note("Pitch horn is the hole radius of the horn that turns the blade.")
	t.Note("Tilt is the largest tilt of the swashplate while only the collective stick moves.")
	t.Note("Step is how far one pulse step of the radio moves the blade's pitch, where the stick is coarsest.")
	t.Note("Deadband is how far the servos' deadbands let the pitch be off to either side, where the stick is coarsest.")
	t.Note("Resolution, below and in the picture, is the larger of one step and twice the deadband.")
	t.Note("Load is the largest load of a servo, as a share of its stall torque.")
	t.Note("Stroke is the time the slowest servo takes for full collective, against its largest load.")
	t.Note("Rate is the largest of the collective, right cyclic and forward cyclic rates.")
	t.Note("Use is how much of the travel to the nearer pulse limit is used.")
	t.Note("Miss is how far the pitch is from its target after rounding to radio steps. In a mode without targets it is how far the pitch is from the present one. For cyclic the direction does not count.")
	t.Note("Each figure is the worst of all flight modes. A dash is a figure that the machine file does not give.")
	if p.loaded() {
		t.Note("The limits looked at are targets, rates, pulse limits, dead centres, ball links and stall of a servo. " + untested)
	} else {
		t.Note("The limits looked at are targets, rates, pulse limits, dead centres and ball links. Loads were not looked at. " + untested)
	}
	for i, m := range p.Front {
		if r := &p.Results[m.Index]; r.Tilt > r.Rig.Limits().Tilt {
			t.Note("The tilt of choice %d is more than a bench sheet accepts (%s).", i+1, machine.LimitText(r.Rig.Limits().Tilt, machine.DefaultLimits().Tilt))
			break
		}
	}
	return t
}

// untested says what no limit covers.
const untested = "Parts that touch, bind or bend were not looked at, nor how hard four servos on one plate fight."

// different reports whether arms are not all the same.
func different(arms []units.Length) bool {
	return slices.ContainsFunc(arms, func(a units.Length) bool { return a != arms[0] })
}

// figures are a result's cells after the first.
func figures(r *choose.Result) []string {
	cells := []string{parts(r), millimetres(r.Horn.Radius), show.Angle(r.Tilt), fine(r.Step), fine(r.Deadband), "-", "-",
		show.Percent(r.Rate), fmt.Sprintf("%.0f %%", r.Use.Percent()), show.Angle(r.Error)}
	if r.Deadband == 0 {
		cells[4] = "-"
	}
	if r.Loaded {
		cells[5], cells[6] = fmt.Sprintf("%.1f %%", r.Load.Percent()), fmt.Sprintf("%.0f ms", r.Stroke.Milliseconds())
	}
	return cells
}

// parts names a result's parts under the plate.
func parts(r *choose.Result) string {
	c, text := &r.Candidate, "as they are"
	arms := slices.Clone(c.Arms)
	if arms == nil {
		for _, f := range r.Changes {
			arms = append(arms, f.Arm)
		}
	}
	if arms != nil {
		text = each(arms, func(a units.Length) string { return fmt.Sprintf("%.4g", a.Millimetres()) }) + " mm"
	}
	if c.Teeth != 0 {
		text += ", " + teeth(c.Teeth)
	}
	if c.Ball != 0 {
		text += ", balls " + millimetres(c.Ball)
	}
	if c.Link != 0 {
		text += ", links " + millimetres(c.Link)
	}
	return text
}

// each gives the text of every servo, or one text where all are alike.
func each[T any](servos []T, name func(T) string) string {
	var all []string
	alike := true
	for _, s := range servos {
		all = append(all, name(s))
		alike = alike && all[0] == name(s)
	}
	if alike {
		return all[0]
	}
	return strings.Join(all, "/")
}

func millimetres(l units.Length) string { return fmt.Sprintf("%.4g mm", l.Millimetres()) }

func fine(a units.Angle) string { return fmt.Sprintf("%.3f°", a.Degrees()) }
