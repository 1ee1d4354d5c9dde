// Command tiltmap shows why you set travel with the rates and not with one servo's end points.
// It makes the same change in both ways, and shows over the collective stick how the
// swashplate tilts.
//
// Without arguments it shows the invented machine.
package main

import (
	"flag"
	"io"
	"os"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("tiltmap", flag.ContinueOnError)
	show.Purpose(flags, "tiltmap shows why you set travel with the rates and not with one servo's end points.")
	machine := flags.String("machine", "", "machine `file` (default: the invented machine)")
	servo := flags.String("servo", "", "`name` of the servo whose end points change (default: the first servo)")
	picture := flags.String("svg", "", "also write a picture to this `file`")
	var asJSON bool
	show.AsJSON(flags, &asJSON)
	return show.Command(flags, args, stderr, "write -machine before the machine file", nil, func() error { return compare(*machine, *servo, *picture, asJSON, stdout) })
}

func compare(machine, servo, picture string, asJSON bool, stdout io.Writer) error {
	if err := files.Apart([]string{picture}, []string{machine}); err != nil {
		return err
	}
	rig, err := show.Rig(machine, demo.Direct)
	if err != nil {
		return err
	}
	m, err := newTiltMap(rig, servo)
	if err != nil {
		return err
	}
	if asJSON {
		return show.OutputJSON(stdout, picture, m.svg, results.TiltMap, m.result())
	}
	return show.Output(stdout, picture, m.svg, m.print)
}
