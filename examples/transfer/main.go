// Command transfer compares two setups in degrees at the blade: two flight modes of one
// machine, or of two machines. Then it transfers the first setup to the other machine. It says
// what to enter there to get the same blade pitch, what the gauge should then read, and what
// is left to put right.
//
// Without arguments it uses invented machines. With a machine file after -machine it compares
// two of its flight modes. With another file after -with it compares the two machines.
package main

import (
	"flag"
	"io"
	"os"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for.
type options struct {
	machine, mode  string
	with, withMode string
	points         int
	picture        string
	json           bool
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("transfer", flag.ContinueOnError)
	show.Purpose(flags, "transfer compares two setups at the blade and finds what to enter on another machine to get the same blade pitch.")
	flags.StringVar(&o.machine, "machine", "", "machine `file` (default: the invented machine)")
	flags.StringVar(&o.mode, "mode", "", "`name` of the flight mode (default: the second, if it works, or the first that does)")
	flags.StringVar(&o.with, "with", "", "`file` of the other machine (default: the invented machine on bell cranks; with -machine none)")
	flags.StringVar(&o.withMode, "with-mode", "", "`name` of the flight mode to compare with (default: the same name on another machine, or the first other mode)")
	flags.IntVar(&o.points, "points", 0, "largest `number` of points for the transferred pitch curve (default: as many as it has)")
	flags.StringVar(&o.picture, "svg", "", "also write a picture to this `file`")
	show.AsJSON(flags, &o.json)
	return show.Command(flags, args, stderr, "write -machine or -with before a machine file", nil, func() error { return produce(o, stdout) })
}

func produce(o options, stdout io.Writer) error {
	if err := files.Apart([]string{o.picture}, []string{o.machine, o.with}); err != nil {
		return err
	}
	p, err := newPage(o)
	if err != nil {
		return err
	}
	if o.json {
		return show.OutputJSON(stdout, o.picture, p.svg, results.Transferred, p.result())
	}
	return show.Output(stdout, o.picture, p.svg, p.print)
}
