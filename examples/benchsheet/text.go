package main

import (
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
)

// printText prints the sheet as text, at most show.Width columns wide.
func printText(w io.Writer, rig *setup.Rig, s *setup.Sheet) {
	show.Print(w, "", "", "BENCH SHEET: "+s.Machine)
	head(w, "Before anything else")
	for i, c := range s.Cautions {
		show.Print(w, fmt.Sprintf("%2d. ", i+1), "    ", c)
	}
	head(w, "Findings")
	if len(s.Findings) == 0 {
		fmt.Fprintln(w, "none")
	}
	for _, f := range s.Findings {
		const indent = "      "
		first := fmt.Sprintf("%-*s", len(indent), strings.ToUpper(string(f.Severity)))
		show.Print(w, first, indent, fmt.Sprintf("%s (%s): %s.", f.What, f.Where, f.Figure))
		show.Print(w, indent, indent, "Do: "+f.Do)
	}
	if s.Note != "" {
		head(w, "About this machine")
		show.Print(w, "", "", s.Note)
	}
	head(w, "Neutral: square the arms, then level the plate with its links")
	show.Print(w, "", "", neutralText(s.Neutral))
	show.Print(w, "", "", bearings)
	neutralTable(s.Neutral).Print(w)
	show.Print(w, "", "", gaugeText(rig))
	for _, m := range s.Modes {
		printMode(w, rig, m)
	}
	head(w, stepsTitle(rig))
	show.Print(w, "", "", stepsText)
	stepsTable(s.Steps).Print(w)
}

func printMode(w io.Writer, rig *setup.Rig, m setup.SheetMode) {
	head(w, "Flight mode: "+m.Name)
	for _, f := range facts(rig, m) {
		show.Print(w, f.Name+": ", "    ", f.Text)
	}
	for _, t := range append(stickTables(rig, m), limitTables(m)...) {
		fmt.Fprintln(w)
		t.Print(w)
	}
}

// head prints a heading, set off and underlined.
func head(w io.Writer, text string) {
	fmt.Fprintln(w)
	for _, line := range show.Wrap(text, show.Width) {
		fmt.Fprintln(w, line)
		fmt.Fprintln(w, strings.Repeat("-", len([]rune(line))))
	}
}
