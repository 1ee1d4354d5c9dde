package main

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/gauge"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

func direct(t testing.TB) *setup.Rig {
	t.Helper()
	rig, err := show.Rig("", demo.Direct)
	if err != nil {
		t.Fatal(err)
	}
	return rig
}

func TestParse(t *testing.T) {
	const file = "\ufeff# mine\r\n\r\n" + header + "\n# blades\nblade, 2 ,\"glide, throttle held\",25 %,-50 %,100 %,90°,-3.5°\r\narm,left rear,hover,0 %,,,,+1 deg\ntilt forward,,hover,100 %,,-100 %,,0.1°"
	right := 90 * units.Degree
	want := []gauge.Reading{
		{Point: gauge.Point{Of: gauge.BladePitch, Blade: 1, Bearing: &right, Mode: "glide, throttle held", Stick: pitch.Stick{Collective: 0.25, Right: -0.5, Forward: 1}}, Value: -3.5 * units.Degree},
		{Point: gauge.Point{Of: gauge.ArmAngle, Servo: 2, Mode: "hover"}, Value: 1 * units.Degree},
		{Point: gauge.Point{Of: gauge.TiltForward, Mode: "hover", Stick: pitch.Stick{Collective: 1, Forward: -1}}, Value: 0.1 * units.Degree},
	}
	got, at, err := parse([]byte(file), direct(t), 2)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("readings (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]int{6, 7, 8}, at); diff != "" {
		t.Errorf("lines (-want +got):\n%s", diff)
	}
}

func TestParseErrors(t *testing.T) {
	rig := direct(t)
	for _, tt := range []struct{ file, want string }{
		{"", "line 1: the header is missing; begin with what,which"},
		{"# only\n", "line 2: the header is missing"},
		{"blade,1,hover,0 %,,,,0°\n", "line 1: the header is wrong; write what,which"},
		{header + "blade,1,hover,0 %,,,0°\n", "line 2: the row has 7 cells; write 8"},
		{header + "\n\nblade,\"1,hover\n", "line 4: "},
		{header + "tail,1,hover,0 %,,,,0°\n", `line 2, column what: must be blade, tilt right, tilt forward or arm, not "tail"`},
		{header + "blade,0,hover,0 %,,,,0°\n", `line 2, column which: must be the number of a blade, such as 1, not "0"`},
		{header + "blade,one,hover,0 %,,,,0°\n", `line 2, column which: must be the number of a blade, such as 1, not "one"`},
		{header + "arm,rear,hover,0 %,,,,0°\n", `line 2, column which: "rear" is not a servo of this machine; write "front", "right rear" or "left rear"`},
		{header + "tilt right,1,hover,0 %,,,,0°\n", "line 2, column which: must be empty for a tilt"},
		{header + "blade,1,cruise,0 %,,,,0°\n", `line 2, column mode: "cruise" is not a mode of this machine; write "hover", "aerobatic" or "glide, throttle held"`},
		{header + "blade,1,hover,,,,,0°\n", "line 2, column stick: "},
		{header + "blade,1,hover,0.5,,,,0°\n", "line 2, column stick: "},
		{header + "blade,1,hover,-1 %,,,,0°\n", "line 2, column stick: must be from 0 % to 100 %, not -1 %"},
		{header + "blade,1,hover,0 %,101 %,,,0°\n", "line 2, column right: must be from -100 % to 100 %, not 101 %"},
		{header + "blade,1,hover,0 %,,-101 %,,0°\n", "line 2, column forward: must be from -100 % to 100 %, not -101 %"},
		{header + "blade,1,hover,0 %,,,south,0°\n", "line 2, column bearing: "},
		{header + "blade,1,hover,0 %,,,361°,0°\n", "line 2, column bearing: must be from 0° to 360°, not 361°"},
		{header + "tilt right,,hover,0 %,,,90°,0°\n", "line 2, column bearing: must be empty: only a blade has it"},
		{header + "blade,1,hover,0 %,,,,0°\nblade,1,hover,0 %,,,,\n", "line 3, column reads: "},
		{header + "blade,1,hover,0 %,,,,\"9,5°\"\n", "line 2, column reads: "},
		{header + "blade,1,hover,0 %,,,,NaN°\n", "line 2, column reads: "},
		{header + "\nblade,1,\"hover\",0 %,,,,\"\n\n9\"\n", "line 3, column reads: "},
		{header + "\nblade,1,\"ho\nver\",0 %,,,,0°\n", "line 3, column mode: "},
		{header + "\nblade,1,\"hover\n\",0 %,,,,much\n", "line 4, column reads: "},
		{header + "blade,1,hover,0 %,,,,0°\n" + strings.Repeat("x", 200_000) + ",1,hover,0 %,,,,0°\n", "line 3, column what: has 200000 characters; write at most 200"},
		{header + "blade,1,hover,0 %,,,,0°\n" + strings.Repeat("x", 200_000), "line 3: the row has 1 cells; write 8"},
		{header + strings.Repeat("\nblade,1,hover,0 %,,,,0°", gauge.MaxReadings+1), fmt.Sprintf("line %d: the file has more than %d readings; leave some out", gauge.MaxReadings+3, gauge.MaxReadings)},
	} {
		readings, _, err := parse([]byte(tt.file), rig, 2)
		if err == nil || !strings.HasPrefix(err.Error(), tt.want) || readings != nil {
			t.Errorf("%q: %v, %v; want %q", tt.file, readings, err, tt.want)
		}
	}
}

// Whatever a file holds, it is refused with a line, or its readings are finite and on the
// machine.
func FuzzParse(f *testing.F) {
	f.Add(example)
	f.Add([]byte(header + "arm,front,hover,0 %,,-1 %,,1 rad\n"))
	rig := direct(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		readings, lines, err := parse(data, rig, 2)
		if err != nil {
			fault := (*lineError)(nil)
			if !errors.As(err, &fault) || fault.Line < 1 || readings != nil {
				t.Fatalf("%v, %v", readings, err)
			}
			return
		}
		if len(readings) != len(lines) {
			t.Fatalf("%d readings on %d lines", len(readings), len(lines))
		}
		for i, r := range readings {
			s := r.Stick
			sane := units.Finite(r.Value) && r.Blade >= 0 && r.Blade < 2 && s.Collective >= 0 && s.Collective <= 1 && math.Abs(s.Right) <= 1 && math.Abs(s.Forward) <= 1 &&
				(i == 0 || lines[i] > lines[i-1])
			if !sane {
				t.Errorf("line %d: %+v", lines[i], r)
			}
		}
	})
}
