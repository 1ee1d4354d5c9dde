package show

import (
	"flag"
	"fmt"
)

// Purpose makes a command's -h begin with one sentence that says what it is for.
func Purpose(flags *flag.FlagSet, sentence string) {
	flags.Usage = func() {
		w := flags.Output()
		Print(w, "", "", sentence)
		fmt.Fprintln(w)
		fmt.Fprintln(w, "Flags:")
		flags.PrintDefaults()
	}
}
