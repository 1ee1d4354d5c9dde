// Command holes tries all combinations of the parts at hand on a machine: the holes of
// servo arms and horns, the balls of the plate, servo links, and arms set some teeth
// off. It prints the ones worth choosing from, and what each gives up for the others.
//
// Without arguments it tries an invented box of parts on the invented demonstration
// machine. With a machine file of your own, name the parts by flags: a list that is
// left out leaves those parts as they are, but arms, which are those that the file lists.
package main

import (
	"flag"
	"io"
	"os"
	"runtime"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/choose"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for.
type options struct {
	machine, picture string
	owned            choose.Owned
	choose.Options
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	o := options{Options: choose.Options{Workers: runtime.NumCPU()}}
	flags := flag.NewFlagSet("holes", flag.ContinueOnError)
	flags.StringVar(&o.machine, "machine", "", "the machine `file`; without it, the invented demonstration machine")
	flags.StringVar(&o.picture, "svg", "", "write a picture to this `file`, besides the tables")
	flags.Func("arms", "`radii` of the servo arms' holes, such as \"8 mm, 10 mm\"; without it, those of the file", lengths(&o.owned.Arms))
	flags.Func("horns", "`radii` of the horns' holes, likewise", lengths(&o.owned.Horns))
	flags.Func("balls", "`radii` of the plate's balls, likewise", lengths(&o.owned.Balls))
	flags.Func("links", "`lengths` of servo links, likewise; without it, links are cut to suit", lengths(&o.owned.Links))
	flags.Func("teeth", "`teeth` to set the arms off square, such as \"-1, 0, 1\"", whole(&o.owned.Teeth))
	flags.BoolVar(&o.owned.Unlike, "unlike", false, "let each servo have an arm of its own")
	flags.BoolVar(&o.owned.Refit, "refit", false, "square the arms and cut the links of the present parts anew, too")
	flags.TextVar(&o.Clip, "clip", o.Clip, "how far a servo may clip at the sticks' corners, as a `pulse` width")
	flags.IntVar(&o.Workers, "workers", o.Workers, "work on so `many` combinations at a time")
	return show.Command(flags, args, stderr, "a machine file goes after -machine", nil, func() error { return produce(o, stdout) })
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
	choice, err := choose.Search(rig, o.owned, o.Options)
	if err != nil {
		return err
	}
	p := &page{rig.Machine, choice, invented}
	return show.Output(stdout, o.picture, p.svg, p.print)
}
