package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
)

func TestErrors(t *testing.T) {
	for _, tt := range []struct {
		args   []string
		status int
		want   string
	}{
		{[]string{"-machine", "no such file.json"}, 1, "no such file.json"},
		{[]string{"-machine", file(t, []byte("{"))}, 1, "machine.json"},
		{[]string{"-mode", "cruise"}, 1, `no flight mode "cruise"; the machine has "hover"`},
		{[]string{"-svg", filepath.Join(t.TempDir(), "none", "servos.svg")}, 1, "servos.svg"},
		{[]string{"-speed", "1900"}, 2, "-speed"},
		{[]string{"-speed", "0 rpm"}, 1, "speed"},
		{[]string{"-speed", "-1900 rpm"}, 1, "speed"},
		{[]string{"-volts", "much"}, 2, "-volts"},
		{[]string{"-volts", "0"}, 2, "-volts 0"},
		{[]string{"-volts", "NaN"}, 2, "-volts NaN"},
		{[]string{"-volts", "Inf"}, 2, "-volts +Inf"},
		{[]string{"machine.json"}, 2, "-machine"},
		{[]string{"-warp"}, 2, "-warp"},
	} {
		var out, errs bytes.Buffer
		if status := run(tt.args, &out, &errs); status != tt.status || !strings.Contains(errs.String(), tt.want) || out.Len() > 0 {
			t.Errorf("%q: status %d, message %q, printed %q; want %d and %q", tt.args, status, &errs, &out, tt.status, tt.want)
		}
	}
}
