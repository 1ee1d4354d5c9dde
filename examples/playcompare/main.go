// Command playcompare shows how far the blade and the plate of two machines can be
// moved by hand, because every joint on the way to them has a little play.
//
// Without arguments it compares two invented machines, one whose servos act on the
// plate directly and one on bell cranks.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// options are what the command is asked for.
type options struct {
	a, b   string // machine files
	play   play
	seed   uint64
	builds int
}

// play is the play of each kind of joint that stands in place of the machine files'.
type play struct {
	ball, bearing *units.Length
	gear          *units.Angle
}

// run is the command; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("playcompare", flag.ContinueOnError)
	flags.StringVar(&o.a, "a", "", "one machine `file`; without it, the invented direct machine")
	flags.StringVar(&o.b, "b", "", "the other machine `file`; without it, the invented machine on bell cranks")
	flags.Func("ball", "`play` of every ball link, such as \"0.04 mm\", in place of the machine files'", into(&o.play.ball))
	flags.Func("gear", "`play` of every servo's gear, such as \"0.3°\", in place of the machine files'", into(&o.play.gear))
	flags.Func("bearing", "`play` of every crank's bearing, such as \"0.02 mm\", in place of the machine files'", into(&o.play.bearing))
	flags.Uint64Var(&o.seed, "seed", 1, "`number` that the chance builds are drawn from; the same one draws the same builds")
	flags.IntVar(&o.builds, "builds", 20000, "`number` of chance builds")
	const most = 1_000_000
	check := func() error {
		if o.builds < 1 || o.builds > most {
			return fmt.Errorf("-builds %d is not within 1 and %d", o.builds, most)
		}
		return nil
	}
	return show.Command(flags, args, stderr, "machine files go after -a and -b", check, func() error { return produce(o, stdout) })
}

// into returns what reads a flag's text into q.
func into[Q units.Quantity](q **Q) func(string) error {
	return func(text string) error {
		v, err := units.Parse[Q](text)
		*q = &v
		return err
	}
}

func produce(o options, stdout io.Writer) error {
	a, err := newMachine(o.a, demo.Direct, o)
	if err != nil {
		return err
	}
	b, err := newMachine(o.b, demo.BellCranks, o)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	print(&out, a, b, o)
	_, err = stdout.Write(out.Bytes())
	return err
}

// over returns the play that a machine file gives, with what the flags ask for in
// its place.
func (p play) over(file *setup.Play) (setup.Play, error) {
	var play setup.Play
	switch {
	case file != nil:
		play = *file
	case p.ball == nil || p.gear == nil || p.bearing == nil:
		return play, errors.New("it has no play; give -ball, -gear and -bearing")
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
