// Command benchsheet prints the bench sheet of a model helicopter's rotor head: what is
// wrong, what the pitch gauge, the swashplate and the servos should show at each position
// of the collective stick, and what each adjustment changes.
//
// Without arguments it shows the invented machine.
package main

import (
	"errors"
	"flag"
	"io"
	"os"
	"slices"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("benchsheet", flag.ContinueOnError)
	show.Purpose(flags, "benchsheet shows what is wrong with a rotor head, what the pitch gauge should read, and what each adjustment changes.")
	machine := flags.String("machine", "", "the machine `file` (default: the invented machine)")
	mode := flags.String("mode", "", "show only the flight mode of this `name` (default: all modes)")
	var asJSON bool
	show.AsJSON(flags, &asJSON)
	picture := flags.String("svg", "", "also write the curves of the sheet as a picture to this `file`")
	page := flags.String("html", "", "write the sheet as a page to this `file`, and print only what -json asks for (default: no page)")
	return show.Command(flags, args, stderr, "a machine file goes after -machine", nil, func() error { return produce(*machine, *mode, asJSON, *page, *picture, stdout) })
}

func produce(machine, mode string, asJSON bool, page, picture string, stdout io.Writer) error {
	if err := files.Apart([]string{page, picture}, []string{machine}); err != nil {
		return err
	}
	rig, err := show.Rig(machine, demo.Direct)
	if err != nil {
		return err
	}
	s, err := sheet.Of(rig)
	if err != nil {
		return err
	}
	if mode != "" {
		if err := only(rig, s, mode); err != nil {
			return err
		}
	}
	var failed error
	if page != "" {
		failed = savePage(page, rig, s)
	}
	draw := func() (string, error) { return svg(rig, s) }
	if asJSON {
		return errors.Join(failed, show.OutputJSON(stdout, picture, draw, results.BenchSheet, s))
	}
	return errors.Join(failed, show.Output(stdout, picture, draw, func(w io.Writer) {
		if page == "" || failed != nil { // in place of the page
			printText(w, rig, s)
		}
	}))
}

// only leaves one flight mode on the sheet. Findings that say stop stay, whatever mode
// they are about: they matter on the bench.
func only(rig *setup.Rig, s *sheet.Sheet, name string) error {
	if _, err := show.Mode(rig, name); err != nil {
		return err
	}
	s.Modes = slices.DeleteFunc(s.Modes, func(m sheet.Mode) bool { return m.Name != name })
	s.Findings = slices.DeleteFunc(s.Findings, func(f sheet.Finding) bool {
		return f.Mode != "" && f.Mode != name && f.Severity != sheet.Stop
	})
	return nil
}
