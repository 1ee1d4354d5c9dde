// Command servopick compares servos on one machine: how the blades load them, how
// fast they move the collective against that, and how much pitch they lose under it.
//
// Without arguments it shows the invented demonstration machine. The servos, and the
// rotor that loads them, are Go values in servos.go and invented as well: a machine
// file has none.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/levelhead/examples/internal/show"
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
	flags.StringVar(&o.machine, "machine", "", "the machine `file`; without it, the invented demonstration machine")
	flags.StringVar(&o.mode, "mode", "", "use the flight mode of this `name`; without it, the first that can be worked out")
	flags.StringVar(&o.picture, "svg", "", "write a picture to this `file`, besides the table")
	flags.Float64Var((*float64)(&o.voltage), "volts", 6.6, "`volts` at the servos")
	flags.TextVar(&o.speed, "speed", 1900*units.RevolutionPerMinute, "rotor `speed`")
	check := func() error {
		if !(o.voltage > 0) || !units.Finite(o.voltage) {
			return fmt.Errorf("-volts %v is not above zero", o.voltage.Volts())
		}
		return nil
	}
	return show.Command(flags, args, stderr, "a machine file goes after -machine", check, func() error { return produce(o, stdout) })
}

func produce(o options, stdout io.Writer) error {
	c, err := newComparison(o)
	if err != nil {
		return err
	}
	return show.Output(stdout, o.picture, c.svg, c.print)
}
