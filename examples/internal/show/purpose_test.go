package show_test

import (
	"flag"
	"strings"
	"testing"

	"example.org/levelhead/examples/internal/show"
)

// Help begins with what the command is for, and then has its flags.
func TestPurpose(t *testing.T) {
	var out strings.Builder
	flags := flag.NewFlagSet("test", flag.ContinueOnError)
	flags.SetOutput(&out)
	flags.Bool("warp", false, "go faster")
	show.Purpose(flags, "test shows what a test is for.")
	if err := flags.Parse([]string{"-h"}); err != flag.ErrHelp {
		t.Error(err)
	}
	if text := out.String(); !strings.HasPrefix(text, "test shows what a test is for.\n") || !strings.Contains(text, "-warp") {
		t.Errorf("-h prints\n%s", text)
	}
}
