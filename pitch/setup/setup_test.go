package setup_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// full is a machine file in which every field of a direct plate stands once. The
// machine is invented.
func full(tb testing.TB) []byte {
	tb.Helper()
	data, err := os.ReadFile("testdata/full.json")
	if err != nil {
		tb.Fatal(err)
	}
	return data
}

// changed returns the full file with one text in place of another, which must be
// there.
func changed(tb testing.TB, old, new string) []byte {
	tb.Helper()
	data := full(tb)
	if !bytes.Contains(data, []byte(old)) {
		tb.Fatalf("no %q in the file", old)
	}
	return bytes.Replace(data, []byte(old), []byte(new), 1)
}

func parse(tb testing.TB, data []byte) *setup.Machine {
	tb.Helper()
	m, err := setup.Parse(data)
	if err != nil {
		tb.Fatal(err)
	}
	return m
}

func build(tb testing.TB, data []byte) *setup.Rig {
	tb.Helper()
	r, err := parse(tb, data).Build()
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

func sheet(tb testing.TB, data []byte) *setup.Sheet {
	tb.Helper()
	s, err := build(tb, data).Sheet()
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// What is read, written and read again is the same machine.
func TestRoundTrip(t *testing.T) {
	m := parse(t, full(t))
	data, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	again := parse(t, data)
	if diff := cmp.Diff(m, again, cmpopts.IgnoreUnexported(setup.Machine{})); diff != "" {
		t.Error(diff)
	}
}

func lineOf(data []byte, text string) int {
	i := bytes.Index(data, []byte(text))
	return 1 + bytes.Count(data[:i], []byte("\n"))
}

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
		data := changed(t, c.old, c.new)
		_, err := setup.Parse(data)
		var f *setup.FieldError
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
	data := changed(t, `"travel": "36°"`, `"travel": "much"`)
	var f *setup.FieldError
	if _, err := setup.Parse(data); !errors.As(err, &f) || f.Line != lineOf(data, `"much"`) {
		t.Errorf("line: %v, want %d", err, lineOf(data, `"much"`))
	}
}

func TestRefusesWhatIsNotJSON(t *testing.T) {
	for _, text := range []string{"", "{", "[]", "null", `"a"`, "{} {}", `{"name": }`, "{\"name\": \"\x00\"}",
		strings.Repeat("[", 100), strings.Repeat(`{"a":`, 100)} {
		var f *setup.FieldError
		if _, err := setup.Parse([]byte(text)); !errors.As(err, &f) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// Solved targets are met exactly at the blade: read back through pulses, arms and
// plate of a stepless radio. That aerobatics take from -9° over 0° to +9° is common
// practice, no source.
func TestTargetsAreMet(t *testing.T) {
	const tolerance = 1e-9 // degree
	r := rigOf(t, full(t), func(m *setup.Machine) {
		stepless(m)
		targets := m.Modes[1].Targets.Collective
		for i, pitch := range []units.Angle{-9, 0, 9} {
			targets[i].Pitch = pitch * units.Degree
		}
	})
	for i := range r.Modes {
		m := &r.Modes[i]
		if m.Mode.Targets == nil {
			continue
		}
		solved := *m
		solved.Setting = m.Solved.Exact
		for _, target := range m.Mode.Targets.Collective {
			row, err := r.Row(&solved, float64(target.Stick))
			if err != nil {
				t.Fatal(err)
			}
			if off := (row.Gauge - target.Pitch).Degrees(); math.Abs(off) > tolerance {
				t.Errorf("%s at %v: off by %g°", m.Mode.Name, target.Stick, off)
			}
		}
		// Cyclic, at the middle target's collective: full right and full forward.
		middle := float64(m.Mode.Targets.Collective[len(m.Mode.Targets.Collective)/2].Stick)
		centre := cyclicAt(t, r, &solved, pitch.Stick{Collective: middle})
		for _, s := range []pitch.Stick{{Collective: middle, Right: 1}, {Collective: middle, Forward: 1}} {
			c := cyclicAt(t, r, &solved, s)
			c.Cosine -= centre.Cosine
			c.Sine -= centre.Sine
			if off := (c.Amplitude() - m.Mode.Targets.Cyclic).Degrees(); math.Abs(off) > tolerance {
				t.Errorf("%s, cyclic %+v: off by %g°", m.Mode.Name, s, off)
			}
		}
		// No curve point lies outside the radio's range.
		for _, p := range m.Solved.Exact.Pitch.Points() {
			if math.Abs(p.Y) > 1 {
				t.Errorf("%s: curve point %v", m.Mode.Name, p)
			}
		}
	}
}

func cyclicAt(t *testing.T, r *setup.Rig, m *setup.RigMode, s pitch.Stick) pitch.Cyclic {
	t.Helper()
	d, err := m.Setting.Demand(s)
	if err != nil {
		t.Fatal(err)
	}
	pose, err := r.Head.Control.Pose(r.Head.Control.NewState(), d)
	if err != nil {
		t.Fatal(err)
	}
	rev, err := r.Head.Grip.Revolution(pose)
	if err != nil {
		t.Fatal(err)
	}
	return rev.Cyclic
}

// What is entered in whole percent steps reads within the step of a rate.
func TestEntryIsNear(t *testing.T) {
	s := sheet(t, full(t))
	for _, m := range s.Modes {
		if m.Entry == nil {
			continue
		}
		for _, reading := range m.Readings {
			if off := (reading.Exact - reading.Target.Pitch).Degrees(); math.Abs(off) > 1e-6 {
				t.Errorf("%s: exact reading off by %v°", m.Name, off)
			}
			if off := (reading.Entered - reading.Target.Pitch).Degrees(); math.Abs(off) > 0.15 {
				t.Errorf("%s: entered reading off by %v°", m.Name, off)
			}
		}
	}
}

// Targets out of reach name the field, its line and the amount, and are a finding
// on a sheet that still has the rest: a note to fix where the mode's own rates and
// curve stand in, and a stop where there is nothing else.
func TestUnreachableTargets(t *testing.T) {
	for _, c := range []struct{ old, new, mode, path, says string }{
		{`"pitch": "-11°"`, `"pitch": "-60°"`, "aerobatic", "modes[1].targets.collective[0]", "out of reach by"},
		{`"cyclic": "6°"`, `"cyclic": "40°"`, "aerobatic", "modes[1].targets.cyclic", "out of reach by"},
		{`"name": "checked",`, `"name": "checked", "targets": {"kind": "polyline", "collective":
			[{"stick": "0 %", "pitch": "-50°"}, {"stick": "100 %", "pitch": "10°"}], "cyclic": "4°"},`,
			"checked", "modes[3].targets.collective[0]", "out of reach by"},
	} {
		r := build(t, changed(t, c.old, c.new))
		for i := range r.Modes {
			m := &r.Modes[i]
			if m.Mode.Name != c.mode {
				continue
			}
			var field *setup.FieldError
			var target *setup.TargetError
			if !errors.As(m.Unmet, &field) || !errors.As(m.Unmet, &target) ||
				field.Path != c.path || field.Line == 0 || !strings.Contains(m.Unmet.Error(), c.says) {
				t.Errorf("%s: %v", c.path, m.Unmet)
			}
			severity := setup.Fix
			if m.Mode.Pitch == nil {
				severity = setup.Stop
				var mode *setup.ModeError
				if _, err := r.Row(m, 0.5); !errors.As(err, &mode) {
					t.Errorf("%s: a row without a curve: %v", c.mode, err)
				}
			}
			s, err := r.Sheet()
			if err != nil {
				t.Fatal(err)
			}
			if !has(s, severity, c.mode, "Target beyond the geometry") {
				t.Errorf("%s: no finding: %+v", c.path, s.Findings)
			}
		}
	}
}

func has(s *setup.Sheet, severity setup.Severity, where, what string) bool {
	for _, f := range s.Findings {
		if f.Severity == severity && f.Where == where && f.What == what {
			return f.Figure != "" && f.Do != ""
		}
	}
	return false
}

// The sheet's steps are those of the analytic slopes, to first order.
func TestStepsAgainstSlopes(t *testing.T) {
	r := build(t, full(t))
	steps, err := r.Steps()
	if err != nil {
		t.Fatal(err)
	}
	d, err := r.Modes[0].Setting.Demand(pitch.Stick{Collective: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	state := r.Head.Control.NewState()
	s, err := r.Head.Sensitivity(state, r.Machine.Gauge.Bearing, d)
	if err != nil {
		t.Fatal(err)
	}
	legs := make([]swash.LegEffect, 3)
	if err := r.Head.Control.Mechanism().(*swash.Plate).LegEffects(legs, s.Pose, state.Arms); err != nil {
		t.Fatal(err)
	}
	front := r.Head.Control.Servos()[0]
	const halfM2, halfM25 = 0.2 * units.Millimetre, 0.225 * units.Millimetre
	for what, want := range map[string]float64{
		"pitch link, half a turn longer":       s.PerLink * float64(halfM25),
		"front servo link, half a turn longer": legs[0].PerLink.Dot(s.PerPose) * float64(halfM2),
		"front servo sub-trim, 1 µs more":      legs[0].PerArm.Dot(s.PerPose) * float64(front.ArmPerStep()),
	} {
		found := false
		for _, step := range steps {
			if step.What != what {
				continue
			}
			found = true
			if off := math.Abs(float64(step.Pitch) - want); off > 0.02*math.Abs(want) {
				t.Errorf("%s: %.5f°, by the slope %.5f°", what, step.Pitch.Degrees(), want*180/math.Pi)
			}
		}
		if !found {
			t.Errorf("no step %q in %+v", what, steps)
		}
	}
}

// On a machine with even legs, arms square and mid stick at zero, pitch at the stick's
// ends is equal and opposite to within what the geometry alone explains, and the sheet
// says what that is. The rates of 45 %, 79 % and 79 % are common practice, no source.
func TestSymmetryIsExplained(t *testing.T) {
	data := changed(t, `"offset": "0.5 mm", `, ``)
	data = bytes.Replace(data, []byte(`"link": "45.2 mm",`), nil, 1)
	data = bytes.Replace(data, []byte(`"sub_trim": "3 µs", "mount": "0.2°", "low_end_point": "99 %", "high_end_point": "101 %"`), []byte(`"sub_trim": "0 µs"`), 1)
	rates := swash.Rates{Collective: 0.45, Right: 0.79, Forward: 0.79}
	s := sheetOf(t, rigOf(t, data, func(m *setup.Machine) { m.Modes[0].Rates = &rates }))
	hover := s.Modes[0]
	if hover.Rates != rates {
		t.Fatalf("rates %+v", hover.Rates)
	}
	sym := hover.Symmetry
	if sym == nil {
		t.Fatal("no symmetry")
	}
	if math.Abs(sym.Settings.Degrees()) > 1e-6 {
		t.Errorf("settings are blamed for %v", sym.Settings)
	}
	if math.Abs((sym.Sum-sym.Geometry).Degrees()) > 1e-6 || sym.Sum == 0 {
		t.Errorf("sum %v, geometry %v", sym.Sum, sym.Geometry)
	}
	if ratio := float64(sym.Sum / sym.High); math.Abs(ratio) > 0.05 {
		t.Errorf("the ends differ by %.1f %%", 100*ratio)
	}
	for _, row := range hover.Rows {
		if row.Tilt.Degrees() > 1e-6 {
			t.Errorf("stick %v tilts the plate by %v", row.Stick, row.Tilt)
		}
	}
}

// Each fault brings its finding, and the machine without it does not.
func TestFindings(t *testing.T) {
	clean := sheet(t, full(t))
	for _, c := range []struct {
		old, new    string
		severity    setup.Severity
		where, what string
	}{
		{`"throttle_hold": "0 %"`, `"throttle_hold": "10 %"`, setup.Stop, "hover", "Live throttle under hold"},
		{`["0 %", "0 %"], ["50 %", "60 %"]`, `["0 %", "5 %"], ["50 %", "60 %"]`, setup.Stop, "hover", "Live throttle at low stick"},
		{`"reverse": false, "sub_trim": "3 µs"`, `"reverse": true, "sub_trim": "3 µs"`, setup.Stop, "front", "Servo runs the wrong way"},
		{`"right": "-86.60254037844386 %"`, `"right": "-20 %"`, setup.Fix, "right cyclic", "Cyclic tilts the swashplate to another side too"},
		{`"high_end_point": "101 %"`, `"high_end_point": "120 %"`, setup.Fix, "hover", "Swashplate tilts under collective alone"},
		{`"mount": "0.2°"`, `"mount": "8°"`, setup.Fix, "front", "Servo arm not square to its link at neutral"},
		{`"longest_pulse": "2220 µs"`, `"longest_pulse": "2080 µs"`, setup.Fix, "hover", "Servo reaches its limit at stick corners"},
		{`"dead_centre": "25°"`, `"dead_centre": "60°"`, setup.Fix, "front", "Servo arm near a dead centre"},
		{`"ball_link_angle": "20°"`, `"ball_link_angle": "0.5°"`, setup.Fix, "right rear", "Ball link beyond its angle"},
		{`"least_use": "60 %"`, `"least_use": "300 %"`, setup.Fix, "right rear", "Little of the servo's travel is used"},
		{`"high": "14°"`, `"high": "4°"`, setup.Note, "hover", "Reading beyond the gauge's scale"},
		{`"name": "checked",`, `"name": "checked", "targets": {"kind": "polyline", "collective":
			[{"stick": "0 %", "pitch": "-5°"}, {"stick": "100 %", "pitch": "5°"}], "cyclic": "4°"},`,
			setup.Fix, "checked", "Pitch target missed"},
	} {
		if has(clean, c.severity, c.where, c.what) {
			t.Errorf("%s: found without the fault", c.what)
		}
		s := sheet(t, changed(t, c.old, c.new))
		if !has(s, c.severity, c.where, c.what) {
			t.Errorf("%s (%s): not found in %+v", c.what, c.where, s.Findings)
		}
	}
}

// Findings come gravest first, and the tilt's names the leg at fault.
func TestFindingsOrderAndCause(t *testing.T) {
	data := changed(t, `"raises_on": "longer", "reverse": false}`, `"raises_on": "longer", "reverse": false, "high_end_point": "120 %"}`)
	data = bytes.Replace(data, []byte(`"throttle_hold": "0 %"`), []byte(`"throttle_hold": "10 %"`), 1)
	s := sheet(t, data)
	rank := map[setup.Severity]int{setup.Stop: 0, setup.Fix: 1, setup.Note: 2}
	for i := 1; i < len(s.Findings); i++ {
		if rank[s.Findings[i-1].Severity] > rank[s.Findings[i].Severity] {
			t.Errorf("%v before %v", s.Findings[i-1], s.Findings[i])
		}
	}
	blamed := 0
	for _, f := range s.Findings {
		if f.What != "Swashplate tilts under collective alone" {
			continue
		}
		blamed++
		if !strings.Contains(f.Figure, "Most of it comes from servo right rear") || !strings.Contains(f.Do, "the end points are 100 % and 120 %") {
			t.Errorf("blames %q, %q", f.Figure, f.Do)
		}
	}
	if blamed == 0 {
		t.Error("no finding of tilt")
	}
}

// A sheet opens with its cautions, and marshals to JSON that reads back.
func TestSheetAsData(t *testing.T) {
	s := sheet(t, full(t))
	if len(s.Cautions) < 4 || !strings.Contains(s.Cautions[0], "blades") {
		t.Errorf("cautions: %q", s.Cautions)
	}
	data, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var back setup.Sheet
	if err := json.Unmarshal(data, &back); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(s, &back); diff != "" {
		t.Error(diff)
	}
	if odd := regexp.MustCompile(`"[^" ]* rad"|"[^" ]*:1"`).Find(data); odd != nil {
		t.Errorf("%s is not written in its usual unit", odd)
	}
}

// A machine can be made without a file.
func TestBuildWithoutFile(t *testing.T) {
	m := parse(t, full(t))
	made := *m
	made.Plate.NeutralHeight = units.Length(math.NaN())
	_, err := made.Build()
	var f *setup.FieldError
	if !errors.As(err, &f) {
		t.Errorf("NaN height: %v", err)
	}
	made = *m
	made.Modes = append([]setup.Mode(nil), made.Modes...)
	made.Modes[0].Throttle = setup.Curve{Kind: curve.Polyline, Points: [][2]units.Ratio{{0, 0}, {1, units.Ratio(math.NaN())}}}
	if _, err := made.Build(); !errors.As(err, &f) || f.Path != "modes[0].throttle.points[1][1]" {
		t.Errorf("NaN throttle: %v", err)
	}
}

func FuzzParse(f *testing.F) {
	f.Add(full(f))
	for _, name := range []string{"bellcranks", "fourservos", "flybar"} {
		f.Add(read(f, demos+name+".json"))
	}
	f.Add([]byte(`{"name": "a", "plate": {"legs": [{}]}}`))
	f.Add([]byte(`[[[[`))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := setup.Parse(data)
		if err != nil {
			var field *setup.FieldError
			if !errors.As(err, &field) {
				t.Fatalf("untyped error: %v", err)
			}
			return
		}
		r, err := m.Build()
		if err != nil {
			t.Fatalf("parsed but does not build: %v", err)
		}
		if len(m.Modes) > 4 || len(m.Plate.Legs) > 6 {
			return // only slow
		}
		if s, err := r.Sheet(); err == nil {
			if _, err := json.Marshal(s); err != nil {
				t.Fatalf("sheet does not marshal: %v", err)
			}
		}
	})
}

func BenchmarkSheet(b *testing.B) {
	r := build(b, full(b))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := r.Sheet(); err != nil {
			b.Fatal(err)
		}
	}
}
