// Command gaugefix takes readings of a pitch gauge and tells what to change, in order,
// and how sure that is: what the readings settle about the build, what each step should
// make the gauge read, and what to measure next.
//
// Readings come from a file, by -readings, or one at a time from a prompt, by -ask, which
// asks for the reading that would tell most. Without either it shows an invented session
// on the invented demonstration machine.
//
// A readings file is a table of comma-separated cells. Its header is
//
//	what,which,mode,stick,right,forward,bearing,reads
//
// and each row is one reading, such as
//
//	blade,1,aerobatic,100 %,,,,+9.5°
//	lean right,,aerobatic,50 %,,,,+0.4°
//
// -example prints a file to start from that says what goes into each column.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// options are what the command is asked for. What is nil is as the library has it.
type options struct {
	machine, readings, picture, save string
	example, ask                     bool
	blades                           int          // 0 is as the machine file says
	zero, repeat                     *units.Angle // of the pitch gauge
	level, protractor                units.Angle  // steps of the tools; 0 is none at hand
}

// run is the command; it returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("gaugefix", flag.ContinueOnError)
	flags.StringVar(&o.machine, "machine", "", "the machine `file`; without it, the invented demonstration machine")
	flags.StringVar(&o.readings, "readings", "", "the readings `file`; without it, an invented session")
	flags.BoolVar(&o.example, "example", false, "print a readings file to start from, and nothing else")
	flags.BoolVar(&o.ask, "ask", false, "ask for readings one at a time, the one that tells most first")
	flags.IntVar(&o.blades, "blades", 0, "`number` of blades; without it, the machine file's, or 2")
	flags.StringVar(&o.picture, "svg", "", "write a picture to this `file`, besides the text")
	flags.StringVar(&o.save, "save", "", "write the machine file for what the radio has once the steps are done to this `file`, for the readings after them")
	show.Optional(flags, &o.zero, "zero", "how far off the pitch gauge commonly is at zero, a standard `deviation`; without it, 0.3°")
	show.Optional(flags, &o.repeat, "repeat", "by how much its readings commonly differ when taken again, a standard `deviation`; without it, 0.1°")
	flags.TextVar(&o.level, "level", 0.1*units.Degree, "smallest `step` of the level for the plate; 0° if you have none")
	flags.TextVar(&o.protractor, "protractor", 1*units.Degree, "smallest `step` of the protractor for servo arms; 0° if you have none")
	check := func() error {
		switch {
		case o.machine != "" && o.readings == "" && !o.ask && !o.example:
			return errors.New("-machine without readings of it: give them by -readings or -ask")
		case o.blades < 0:
			return fmt.Errorf("-blades %d is below zero", o.blades)
		}
		return nil
	}
	return show.Command(flags, args, stderr, "a machine file goes after -machine, readings after -readings", check, func() error { return produce(o, stdin, stdout) })
}

func produce(o options, stdin io.Reader, stdout io.Writer) error {
	if o.example {
		_, err := stdout.Write(session)
		return err
	}
	read := []string{o.machine, o.readings}
	if o.ask {
		read = append(read, "/dev/stdin") // where there is such a file
	}
	if err := files.Apart([]string{o.picture, o.save}, read); err != nil {
		return err
	}
	b, err := newBench(o)
	if err != nil {
		return err
	}
	if o.ask {
		show.PrintCaution(stdout)
		if err := b.ask(stdin, stdout); err != nil {
			return err
		}
	}
	f, err := b.find()
	if err != nil {
		return err
	}
	return f.write(stdout, o)
}
