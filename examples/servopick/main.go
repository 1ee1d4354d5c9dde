// Command servopick compares servos on one machine. It shows how hard the blades load them,
// how fast they move the collective against that load, and how firmly they hold the blades.
// It also shows what another hole of the servo arms would change.
//
// The machine file gives the rotor, its speed, the servo voltage, the limits and the
// machine's own servos. Flags can give another speed and voltage. The other servos are
// invented Go values in servos.go. Without -machine it shows the invented machine.
package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for. For what is nil the file counts.
type options struct {
	machine, mode, picture string
	json                   bool
	voltage                *units.Voltage      // at the servos
	speed                  *units.AngularSpeed // of the rotor
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("servopick", flag.ContinueOnError)
	show.Purpose(flags, "servopick compares servos on one machine: how hard the blades load them, how fast they are, and how firmly they hold.")
	flags.StringVar(&o.machine, "machine", "", "machine `file` (default: the invented machine)")
	flags.StringVar(&o.mode, "mode", "", "`name` of the flight mode (default: the first one that works and has a rotor speed)")
	flags.StringVar(&o.picture, "svg", "", "also write a picture to this `file`")
	show.AsJSON(flags, &o.json)
	show.Optional(flags, &o.voltage, "volts", "`voltage` at the servos, such as \"6.6 V\" (default: from the machine file)")
	show.Optional(flags, &o.speed, "speed", "rotor `speed`, such as \"1900 rpm\" (default: from the machine file)")
	return show.Command(flags, args, stderr, "write -machine before the machine file", nil, func() error { return produce(o, stdout) })
}

func produce(o options, stdout io.Writer) error {
	if err := files.Apart([]string{o.picture}, []string{o.machine}); err != nil {
		return err
	}
	c, err := newComparison(o)
	if err != nil {
		return err
	}
	if o.json {
		return show.OutputJSON(stdout, o.picture, c.svg, results.ServoChoice, c.result())
	}
	return show.Output(stdout, o.picture, c.svg, c.print)
}

// override puts the options into a machine. It refuses a machine without a rotor or a voltage.
func (o *options) override(m *machine.Machine) error {
	if o.voltage != nil {
		m.ServoVoltage = o.voltage
	}
	switch {
	case m.Rotor == nil:
		return fmt.Errorf(`%s: rotor is missing; add "rotor", as in direct.json`, o.machine)
	case m.ServoVoltage == nil:
		return fmt.Errorf("%s: servo_voltage is missing; add it, or give one with -volts", o.machine)
	}
	for i := range m.Modes {
		if o.speed != nil {
			m.Modes[i].RotorSpeed = o.speed
		}
	}
	return nil
}
