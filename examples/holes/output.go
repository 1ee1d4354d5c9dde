package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/choose"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// page is what is shown of a choice.
type page struct {
	machine *setup.Machine
	*choose.Choice
	invented bool // the parts are those of the box
}

// count says a number with its noun or verb.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// works are fitting the parts, and reading the gauge after that.
const works = setup.WithoutBlades | setup.WithBlades

// print writes the choice, cautions first.
func (p *page) print(w io.Writer) {
	show.PrintCaution(w, works, p.machine)
	var fit int
	for _, r := range p.Results {
		if len(r.Unfit) == 0 {
			fit++
		}
	}
	show.Print(w, "", "", fmt.Sprintf("%s: %s of parts tried. %s within all limits looked at. %s among the best trade-offs.",
		p.machine.Name, count(len(p.Results), "combination", "combinations"), count(fit, "is", "are"), count(len(p.Front), "is", "are")))
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
	if fit < len(p.Results) {
		fmt.Fprintln(w)
		p.unfit().Print(w)
	}
	fmt.Fprintln(w)
	theory := ""
	if p.loaded() {
		theory = "Loads are theory, from the blades' feathering moments alone: friction, the weight of the parts and gusts are not in them, so leave room. "
	}
	show.Print(w, "", "", theory+"Measure what you have fitted with the gauge, and set the machine up by its own bench sheet, before you trust any of this.")
}

// loaded reports whether servo loads are known and looked at.
func (p *page) loaded() bool { return slices.Contains(p.Objectives, choose.Load) }

func (p *page) front() *show.Table {
	t := &show.Table{Title: "The best trade-offs: to gain on one point here, you must give up another",
		Heads: []string{"", "<arms", "<horn", "tilt", "step", "deadband", "load", "stroke", "rate", "use", "miss"}}
	t.Add(append([]string{"as it is"}, figures(&p.Present)...)...)
	for i, m := range p.Front {
		t.Add(append([]string{fmt.Sprint(i + 1)}, figures(&p.Results[m.Index])...)...)
	}
	if len(p.Present.Unfit) > 0 {
		t.Note("As it is, the machine does not suit: %v.", p.Present.Unfit[0])
	}
	t.Note("Tilt: the largest of the plate under collective alone. Step: of the radio, in blade pitch; deadband: how far the servos' deadbands let the blade be off to either side; both where the stick is coarsest. Load: of a servo, as part of its stall torque. Stroke: of the full collective stick against that. All are at worst over all flight modes.")
	t.Note("Rate: the largest of the rates needed. Use: of the way from neutral to the nearer pulse limit. Miss: of a pitch target, or of the pitch as it is where a mode has no targets, in the radio's steps; of cyclic its amount, not its direction.")
	stall, loads := ", and loads that stall a servo", "Parts"
	if !p.loaded() {
		stall, loads = "", "Loads, parts"
	}
	t.Note("The limits looked at are those of targets, rates, clipping, dead centres, ball links%s. %s that touch, bind or bend, and servos that fight over a plate of four, were not looked at.", stall, loads)
	for i, m := range p.Front {
		if r := &p.Results[m.Index]; r.Tilt > r.Rig.Limits.Tilt {
			t.Note("A bench sheet finds fault with a tilt such as that of %d (%s).", i+1, setup.LimitText(r.Rig.Limits.Tilt, setup.DefaultLimits().Tilt))
			break
		}
	}
	return t
}

// figures are a result's cells, its number left out.
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
		for _, f := range r.Fits {
			arms = append(arms, f.Arm)
		}
	}
	if arms != nil {
		text = each(arms, func(a units.Length) string { return fmt.Sprintf("%.4g", a.Millimetres()) }) + " mm"
	}
	if c.Teeth != 0 {
		text += fmt.Sprintf(", %+d teeth", c.Teeth)
	}
	if c.Ball != 0 {
		text += ", balls " + millimetres(c.Ball)
	}
	if c.Link != 0 {
		text += ", links " + millimetres(c.Link)
	}
	return text
}

// each names something of all servos, once where they are alike.
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
