// Command servopick compares servos on one machine: how the blades load them, how fast
// they move the collective against that, how firmly they hold the blades, and what a
// longer or shorter arm would trade.
//
// Rotor, rotor speed, servo voltage, limits and the machine's own servos come from the
// machine file; flags override speed and voltage. The servos that are compared with them
// are invented Go values in servos.go. Without -machine it shows the invented
// demonstration machine.
package main

import (
	"errors"
	"flag"
	"io"
	"os"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for. What is nil is as the file has it.
type options struct {
	machine, mode, picture string
	voltage                *units.Voltage      // at the servos
	speed                  *units.AngularSpeed // of the rotor
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("servopick", flag.ContinueOnError)
	flags.StringVar(&o.machine, "machine", "", "the machine `file`; without it, the invented demonstration machine")
	flags.StringVar(&o.mode, "mode", "", "use the flight mode of this `name`; without it, the first that can be worked out and has a rotor speed")
	flags.StringVar(&o.picture, "svg", "", "write a picture to this `file`, besides the tables")
	show.Optional(flags, &o.voltage, "volts", "`voltage` at the servos, such as \"6.6 V\"; without it, the file's")
	show.Optional(flags, &o.speed, "speed", "rotor `speed`, such as \"1900 rpm\"; without it, the mode's in the file")
	return show.Command(flags, args, stderr, "a machine file goes after -machine", nil, func() error { return produce(o, stdout) })
}

func produce(o options, stdout io.Writer) error {
	if err := files.Apart([]string{o.picture}, []string{o.machine}); err != nil {
		return err
	}
	c, err := newComparison(o)
	if err != nil {
		return err
	}
	return show.Output(stdout, o.picture, c.svg, c.print)
}

// override puts the options into a machine, which must have a rotor and a voltage.
func (o *options) override(m *setup.Machine) error {
	if o.voltage != nil {
		m.ServoVoltage = o.voltage
	}
	switch {
	case m.Rotor == nil:
		return errors.New("the machine file gives no rotor, and without one nothing loads the servos")
	case m.ServoVoltage == nil:
		return errors.New("the machine file gives no servo_voltage: give one with -volts")
	}
	for i := range m.Modes {
		if o.speed != nil {
			m.Modes[i].RotorSpeed = o.speed
		}
	}
	return nil
}
