// Command holes tries every combination of the parts you have on one machine and lists the
// best trade-offs. The parts are holes of servo arms and pitch horns, balls of the
// swashplate, servo links, and arms set some teeth off square.
//
// Without arguments it tries an invented box of parts on the invented machine. For a machine
// file of your own, name the parts by flags. Parts without a flag stay as they are. Only the
// servo arms' holes come from the file unless -arms names them.
package main

import (
	"context"
	"flag"
	"io"
	"os"
	"runtime"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/choose"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for.
type options struct {
	machine, picture string
	json             bool
	owned            choose.Owned
	choose.Options
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	o := options{Options: choose.Options{Workers: runtime.NumCPU()}}
	flags := flag.NewFlagSet("holes", flag.ContinueOnError)
	show.Purpose(flags, "holes tries every combination of the parts you have on one machine and lists the best trade-offs.")
	flags.StringVar(&o.machine, "machine", "", "machine `file` (default: the invented machine)")
	flags.StringVar(&o.picture, "svg", "", "also write a picture to this `file`")
	show.AsJSON(flags, &o.json)
	flags.Func("arms", "hole `radii` of the servo arms, such as \"8 mm, 10 mm\" (default: the holes in the machine file)", lengths(&o.owned.Arms))
	flags.Func("pitch-horns", "hole `radii` of the pitch horns, such as \"18 mm, 20 mm\" (default: as on the machine)", lengths(&o.owned.Horns))
	flags.Func("balls", "`distances` of the swashplate's balls from the mast, such as \"28 mm, 30 mm\" (default: as on the machine)", lengths(&o.owned.Balls))
	flags.Func("links", "`lengths` of the servo links, such as \"56 mm, 58 mm\" (default: cut to length)", lengths(&o.owned.Links))
	flags.Func("teeth", "`teeth` by which to set the arms off square, such as \"-1, 0, 1\" (default: 0)", whole(&o.owned.Teeth))
	flags.BoolVar(&o.owned.Unlike, "different-arms", false, "let each servo have another arm (default: all alike)")
	flags.BoolVar(&o.owned.Refit, "refit", false, "square the arms and cut the links of the present parts as well (default: leave them)")
	flags.TextVar(&o.BeyondLimit, "beyond-limit", o.BeyondLimit, "`pulse` that a servo may need beyond its limit at the corners of the sticks")
	flags.IntVar(&o.Workers, "workers", o.Workers, "`number` of combinations to work on in parallel")
	return show.Command(flags, args, stderr, "write -machine before the machine file", nil, func() error { return produce(o, stdout) })
}

func produce(o options, stdout io.Writer) error {
	if err := files.Apart([]string{o.picture}, []string{o.machine}); err != nil {
		return err
	}
	rig, err := show.Rig(o.machine, demo.Direct)
	if err != nil {
		return err
	}
	invented := o.machine == "" && o.owned.Horns == nil
	if invented {
		o.owned.Horns = box
	}
	choice, err := choose.Search(context.Background(), rig, o.owned, o.Options)
	if err != nil {
		return err
	}
	p := &page{rig.Machine(), choice, invented}
	if o.json {
		return show.OutputJSON(stdout, o.picture, p.svg, results.PartsChoice, results.Parts{About: results.Of(works, p.machine), Choice: choice})
	}
	return show.Output(stdout, o.picture, p.svg, p.print)
}
