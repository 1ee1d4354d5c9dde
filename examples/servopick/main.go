// Command servopick compares servos on one machine: how the blades load them, how
// fast they move the collective against that, and how much pitch they lose under it.
//
// Without arguments it shows the invented demonstration machine. The servos, and the
// rotor that loads them, are Go values in servos.go and invented as well: a machine
// file has none.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for.
type options struct {
	machine, mode, picture string
	voltage                units.Voltage      // at the servos
	speed                  units.AngularSpeed // of the rotor
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("servopick", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&o.machine, "machine", "", "the machine `file`; without it, the invented demonstration machine")
	flags.StringVar(&o.mode, "mode", "", "use the flight mode of this `name`; without it, the first that can be worked out")
	flags.StringVar(&o.picture, "svg", "", "write a picture to this `file`, besides the table")
	flags.Float64Var((*float64)(&o.voltage), "volts", 6.6, "`volts` at the servos")
	flags.TextVar(&o.speed, "speed", 1900*units.RevolutionPerMinute, "rotor `speed`")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "servopick: %q is not a flag; a machine file goes after -machine\n", flags.Arg(0))
		return 2
	case !(o.voltage > 0) || !units.Finite(o.voltage):
		fmt.Fprintf(stderr, "servopick: -volts %v is not above zero\n", o.voltage.Volts())
		return 2
	}
	if err := produce(o, stdout); err != nil {
		fmt.Fprintln(stderr, "servopick:", err)
		return 1
	}
	return 0
}

func produce(o options, stdout io.Writer) error {
	c, err := newComparison(o)
	if err != nil {
		return err
	}
	if o.picture != "" {
		svg, err := c.svg()
		if err != nil {
			return err
		}
		if err := os.WriteFile(o.picture, []byte(svg), 0o644); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	c.print(&out)
	_, err = stdout.Write(out.Bytes())
	return err
}
