package show

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/units/plain"
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
		for line := range strings.SplitSeq(err.Error(), "\n") { // of errors that have been joined, each
			fmt.Fprintf(stderr, "%s: %s\n", flags.Name(), line)
		}
		return 1
	}
	return 0
}

// Output writes a picture to a file, where one is named, and then the text, which is
// printed where the picture fails, too: the error says so after it.
func Output(stdout io.Writer, picture string, svg func() (string, error), text func(io.Writer)) error {
	var failed error
	if picture != "" {
		failed = savePicture(picture, svg)
	}
	var out bytes.Buffer
	text(&out)
	_, err := stdout.Write(out.Bytes())
	return errors.Join(failed, err)
}

// AsJSON defines the flag -json.
func AsJSON(flags *flag.FlagSet, to *bool) {
	flags.BoolVar(to, "json", false, "print the result as JSON, with each unit in the key's name (default: print text)")
}

// OutputJSON is Output with a result of some kind, as package plain writes it, in place of the
// text.
func OutputJSON(stdout io.Writer, picture string, svg func() (string, error), what string, result any) error {
	data, err := plain.Marshal(what, result)
	return errors.Join(err, Output(stdout, picture, svg, func(w io.Writer) { _, _ = w.Write(data) })) // to memory, where it does not fail
}

func savePicture(path string, svg func() (string, error)) error {
	drawing, err := svg()
	if err != nil {
		return err
	}
	return files.Write(path, []byte(drawing))
}
