// Command transfer compares two setups where it counts, at the blade: two flight modes
// of one machine, or those of two machines. Then it carries the first over to the other
// machine: what to enter there, so that its blades do the same, what its gauge should
// then read, and what is left to put right.
//
// Without arguments it does so with invented machines. With a machine file of your own
// after -machine it compares two of its flight modes, and with another file after -with
// the two machines.
package main

import (
	"flag"
	"io"
	"os"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/show"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for.
type options struct {
	machine, mode  string
	with, withMode string
	points         int
	picture        string
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("transfer", flag.ContinueOnError)
	flags.StringVar(&o.machine, "machine", "", "the machine `file`; without it, the invented demonstration machine")
	flags.StringVar(&o.mode, "mode", "", "the flight mode's `name`; without it, the second of the machine")
	flags.StringVar(&o.with, "with", "", "the other machine's `file`; without it and without -machine, the invented machine on bell cranks")
	flags.StringVar(&o.withMode, "with-mode", "", "`name` of the flight mode to compare with, on the other machine where -with names one; without it, that of the same name or the first")
	flags.IntVar(&o.points, "points", 0, "`number` of points that the carried pitch curve may get; without it, as many as it has")
	flags.StringVar(&o.picture, "svg", "", "write a picture to this `file`, besides the tables")
	return show.Command(flags, args, stderr, "machine files go after -machine and -with", nil, func() error { return produce(o, stdout) })
}

func produce(o options, stdout io.Writer) error {
	if err := files.Apart([]string{o.picture}, []string{o.machine, o.with}); err != nil {
		return err
	}
	p, err := newPage(o)
	if err != nil {
		return err
	}
	return show.Output(stdout, o.picture, p.svg, p.print)
}
