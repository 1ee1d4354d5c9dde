// Command throttleplan finds the throttle to enter over the collective stick of each flight
// mode, so that the rotor keeps its speed. It also shows the mode's own throttle curve, the
// power and the currents. It says where the speed cannot be held, with the battery full and
// at the charge to land at. Of an engine it finds the share of its power that is needed. The
// throttle for that is found by trial.
//
// The machine file gives the rotor, the motor and battery or the engine, the mass, the field
// and the rotor speeds. Flags can give another speed, charge and air. Without -machine it
// shows the invented machine.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for. For what is nil the file counts.
type options struct {
	machine, mode, picture string
	json                   bool
	speed                  *units.AngularSpeed // of the rotor, in every mode
	charge                 *units.Ratio        // of the battery, in place of a full one
	height                 *units.Length       // of the field above the sea
	temperature            *rotor.Temperature  // on the field
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("throttleplan", flag.ContinueOnError)
	show.Purpose(flags, "throttleplan finds the throttle curve, or the share of an engine's power, that holds each flight mode's rotor speed.")
	flags.StringVar(&o.machine, "machine", "", "machine `file` (default: the invented machine)")
	flags.StringVar(&o.mode, "mode", "", "`name` of the only flight mode to show (default: all)")
	flags.StringVar(&o.picture, "svg", "", "also write a picture to this `file`")
	show.AsJSON(flags, &o.json)
	show.Optional(flags, &o.speed, "speed", "rotor `speed` to hold in every mode, such as \"1900 rpm\" (default: from the machine file)")
	show.Optional(flags, &o.charge, "charge", "`charge` of the battery, such as \"80 %\" (default: 100 %)")
	show.Optional(flags, &o.height, "height", "`height` of the field above the sea, such as \"400 m\" (default: from the machine file)")
	show.Optional(flags, &o.temperature, "temperature", "`temperature` on the field, such as \"20 °C\" (default: from the machine file)")
	return show.Command(flags, args, stderr, "write -machine before the machine file", nil, func() error { return produce(o, stdout) })
}

func produce(o options, stdout io.Writer) error {
	if err := files.Apart([]string{o.picture}, []string{o.machine}); err != nil {
		return err
	}
	p, err := newPlan(o)
	if err != nil {
		return err
	}
	if o.json {
		return show.OutputJSON(stdout, o.picture, p.svg, results.ThrottlePlan, p.result())
	}
	return show.Output(stdout, o.picture, p.svg, p.print)
}

// override puts the options into a machine. It refuses a machine without a rotor, or without
// a motor or engine.
func (o *options) override(m *machine.Machine) error {
	switch {
	case m.Rotor == nil:
		return fmt.Errorf(`%s: rotor is missing; add "rotor", as in direct.json`, o.machine)
	case m.Power == nil:
		return fmt.Errorf(`%s: power is missing; add "power", as in direct.json for a motor or in flybar.json for an engine`, o.machine)
	case o.charge != nil && m.Power.Battery == nil:
		return errors.New("leave out -charge: this machine has an engine and no battery")
	}
	for i := range m.Modes {
		if o.speed != nil {
			m.Modes[i].RotorSpeed = o.speed
		}
	}
	var field machine.Field
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
