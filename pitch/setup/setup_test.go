package setup_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Every fault names the field's path and line, and says what is wrong.
func TestRefuses(t *testing.T) {
	for _, c := range []struct{ old, new, path, says string }{
		{`"neutral_height": "60 mm"`, `"neutral_height": "60"`, "plate.neutral_height", "mm"},
		{`"neutral_height": "60 mm"`, `"neutral_height": 60`, "plate.neutral_height", "text in quotes"},
		{`"neutral_height": "60 mm"`, `"height": "60 mm"`, "plate.height", "unknown field"},
		{`"neutral_height": "60 mm",`, ``, "plate.neutral_height", "missing field"},
		{`"neutral_height": "60 mm"`, `"neutral_height": "60 mm", "guide": "10°"`, "", "given twice"},
		{`"neutral_height": "60 mm"`, `"neutral_height": null`, "plate.neutral_height", "null"},
		{`"arm": "12 mm"`, `"arm": "0 mm"`, "plate.legs[0].upright.arm", "must be from"},
		{`"arm": "12 mm"`, `"arm": "-3 mm"`, "plate.legs[0].upright.arm", "must be from"},
		{`"points": "outward"`, `"points": "up"`, "plate.legs[0].upright.points", "outward"},
		{`"ball_radius": "30 mm"`, `"ball_radius": "1e400 mm"`, "plate.legs[0].upright.ball_radius", "too large"},
		{`"type": "bench digital"`, `"type": "other"`, "plate.legs[0].servo.type", "not a type under servos"},
		{`"raises_on": "longer"`, `"raises_on": "up"`, "plate.legs[0].servo.raises_on", "shorter"},
		{`"spline_teeth": 25`, `"spline_teeth": 0`, "servos.bench digital.spline_teeth", "teeth"},
		{`"spline_teeth": 25`, `"spline_teeth": 2.5`, "servos.bench digital.spline_teeth", "whole number"},
		{`"throw": "400 µs"`, `"throw": "0 µs"`, "servos.bench digital.throw", "must be from"},
		{`"travel": "36°"`, `"travel": "-36°"`, "servos.bench digital.travel", "must be from"},
		{`"pulse_step": "1 µs"`, `"pulse_step": "-1 µs"`, "radio.pulse_step", "must be from"},
		{`"percent_step": "0.5 %"`, `"percent_step": "0 %"`, "radio.percent_step", "must be from"},
		{`"mixing": "rows"`, `"mixing": "magic"`, "radio.mixing", "geometry"},
		{`"mixing": "rows"`, `"mixing": "layout"`, "radio.mix_rows", "mixing is"},
		{`"rotation": "clockwise"`, `"rotation": "left"`, "head.rotation", "counter-clockwise"},
		{`"horn_radius": "20 mm"`, `"horn_radius": "0 mm"`, "head.horn_radius", "must be from"},
		{`"link": "45.2 mm"`, `"link": "15 mm"`, "head.link", "too short"},
		{`"bar_side": "18 mm"`, `"bar_side": "0 mm"`, "head.mixing_arm", "leave the plate a share"},
		{`"washout_in": "10 mm"`, `"washout_in": "0 mm"`, "head.mixing_arm", "washout"},
		{`"low": "-15°"`, `"low": "14°"`, "gauge.high", "above low"},
		{`"tilt": "0.3°"`, `"tilt": "-0.3°"`, "limits.tilt", "must be from"},
		{`"kind": "polyline"`, `"kind": "wobbly"`, "modes[0].pitch.kind", "polyline"},
		{`["50 %", "0 %"]`, `["0 %", "0 %"]`, "modes[0].pitch", "more than that of the point before, which is 0, not 0"},
		{`["50 %", "0 %"]`, `["150 %", "0 %"]`, "modes[0].pitch.points[1][0]", "within"},
		{`["50 %", "0 %"]`, `["50 %"]`, "modes[0].pitch.points[1]", "must have 2 values"},
		{`["50 %", "60 %"]`, `["50 %", "-60 %"]`, "modes[0].throttle.points[1][1]", "within"},
		{`"throttle_hold": "0 %"`, `"throttle_hold": "101 %"`, "modes[0].throttle_hold", "within"},
		{`"expo": "20 %"`, `"expo": "200 %"`, "modes[0].expo", ""},
		{`"name": "glide"`, `"name": "hover"`, "modes[2].name", "name of another mode"},
		{`"name": "glide"`, `"name": " "`, "modes[2].name", "empty"},
		{`"name": "left rear"`, `"name": "left\u001b[31m"`, "plate.legs[2].name", "control character"},
		{`"name": "left rear"`, `"name": "left\u202erear"`, "plate.legs[2].name", "mark of direction"},
		{`"pitch": "-11°"`, `"pitch": "-90°"`, "modes[1].targets.collective[0].pitch", "between -90° and 90°"},
		{`"shortest_pulse": "820 µs"`, `"shortest_pulse": "1600 µs"`, "servos.bench digital.neutral", "within the pulse limits, 1600 µs to 2220 µs, not 1520 µs"},
		{`"sub_trim": "3 µs"`, `"sub_trim": "-900 µs"`, "plate.legs[0].servo.sub_trim", "not at 620 µs"},
		{`"axis": {"x": -0.5, "y": 0.8660254037844386, "z": 0}`, `"axis": {"x": 0.5, "y": -0.8660254037844386, "z": 0}`, "plate.legs[2].spatial.axis", "wrong way round"},
		{`"name": "left rear"`, `"name": "front"`, "plate.legs[2].name", "name of another leg"},
		{`"rate_limit": "125 %"`, `"rate_limit": "0 %"`, "radio.rate_limit", "must be from"},
		{`"kind": "monotone", "points": [["0 %", "0 %"], ["50 %", "60 %"], ["100 %", "78 %"]]`,
			`"kind": "natural", "points": [["0 %", "0 %"], ["40 %", "0 %"], ["45 %", "100 %"], ["50 %", "60 %"], ["100 %", "78 %"]]`,
			"modes[0].throttle.kind", "runs to"},
		{`"throttle_hold_on": true`, `"throttle_hold_on": "yes"`, "modes[2].throttle_hold_on", "true or false"},
	} {
		data := rigtest.Changed(t, c.old, c.new)
		_, err := rigtest.Open(data)
		var f *machine.FieldError
		if !errors.As(err, &f) {
			t.Errorf("%s: %v", c.new, err)
			continue
		}
		if f.Path != c.path || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want path %q and %q", c.new, err, c.path, c.says)
		}
		if f.Line == 0 {
			t.Errorf("%s: no line: %v", c.new, err)
		}
	}
	// The line is that of the field itself.
	data := rigtest.Changed(t, `"travel": "36°"`, `"travel": "much"`)
	var f *machine.FieldError
	if _, err := rigtest.Open(data); !errors.As(err, &f) || f.Line != rigtest.LineOf(data, `"much"`) {
		t.Errorf("line: %v, want %d", err, rigtest.LineOf(data, `"much"`))
	}
}

// Solved targets are met exactly at the blade: read back through pulses, arms and
// plate of a stepless radio. That aerobatics take from -9° over 0° to +9° is common
// practice, no source.
func TestTargetsAreMet(t *testing.T) {
	const tolerance = 1e-9 // degree
	r := rigtest.Rig(t, rigtest.Full(t), func(m *machine.Machine) {
		rigtest.Stepless(m)
		targets := m.Modes[1].Targets.Collective
		for i, pitch := range []units.Angle{-9, 0, 9} {
			targets[i].Pitch = pitch * units.Degree
		}
	})
	for _, m := range r.Modes() {
		if m.Mode().Targets == nil {
			continue
		}
		solved := m.Enter(m.Solved().Exact)
		for _, target := range m.Mode().Targets.Collective {
			row, err := solved.Row(float64(target.Stick))
			if err != nil {
				t.Fatal(err)
			}
			if off := (row.Gauge - target.Pitch).Degrees(); math.Abs(off) > tolerance {
				t.Errorf("%s at %v: off by %g°", m.Name(), target.Stick, off)
			}
		}
		// Cyclic, at the middle target's collective: full right and full forward.
		middle := float64(m.Mode().Targets.Collective[len(m.Mode().Targets.Collective)/2].Stick)
		centre := rigtest.Cyclic(t, r, solved, pitch.Stick{Collective: middle})
		for _, s := range []pitch.Stick{{Collective: middle, Right: 1}, {Collective: middle, Forward: 1}} {
			c := rigtest.Cyclic(t, r, solved, s)
			c.Cosine -= centre.Cosine
			c.Sine -= centre.Sine
			if off := (c.Amplitude() - m.Mode().Targets.Cyclic).Degrees(); math.Abs(off) > tolerance {
				t.Errorf("%s, cyclic %+v: off by %g°", m.Name(), s, off)
			}
		}
		// No curve point lies outside the radio's range.
		for _, p := range m.Solved().Exact.Pitch.Points() {
			if math.Abs(p.Y) > 1 {
				t.Errorf("%s: curve point %v", m.Name(), p)
			}
		}
	}
}

// What is entered in whole percent steps reads within the step of a rate.
func TestEntryIsNear(t *testing.T) {
	for _, m := range rigtest.Build(t, rigtest.Full(t)).Modes() {
		if m.Solved() == nil {
			continue
		}
		for _, reading := range m.Solved().Readings {
			if off := (reading.Exact - reading.Target.Pitch).Degrees(); math.Abs(off) > 1e-6 {
				t.Errorf("%s: exact reading off by %v°", m.Name(), off)
			}
			if off := (reading.Entered - reading.Target.Pitch).Degrees(); math.Abs(off) > 0.15 {
				t.Errorf("%s: entered reading off by %v°", m.Name(), off)
			}
		}
	}
}

// A machine can be made without a file.
func TestBuildWithoutFile(t *testing.T) {
	made := rigtest.Parse(t, rigtest.Full(t))
	made.Plate.NeutralHeight = units.Length(math.NaN())
	_, err := setup.Build(made)
	var f *machine.FieldError
	if !errors.As(err, &f) {
		t.Errorf("NaN height: %v", err)
	}
	made = rigtest.Parse(t, rigtest.Full(t))
	made.Modes[0].Throttle = machine.Curve{Kind: curve.Polyline, Points: [][2]units.Ratio{{0, 0}, {1, units.Ratio(math.NaN())}}}
	if _, err := setup.Build(made); !errors.As(err, &f) || f.Path != "modes[0].throttle.points[1][1]" {
		t.Errorf("NaN throttle: %v", err)
	}
}

// However odd a file's numbers, it parses and builds, or the error is a *FieldError
// with its field and line.
func TestParseErrorsAreFieldErrors(t *testing.T) {
	for _, c := range []struct{ old, new, path string }{ // an empty path is no error
		{`"percent_step": "0.5 %"`, `"percent_step": "1e-300 %"`, "radio.percent_step"},
		{`"percent_step": "0.5 %"`, `"percent_step": "0.00999 %"`, "radio.percent_step"},
		{`"percent_step": "0.5 %"`, `"percent_step": "0.01 %"`, ""},
		{`"percent_step": "0.5 %"`, `"percent_step": "25 %"`, ""},
		{`"percent_step": "0.5 %"`, `"percent_step": "25.1 %"`, "radio.percent_step"},
		{`"pulse_step": "1 µs"`, `"pulse_step": "1e9 s"`, "radio.pulse_step"},
		{`"hub_height": "105 mm"`, `"hub_height": "1e300 mm"`, "head.hub_height"},
		{`"horn_radius": "20 mm"`, `"horn_radius": "1e-300 mm"`, "head.horn_radius"},
		{`"ring_radius": "16 mm"`, `"ring_radius": "1e200 mm"`, "head.ring_radius"},
		{`"neutral_height": "60 mm"`, `"neutral_height": "1e200 mm"`, "plate"},
		{`"arm": "12 mm"`, `"arm": "1e-200 mm"`, "plate.legs[0].upright.arm"},
		{`"link": "58 mm"`, `"link": "1e-400 mm"`, "plate.legs[0].upright.link"},
		{`"travel": "36°"`, `"travel": "180°"`, "servos.bench digital.travel"},
		{`"cyclic": "6°"`, `"cyclic": "90°"`, "modes[1].targets.cyclic"},
		{`"cyclic": "6°"`, `"cyclic": "89.9°"`, ""}, // a finding
		{`"cyclic": "6°"`, `"cyclic": "0°"`, ""},
		{`"stick": "50 %", "pitch": "0°"`, `"stick": "0 %", "pitch": "0°"`, "modes[1].targets.collective"},
		{`"mount": "0.2°"`, `"mount": "180°"`, "plate.legs[0].servo.mount"},
		{`"bearing": "120°"`, `"bearing": "0.12°"`, "plate.legs"}, // takes long to be followed
		{`"bearing": "120°"`, `"bearing": "5°"`, ""},
	} {
		_, err := rigtest.Open(rigtest.Changed(t, c.old, c.new))
		if c.path == "" {
			if err != nil {
				t.Errorf("%s: %v", c.new, err)
			}
			continue
		}
		var field *machine.FieldError
		if !errors.As(err, &field) || field.Line == 0 || !strings.HasPrefix(field.Path, c.path) {
			t.Errorf("%s: %v, want %s", c.new, err, c.path)
		}
	}
}
