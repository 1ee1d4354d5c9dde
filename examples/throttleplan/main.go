// Command throttleplan prints the throttle to enter over the collective stick of each
// flight mode, so that the mode's rotor speed is held: beside it the mode's own throttle
// curve, the power and the currents, and where the drive cannot hold the speed, with the
// battery full and at the charge to land at.
//
// Rotor, motor and battery or engine, mass, field and rotor speeds come from the machine
// file; flags override the speeds, the charge and the air. Without -machine it shows the
// invented demonstration machine.
package main

import (
	"errors"
	"flag"
	"io"
	"os"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for. What is nil is as the file has it.
type options struct {
	machine, mode, picture string
	speed                  *units.AngularSpeed // of the rotor, in every mode
	charge                 *units.Ratio        // of the battery, in place of a full one
	height                 *units.Length       // of the field above the sea
	temperature            *rotor.Temperature  // on the field
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("throttleplan", flag.ContinueOnError)
	flags.StringVar(&o.machine, "machine", "", "the machine `file`; without it, the invented demonstration machine")
	flags.StringVar(&o.mode, "mode", "", "show only the flight mode of this `name`")
	flags.StringVar(&o.picture, "svg", "", "write a picture to this `file`, besides the tables")
	show.Optional(flags, &o.speed, "speed", "rotor `speed` to hold in every mode, such as \"1900 rpm\"; without it, the file's")
	show.Optional(flags, &o.charge, "charge", "`charge` of the battery; without it, 100 %")
	show.Optional(flags, &o.height, "height", "`height` of the field above the sea, such as \"400 m\"; without it, the file's")
	show.Optional(flags, &o.temperature, "temperature", "`temperature` on the field, such as \"20 °C\"; without it, the file's")
	return show.Command(flags, args, stderr, "a machine file goes after -machine", nil, func() error { return produce(o, stdout) })
}

func produce(o options, stdout io.Writer) error {
	if err := files.Apart([]string{o.picture}, []string{o.machine}); err != nil {
		return err
	}
	p, err := newPlan(o)
	if err != nil {
		return err
	}
	return show.Output(stdout, o.picture, p.svg, p.print)
}

// override puts the options into a machine, which must have a rotor and a drive.
func (o *options) override(m *setup.Machine) error {
	switch {
	case m.Rotor == nil:
		return errors.New("the machine file gives no rotor, and without one there is no throttle to work out")
	case m.Power == nil:
		return errors.New("the machine file gives no power: neither motor and battery nor an engine")
	case o.charge != nil && m.Power.Battery == nil:
		return errors.New("-charge is a battery's, and this machine has an engine: leave it out")
	}
	for i := range m.Modes {
		if o.speed != nil {
			m.Modes[i].RotorSpeed = o.speed
		}
	}
	var field setup.Field
	if m.Field != nil {
		field = *m.Field
	}
	if o.height != nil {
		field.Height = *o.height
	}
	if o.temperature != nil {
		field.Temperature = o.temperature
	}
	m.Field = &field
	return nil
}
