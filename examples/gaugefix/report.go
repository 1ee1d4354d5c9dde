package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/units"
)

// write writes the report, and the picture where one is asked for. The error is that of
// readings that do not belong to this machine as built, or of writing.
func (f *findings) write(w io.Writer, o options) error {
	if f.misfit != nil {
		o.picture, o.save = "", "" // there is nothing to draw, and nothing to set
	}
	var failed error
	if o.save != "" {
		failed = save(o.save, f.fix.File())
	}
	err := f.output(w, o)
	if err == nil && f.misfit != nil {
		return f.blame(errors.New("these readings do not belong to this machine as built: the report says what to check"))
	}
	return errors.Join(failed, err)
}

// output writes the picture, and the report in text or as JSON.
func (f *findings) output(w io.Writer, o options) error {
	if o.json {
		return show.OutputJSON(w, o.picture, f.svg, results.GaugeSession, results.Gauge{
			About: results.Of(works, f.rig.Machine()), Given: f.readings,
			Misfit: f.misfit, Result: f.result, Correction: f.fix, Plan: f.plan,
		})
	}
	return show.Output(w, o.picture, f.svg, func(w io.Writer) {
		if !o.ask { // or else they have been shown
			show.PrintCaution(w, works, f.rig.Machine())
		}
		f.print(w)
	})
}

// print writes the report but for the cautions.
func (f *findings) print(w io.Writer) {
	show.Print(w, "", "", f.rig.Name()+": what to do about these readings, what to read next, and what is known.")
	if note := f.rig.Machine().Note; note != "" {
		show.Print(w, "", "", note)
	}
	if f.invented {
		show.Print(w, "", "", "The readings are invented as well.")
	}
	fmt.Fprintln(w)
	if f.misfit != nil {
		f.printMisfit(w)
	} else {
		f.printOutliers(w)
		f.printSteps(w)
		f.printNext(w)
		f.printBuild(w)
	}
	fmt.Fprintln(w)
	f.readingsTable().Print(w)
}

// readingsTable compares each reading with the machine as built that was found.
func (f *findings) readingsTable() *show.Table {
	t := &show.Table{Title: "Readings", Heads: []string{"", "<what", "read"}}
	if f.result != nil {
		t.Heads = append(t.Heads, "calculated", "difference", "<")
	}
	for i, r := range f.readings {
		cells := []string{fmt.Sprint(i + 1), f.say(r.Point), show.Signed(r.Value)}
		if f.result != nil {
			calculated, remark := &f.result.Readings[i], ""
			if calculated.Outlier {
				remark = "LEFT OUT"
			}
			cells = append(cells, show.Signed(calculated.Shown), show.Signed(calculated.Residual), remark)
		}
		t.Add(cells...)
	}
	if len(f.readings) == 0 {
		t.Note("No readings yet. The figures above are for a machine built with ordinary care.")
		return t
	}
	t.Note("Read is what the gauge showed. + is leading edge up on a blade, and ball up on a servo arm (also called servo horn). On the swashplate, + is right side low or front low.")
	if f.result != nil {
		t.Note("Calculated is what the gauge should show on the machine that best explains all readings. Difference is read minus calculated.")
	}
	return t
}

func (f *findings) printOutliers(w io.Writer) {
	for _, o := range f.result.Outliers {
		show.Print(w, "", "  ", fmt.Sprintf("Reading %d does not go with the others. It is %s from what they say (within %s). It is left out of all that follows. Check how the gauge is clamped, its sign and the stick, and read it again.",
			o.Index+1, show.Signed(o.By), show.Angle(sure*o.Sigma)))
	}
	if len(f.result.Outliers) > 1 {
		show.Print(w, "", "  ", "Turn nothing before you have read these again. They can all have been taken in another way than the rest. "+
			"Perhaps the blade was on the other side, the mode was another, or left and right were swapped. Then what follows is wrong too.")
	}
	if len(f.result.Outliers) > 0 {
		fmt.Fprintln(w)
	}
}

// say says a point in words that fit a table.
func (b *session) say(s gauge.Point) string {
	return shorter.Replace(b.Describe(s))
}

var shorter = strings.NewReplacer("pitch of blade ", "blade ", "collective stick at", "stick", "cyclic stick ", "")

// sure is how many standard errors a normal number is within in 19 of 20 cases.
const sure = 1.96

// size is an amount of a kind without its sign.
func size(k gauge.Kind, amount float64) string { return strings.TrimPrefix(k.Format(amount), "+") }

// tenth is an angle to the tenth of a degree that a gauge shows.
func tenth(a units.Angle) string { return show.Plain(a.Degrees(), 1) + "°" }

// within is how far a standard error reaches in 19 of 20 cases, to a hundredth of a degree.
func within(sigma units.Angle) string { return show.Angle(sure * sigma) }

// withinTenth is that to a tenth, beside what a gauge shows.
func withinTenth(sigma units.Angle) string { return fmt.Sprintf("%.1f°", sure*sigma.Degrees()) }
