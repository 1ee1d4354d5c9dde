package main

import (
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
)

func TestErrors(t *testing.T) {
	still := showtest.File(t, demo.Direct, `"rotor_speed": "1700 rpm",`, "", `"rotor_speed": "1800 rpm",`, "")
	noVolts := showtest.File(t, withoutRating(t), `"servo_voltage": "7.4 V",`, "")
	for _, tt := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"-machine", "no such file.json"}, 1, "no such file.json"},
		{[]string{"-machine", showtest.File(t, []byte("{"))}, 1, "machine.json"},
		{[]string{"-machine", "../demo/testdata/bellcranks.json"}, 1, `bellcranks.json: rotor is missing; add "rotor", as in direct.json`},
		{[]string{"-machine", still}, 1, "no flight mode that can be worked out and has a rotor_speed"},
		{[]string{"-machine", still, "-mode", "hover"}, 1, `"hover" has no rotor_speed in the file: give one with -speed`},
		{[]string{"-machine", noVolts}, 1, "machine.json: servo_voltage is missing; add it, or give one with -volts"},
		{[]string{"-mode", "cruise"}, 1, `no flight mode "cruise"; the machine has "hover"`},
		{[]string{"-speed", "1900"}, 2, "-speed"},
		{[]string{"-speed", "0 rpm"}, 1, "rotor_speed: must be from 1 rpm"},
		{[]string{"-speed", "-1900 rpm"}, 1, "rotor_speed"},
		{[]string{"-volts", "much"}, 2, "-volts"},
		{[]string{"-volts", "0 V"}, 1, "servo_voltage: must be from 1 V"},
		{[]string{"-volts", "NaN V"}, 2, "-volts"},
		{[]string{"machine.json"}, 2, "-machine"},
		{[]string{"-warp"}, 2, "-warp"},
	} {
		command.Fails(t, tt.status, tt.says, tt.args...)
	}
}
