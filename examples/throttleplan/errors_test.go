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
		{[]string{"-svg", filepath.Join(t.TempDir(), "none", "plan.svg")}, 1, "plan.svg"},
		{[]string{"-speed", "2200"}, 2, "-speed"},
		{[]string{"-speed", "0 rpm"}, 1, "speed"},
		{[]string{"-speed", "-2200 rpm"}, 1, "speed"},
		{[]string{"-charge", "110 %"}, 1, "charge"},
		{[]string{"-height", "90 km"}, 2, "-height"},
		{[]string{"-height", "90000 m"}, 1, "height"},
		{[]string{"-temperature", "warm"}, 2, "-temperature"},
		{[]string{"-temperature", "NaN"}, 1, "temperature"},
		{[]string{"-temperature", "300 °C"}, 1, "temperature"},
		{[]string{"machine.json"}, 2, "-machine"},
		{[]string{"-warp"}, 2, "-warp"},
	} {
		var out, errs bytes.Buffer
		if status := run(tt.args, &out, &errs); status != tt.status || !strings.Contains(errs.String(), tt.want) || out.Len() > 0 {
			t.Errorf("%q: status %d, message %q, printed %q; want %d and %q", tt.args, status, &errs, &out, tt.status, tt.want)
		}
	}
}
