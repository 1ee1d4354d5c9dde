// Command leanmap shows why travel is set with a function's rate and not with
// one servo's end points: what each does to the swashplate, for the same change
// in per cent, over the collective stick.
//
// Without arguments it shows the invented demonstration machine.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("leanmap", flag.ContinueOnError)
	flags.SetOutput(stderr)
	machine := flags.String("machine", "", "the machine `file`; without it, the invented demonstration machine")
	servo := flags.String("servo", "", "change the end points of the servo on the leg of this `name`; without it, the first leg's")
	picture := flags.String("svg", "", "write a picture to this `file`, besides the tables")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "leanmap: %q is not a flag; a machine file goes after -machine\n", flags.Arg(0))
		return 2
	}
	if err := compare(*machine, *servo, *picture, stdout); err != nil {
		fmt.Fprintln(stderr, "leanmap:", err)
		return 1
	}
	return 0
}

func compare(machine, servo, picture string, stdout io.Writer) error {
	rig, err := show.Rig(machine, demo.Direct)
	if err != nil {
		return err
	}
	m, err := newLeanMap(rig, servo)
	if err != nil {
		return err
	}
	if picture != "" {
		svg, err := m.svg()
		if err != nil {
			return err
		}
		if err := os.WriteFile(picture, []byte(svg), 0o644); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	m.print(&out)
	_, err = stdout.Write(out.Bytes())
	return err
}
