package main

import (
	"bytes"
	"slices"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
)

const engine = "../demo/testdata/flybar.json"

// withoutPower is the demonstration machine's file without what turns the rotor.
func withoutPower(t *testing.T) []byte {
	t.Helper()
	from, to := bytes.Index(demo.Direct, []byte("\n  \"power\"")), bytes.Index(demo.Direct, []byte("\n  \"mass\""))
	if from < 0 || to < from {
		t.Fatal("no power before mass in the machine file")
	}
	return slices.Concat(demo.Direct[:from], demo.Direct[to:])
}

func TestErrors(t *testing.T) {
	for _, tt := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"-machine", "no such file.json"}, 1, "no such file.json"},
		{[]string{"-machine", showtest.File(t, []byte("{"))}, 1, "machine.json"},
		{[]string{"-machine", "../demo/testdata/bellcranks.json"}, 1, `bellcranks.json: rotor is missing; add "rotor", as in direct.json`},
		{[]string{"-machine", showtest.File(t, withoutPower(t))}, 1, `machine.json: power is missing; add "power", as in direct.json`},
		{[]string{"-mode", "cruise"}, 1, `no flight mode "cruise"; the machine has "hover"`},
		{[]string{"-speed", "2200"}, 2, "-speed"},
		{[]string{"-speed", "0 rpm"}, 1, "rotor_speed: must be from 1 rpm"},
		{[]string{"-speed", "-2200 rpm"}, 1, "rotor_speed"},
		{[]string{"-charge", "110 %"}, 1, "charge"},
		{[]string{"-charge", "50 %", "-machine", engine}, 1, "leave out -charge: this machine has an engine"},
		{[]string{"-height", "90 km"}, 2, "-height"},
		{[]string{"-height", "90000 m"}, 1, "field.height"},
		{[]string{"-temperature", "20"}, 2, "-temperature"},
		{[]string{"-temperature", "NaN °C"}, 2, "-temperature"},
		{[]string{"-temperature", "300 °C"}, 1, "field.temperature"},
		{[]string{"machine.json"}, 2, "-machine"},
		{[]string{"-warp"}, 2, "-warp"},
	} {
		command.Fails(t, tt.status, tt.says, tt.args...)
	}
}
