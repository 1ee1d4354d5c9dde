// Command tiltmap shows why travel is set with the rates and not with one
// servo's end points: what each does to the swashplate, for the same change
// in per cent, over the collective stick.
//
// Without arguments it shows the invented demonstration machine.
package main

import (
	"flag"
	"io"
	"os"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/show"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("tiltmap", flag.ContinueOnError)
	machine := flags.String("machine", "", "the machine `file`; without it, the invented demonstration machine")
	servo := flags.String("servo", "", "change the end points of the servo on the leg of this `name`; without it, the first leg's")
	picture := flags.String("svg", "", "write a picture to this `file`, besides the tables")
	return show.Command(flags, args, stderr, "a machine file goes after -machine", nil, func() error { return compare(*machine, *servo, *picture, stdout) })
}

func compare(machine, servo, picture string, stdout io.Writer) error {
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
	return show.Output(stdout, picture, m.svg, m.print)
}
