// Command throttleplan prints the throttle that holds a chosen rotor speed over the
// collective stick of each flight mode, and the best speed where the battery cannot
// hold it.
//
// Without arguments it shows the invented demonstration machine. Its rotor, motor,
// gear and battery, invented as well, are Go values in drive.go: a machine file has
// none.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

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
	flags.SetOutput(stderr)
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
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "throttleplan: %q is not a flag; a machine file goes after -machine\n", flags.Arg(0))
		return 2
	}
	if err := produce(o, stdout); err != nil {
		fmt.Fprintln(stderr, "throttleplan:", err)
		return 1
	}
	return 0
}

func produce(o options, stdout io.Writer) error {
	p, err := newPlan(o)
	if err != nil {
		return err
	}
	if o.picture != "" {
		svg, err := p.svg()
		if err != nil {
			return err
		}
		if err := os.WriteFile(o.picture, []byte(svg), 0o644); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	p.print(&out)
	_, err = stdout.Write(out.Bytes())
	return err
}
