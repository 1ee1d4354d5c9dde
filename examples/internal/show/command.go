package show

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
)

// Command parses a command's flags, which must all be known and leave no argument
// over, and runs it. It returns the exit status: 0, 1 for an error of produce, and 2 for
// one of the flags, of which check reports what the flags' own types cannot. Files
// tells where files go, such as "a machine file goes after -machine".
func Command(flags *flag.FlagSet, args []string, stderr io.Writer, files string, check, produce func() error) int {
	flags.SetOutput(stderr)
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0:
		fmt.Fprintf(stderr, "%s: %q is not a flag; %s\n", flags.Name(), flags.Arg(0), files)
		return 2
	}
	if check != nil {
		if err := check(); err != nil {
			fmt.Fprintf(stderr, "%s: %v\n", flags.Name(), err)
			return 2
		}
	}
	if err := produce(); err != nil {
		fmt.Fprintf(stderr, "%s: %v\n", flags.Name(), err)
		return 1
	}
	return 0
}

// Output writes a picture to a file, where one is named, and then the text.
func Output(stdout io.Writer, picture string, svg func() (string, error), text func(io.Writer)) error {
	if picture != "" {
		drawing, err := svg()
		if err != nil {
			return err
		}
		if err := os.WriteFile(picture, []byte(drawing), 0o644); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	text(&out)
	_, err := stdout.Write(out.Bytes())
	return err
}
