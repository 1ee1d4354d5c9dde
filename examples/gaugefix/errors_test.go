package main

import (
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch/machine"
)

func TestErrors(t *testing.T) {
	direct := showtest.File(t, demo.Direct)
	for _, tt := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"-machine", "no such file.json", "-ask"}, 1, "no such file.json"},
		{[]string{"-machine", showtest.File(t, []byte("{")), "-ask"}, 1, "machine.json"},
		{[]string{"-machine", direct}, 2, "-machine without readings"},
		{[]string{"-readings", "no such file.csv"}, 1, "no such file.csv"},
		{[]string{"-readings", direct}, 1, "line 1"},
		{[]string{"-readings", showtest.File(t, make([]byte, maxFile+1))}, 1, "machine.json holds more than 1048576 bytes"},
		{[]string{"-machine", showtest.File(t, make([]byte, machine.MaxFile+1)), "-ask"}, 1, "machine.json holds more than 1048576 bytes"},
		{[]string{"-blades", "-1"}, 2, "-blades must be 1 or more, not -1"},
		{[]string{"-blades", "99"}, 1, "blades"},
		{[]string{"-blades", "1"}, 1, "line 13, column which: the machine has 1 blade; write 1, not 2 (or use -blades)"},
		{[]string{"-readings", readings(t, "blade,1,hover,50 %,,,,16°")}, 1, "readings.csv: line 2, column reads: is 16°, which is off the scale of the pitch gauge by 1°; write an angle from -15° to 15°"},
		{[]string{"-readings", readings(t, "blade,3,hover,50 %,,,,1°")}, 1, "line 2, column which: the machine has 2 blades; write 1 or 2, not 3 (or use -blades)"},
		{[]string{"-blades", "3", "-readings", readings(t, "blade,4,hover,50 %,,,,1°")}, 1, "line 2, column which: the machine has 3 blades; write a number from 1 to 3, not 4 (or use -blades)"},
		{[]string{"-zero", "0.3"}, 2, "-zero"},
		{[]string{"-zero", "-1°"}, 1, "zero"},
		{[]string{"-repeat", "30°"}, 1, "repeat"},
		{[]string{"-level", "-1°"}, 1, "level"},
		{[]string{"-level", "0°"}, 1, "line 17, column what: is missing: none of this session measures tilt to the right"},
		{[]string{"-protractor", "1"}, 2, "-protractor"},
		{[]string{"readings.csv"}, 2, "-readings"},
		{[]string{"-warp"}, 2, "-warp"},
	} {
		command.Fails(t, tt.status, tt.says, tt.args...)
	}
}

func TestHelp(t *testing.T) {
	var help strings.Builder
	if status := run([]string{"-h"}, strings.NewReader(""), &help, &help); status != 0 || !strings.HasPrefix(help.String(), "gaugefix takes readings of a pitch gauge and says what to change") {
		t.Errorf("status %d:\n%s", status, &help)
	}
}
