// Command gaugefix takes readings of a pitch gauge and says what to do about them. It says
// what to change, in order, and what the gauge should read after each step; what to read
// next; and what the readings tell of the machine as built. Type
//
//	go run ./examples/gaugefix
//
// for the invented session on the invented machine. -readings takes readings from a file.
// -ask asks for one at a time, the one that tells most first.
//
// A readings file is a table of comma-separated cells. Its header is
//
//	what,which,mode,stick,right,forward,bearing,reads
//
// and each row is one reading, such as
//
//	blade,1,aerobatic,100 %,,,,+9.5°
//	tilt right,,aerobatic,50 %,,,,+0.4°
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
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// works are turning links and setting the radio, and reading the gauge before and after that.
const works = sheet.WithoutBlades | sheet.WithBlades

// options are what the command is asked for. What is nil is as the library has it.
type options struct {
	machine, readings, picture, save string
	example, ask, json               bool
	blades                           int          // 0 is as the machine file says
	zero, repeat                     *units.Angle // of the pitch gauge
	level, protractor                units.Angle  // steps of the tools; 0 is none at hand
}

// run is the command; it returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("gaugefix", flag.ContinueOnError)
	show.Purpose(flags, "gaugefix takes readings of a pitch gauge and says what to change, and what to read next.")
	flags.StringVar(&o.machine, "machine", "", "the machine `file` (default: the invented machine)")
	flags.StringVar(&o.readings, "readings", "", "the readings `file` (default: the invented session)")
	flags.BoolVar(&o.example, "example", false, "print a readings file to start from")
	flags.BoolVar(&o.ask, "ask", false, "ask for readings one at a time, the one that tells most first")
	flags.IntVar(&o.blades, "blades", 0, "`number` of blades (default: as in the machine file, or 2)")
	flags.StringVar(&o.picture, "svg", "", "write a picture to this `file`")
	show.AsJSON(flags, &o.json)
	flags.StringVar(&o.save, "save", "", "after the steps: save an updated machine `file` here")
	show.Optional(flags, &o.zero, "zero", "error of the pitch gauge at zero, at most this `angle` in two of three cases (default: 0.3°)")
	show.Optional(flags, &o.repeat, "repeat", "change of a reading taken again, at most this `angle` in two of three cases (default: 0.1°)")
	flags.TextVar(&o.level, "level", 0.1*units.Degree, "smallest `step` of the level for the swashplate; 0° if you have none")
	flags.TextVar(&o.protractor, "protractor", 1*units.Degree, "smallest `step` of the protractor for servo arms; 0° if you have none")
	check := func() error {
		switch {
		case o.machine != "" && o.readings == "" && !o.ask && !o.example:
			return errors.New("-machine without readings; add -readings and a file, or -ask")
		case o.blades < 0:
			return fmt.Errorf("-blades must be 1 or more, not %d", o.blades)
		}
		return nil
	}
	return show.Command(flags, args, stderr, "write a machine file after -machine, readings after -readings", check, func() error { return produce(o, stdin, stdout, stderr) })
}

func produce(o options, stdin io.Reader, stdout, stderr io.Writer) error {
	if o.example {
		_, err := stdout.Write(example)
		return err
	}
	read := []string{o.machine, o.readings}
	if o.ask {
		read = append(read, "/dev/stdin") // where there is such a file
	}
	if err := files.Apart([]string{o.picture, o.save}, read); err != nil {
		return err
	}
	b, err := newSession(o)
	if err != nil {
		return err
	}
	if o.ask {
		questions := stdout
		if o.json { // which is all that goes there
			questions = stderr
		}
		show.PrintCaution(questions, works, b.rig.Machine())
		if err := b.ask(stdin, questions); err != nil {
			return err
		}
	}
	f, err := b.find()
	if err != nil {
		return err
	}
	return f.write(stdout, o)
}
