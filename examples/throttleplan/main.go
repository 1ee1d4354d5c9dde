// Command throttleplan prints the throttle that holds a chosen rotor speed over the
// collective stick of each flight mode, and the best speed where the battery cannot
// hold it.
//
// Without arguments it shows the invented demonstration machine. Its rotor, motor,
// gear and battery, invented as well, are Go values in drive.go: a machine file has
// none.
package main

import (
	"flag"
	"io"
	"os"
	"strconv"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for.
type options struct {
	machine, mode, picture string
	speed                  units.AngularSpeed // of the rotor
	charge                 units.Ratio        // of the battery
	height                 units.Length       // above the sea
	temperature            *rotor.Temperature // on the field; nil is that of the standard atmosphere
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("throttleplan", flag.ContinueOnError)
	flags.StringVar(&o.machine, "machine", "", "the machine `file`; without it, the invented demonstration machine")
	flags.StringVar(&o.mode, "mode", "", "show only the flight mode of this `name`")
	flags.StringVar(&o.picture, "svg", "", "write a picture to this `file`, besides the tables")
	flags.TextVar(&o.speed, "speed", 2200*units.RevolutionPerMinute, "rotor `speed` to hold")
	flags.TextVar(&o.charge, "charge", 100*units.Percent, "`charge` of the battery")
	flags.TextVar(&o.height, "height", 0*units.Metre, "`height` of the field above the sea, such as \"400 m\"")
	flags.Func("temperature", "`degrees` Celsius on the field; without it, those of the standard atmosphere", func(text string) error {
		degrees, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "°C")), 64)
		t := rotor.Celsius(degrees)
		o.temperature = &t
		return err
	})
	return show.Command(flags, args, stderr, "a machine file goes after -machine", nil, func() error { return produce(o, stdout) })
}

func produce(o options, stdout io.Writer) error {
	p, err := newPlan(o)
	if err != nil {
		return err
	}
	return show.Output(stdout, o.picture, p.svg, p.print)
}
