package main

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
)

// What the findings are, and are not, about.
const (
	none   = "None."
	looked = "Findings are about the numbers of the machine file: geometry, travel, rates, targets, throttle, and loads where it gives a rotor. " +
		"They say nothing of binding, wear, loose parts, the tail, tracking or the radio link."
)

// printText prints the sheet as text, at most show.Width columns wide.
func printText(w io.Writer, rig *setup.Rig, s *sheet.Sheet) {
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
		show.Print(w, first, indent, fmt.Sprintf("%s (%s)", f.What, where(f)))
		show.Print(w, indent, indent, sentence(f.Figure))
		show.Print(w, indent, indent, "Do: "+f.Do)
	}
	show.Print(w, "", "", looked)
	if s.Note != "" {
		head(w, "About this machine")
		show.Print(w, "", "", s.Note)
	}
	head(w, neutralTitle)
	show.Print(w, "", "", neutralText(s.Neutral))
	show.Print(w, "", "", directions)
	show.Print(w, "", "", asFiled)
	printTables(w, neutralTables(s.Neutral))
	head(w, readingTitle)
	for _, text := range readingTexts(rig, s) {
		show.Print(w, "", "    ", text)
	}
	for _, m := range modeViews(rig, s) {
		head(w, m.Title)
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

// sentence begins with a capital and ends in a point.
func sentence(text string) string { return capital(text) + "." }

// capital begins with a capital.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

// where says what a finding is about.
func where(f sheet.Finding) string {
	if f.Mode != "" {
		return fmt.Sprintf("mode %q", f.Mode)
	}
	return f.Where
}

// head prints a heading, set off and underlined.
func head(w io.Writer, text string) {
	fmt.Fprintln(w)
	for _, line := range show.Wrap(text, show.Width) {
		fmt.Fprintln(w, line)
		fmt.Fprintln(w, strings.Repeat("-", len([]rune(line))))
	}
}
