package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// write writes the report, and the picture where one is asked for. The error is that of
// readings that do not belong to this build, or of writing.
func (f *findings) write(w io.Writer, o options) error {
	if f.misfit != nil {
		o.picture, o.save = "", "" // there is nothing to draw, and nothing to set
	}
	var failed error
	if o.save != "" {
		failed = save(o.save, f.fix.File())
	}
	err := show.Output(w, o.picture, f.svg, func(w io.Writer) {
		if !o.ask { // or else they have been shown
			show.PrintCaution(w, setup.WithBlades, f.rig.Machine)
		}
		f.print(w)
	})
	if err == nil && f.misfit != nil {
		return f.blame(f.misfit)
	}
	return errors.Join(failed, err)
}

// print writes the report but for the cautions.
func (f *findings) print(w io.Writer) {
	show.Print(w, "", "", f.rig.Machine.Name+": what the gauge's readings say, and what to do about it.")
	if note := f.rig.Machine.Note; note != "" {
		show.Print(w, "", "", note)
	}
	if f.invented {
		show.Print(w, "", "", "The readings are invented as well.")
	}
	fmt.Fprintln(w)
	f.readingsTable().Print(w)
	if f.misfit != nil {
		f.printMisfit(w)
		return
	}
	f.printOutliers(w)
	f.printBuild(w)
	f.printSteps(w)
	f.printNext(w)
	fmt.Fprintln(w)
	show.Print(w, "", "", "Amounts after ± hold in 95 cases of 100, for parts as far off as is common on a machine set up with care, and links, teeth and radio steps that do just what they should. "+
		"Read again once you have made the steps: only the gauge knows.")
}

// readingsTable shows each reading against the fitted build.
func (f *findings) readingsTable() *show.Table {
	t := &show.Table{Title: "Readings", Heads: []string{"<", "<what", "read", "fitted", "off by", "<"}}
	for i, r := range f.readings {
		shown, off, remark := "-", "-", ""
		if f.result != nil {
			fitted := &f.result.Readings[i]
			shown, off = show.Signed(fitted.Shown), show.Signed(fitted.Residual)
			if fitted.Outlier {
				remark = "LEFT OUT"
			}
		}
		t.Add(fmt.Sprint(i+1), f.say(r.Point), show.Signed(r.Value), shown, off, remark)
	}
	if len(f.readings) == 0 {
		t.Note("None were taken: all that follows is what is commonly so.")
	} else if f.result != nil {
		t.Note("Fitted: what the likeliest build shows on the same gauge. Off by: what was read less that.")
	}
	return t
}

func (f *findings) printOutliers(w io.Writer) {
	for _, o := range f.result.Outliers {
		show.Print(w, "  ", "    ", fmt.Sprintf("Reading %d does not go with the others: it is %s from what they say, give or take %s. It is left out of all that follows. Read it again: the clip, the sign, the stick.",
			o.Index+1, show.Signed(o.By), show.Angle(sure*o.Sigma)))
	}
	if len(f.result.Outliers) > 1 {
		show.Print(w, "  ", "    ", "Turn nothing before you have read these again: more than one, and they may all have been taken in another way than the rest, "+
			"with the blade on the other side, the sticks in another mode, or left for right. Then what follows is wrong too.")
	}
}

// say says a spot in words that fit a table.
func (b *session) say(s gauge.Point) string {
	return strings.Replace(b.Describe(s), "collective stick", "stick", 1)
}

// sure is how many standard errors a normal number is within in 95 cases of 100.
const sure = 1.96

// amount is what a part is off by, with its 95 % interval.
func amount(k gauge.Kind, off, sigma float64) string {
	return k.Format(off) + " ±" + strings.TrimPrefix(k.Format(sure*sigma), "+")
}

// plusMinus is a 95 % interval, to the tenth of a degree that a gauge shows.
func plusMinus(sigma units.Angle) string { return fmt.Sprintf("±%.1f°", sure*sigma.Degrees()) }

// known says how well blade pitch is known.
func known(p units.Angle) string { return "±" + show.Angle(sure*p) }
