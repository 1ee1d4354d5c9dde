// Command playcompare shows how far the blade and the swashplate of two machines can be moved
// by hand, because every joint on the way to them has a little play.
//
// Without arguments it compares two invented machines. On one the servos act on the plate
// directly, on the other through bell cranks.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for.
type options struct {
	a, b    string // machine files
	play    play
	seed    uint64
	builds  int
	picture string
	json    bool
}

// play is the play of each kind of joint to use in place of that in the machine files.
type play struct {
	ball, bearing *units.Length
	gear          *units.Angle
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("playcompare", flag.ContinueOnError)
	show.Purpose(flags, "playcompare shows how far play in the joints lets the blade and the swashplate of two machines move.")
	flags.StringVar(&o.a, "a", "", "`file` of machine A (default: the invented machine)")
	flags.StringVar(&o.b, "b", "", "`file` of machine B (default: the invented machine on bell cranks)")
	flags.Func("ball", "`play` of every ball link, such as \"0.04 mm\" (default: from the machine files)", into(&o.play.ball))
	flags.Func("gear", "`play` of every servo's gear, such as \"0.3°\" (default: from the machine files)", into(&o.play.gear))
	flags.Func("bearing", "`play` of every crank's bearing, such as \"0.02 mm\" (default: from the machine files)", into(&o.play.bearing))
	flags.Uint64Var(&o.seed, "seed", 1, "`number` to draw the random builds from; the same number draws the same builds")
	flags.IntVar(&o.builds, "builds", 20000, "`number` of random builds")
	flags.StringVar(&o.picture, "svg", "", "also write a picture to this `file`")
	show.AsJSON(flags, &o.json)
	const most = 1_000_000
	check := func() error {
		if o.builds < 1 || o.builds > most {
			return fmt.Errorf("-builds must be from 1 to %d, not %d", most, o.builds)
		}
		return nil
	}
	return show.Command(flags, args, stderr, "write -a or -b before a machine file", check, func() error { return produce(o, stdout) })
}

// into returns a flag's function that reads a quantity into q.
func into[Q units.Quantity](q **Q) func(string) error {
	return func(text string) error {
		v, err := units.Parse[Q](text)
		*q = &v
		return err
	}
}

func produce(o options, stdout io.Writer) error {
	if err := files.Apart([]string{o.picture}, []string{o.a, o.b}); err != nil {
		return err
	}
	a, err := newPlayed(o.a, demo.Direct, o)
	if err != nil {
		return err
	}
	b, err := newPlayed(o.b, demo.BellCranks, o)
	if err != nil {
		return err
	}
	draw := func() (string, error) { return svg(a, b) }
	if o.json {
		return show.OutputJSON(stdout, o.picture, draw, results.PlayCompared, resultOf(a, b, o))
	}
	return show.Output(stdout, o.picture, draw, func(w io.Writer) { print(w, a, b, o) })
}

// over returns the play that a machine file gives. What the flags give replaces it.
func (p play) over(file *machine.Play) (machine.Play, error) {
	var play machine.Play
	switch {
	case file != nil:
		play = *file
	case p.ball == nil || p.gear == nil || p.bearing == nil:
		return play, errors.New("the machine file gives no play: add it, or give -ball, -gear and -bearing")
	}
	if p.ball != nil {
		play.Ball = *p.ball
	}
	if p.gear != nil {
		play.Gear = *p.gear
	}
	if p.bearing != nil {
		play.Bearing = *p.bearing
	}
	return play, nil
}
