package main

import (
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
)

// What the findings are, and are not, about.
const (
	none   = "None."
	looked = "Findings are about the numbers of the machine file: geometry, travel, rates, targets, throttle, and loads where it gives a rotor. " +
		"Binding, wear, loose parts, the tail, tracking and the radio link were not looked at."
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
		fmt.Fprintln(w, none)
	}
	for _, f := range s.Findings {
		const indent = "      "
		first := fmt.Sprintf("%-*s", len(indent), strings.ToUpper(string(f.Severity)))
		show.Print(w, first, indent, fmt.Sprintf("%s (%s): %s.", f.What, f.Where, f.Figure))
		show.Print(w, indent, indent, "Do: "+f.Do)
	}
	show.Print(w, "", "", looked)
	if s.Note != "" {
		head(w, "About this machine")
		show.Print(w, "", "", s.Note)
	}
	head(w, "Neutral: square the arms, then level the plate with its links")
	show.Print(w, "", "", neutralText(s.Neutral))
	show.Print(w, "", "", bearings)
	printTables(w, neutralTables(s.Neutral))
	fmt.Fprintln(w)
	for _, text := range []string{gaugeText(rig), playText(rig), unevenText} {
		if text != "" {
			show.Print(w, "", "    ", text)
		}
	}
	for _, m := range modeViews(rig, s) {
		head(w, "Flight mode: "+m.Name)
		for _, f := range m.Facts {
			show.Print(w, f.Name+": ", "    ", f.Text)
		}
		printTables(w, m.Tables)
	}
	head(w, stepsTitle(s))
	show.Print(w, "", "", stepsText(s))
	stepsTable(s.Steps).Print(w)
}

func printTables(w io.Writer, tables []*show.Table) {
	for _, t := range tables {
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
