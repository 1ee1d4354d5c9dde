package sheet_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
	"github.com/google/go-cmp/cmp"
)

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
		r := rigtest.Build(t, rigtest.Changed(t, c.old, c.new))
		for i := range r.Modes() {
			m := r.Modes()[i]
			if m.Name() != c.mode {
				continue
			}
			var field *machine.FieldError
			var target *setup.TargetError
			if !errors.As(m.Unmet(), &field) || !errors.As(m.Unmet(), &target) ||
				field.Path != c.path || field.Line == 0 || !strings.Contains(m.Unmet().Error(), c.says) {
				t.Errorf("%s: %v", c.path, m.Unmet())
			}
			severity := sheet.Fix
			if m.Mode().Pitch == nil {
				severity = sheet.Stop
				var mode *setup.ModeError
				if _, err := m.Row(0.5); !errors.As(err, &mode) {
					t.Errorf("%s: a row without a curve: %v", c.mode, err)
				}
			}
			s, err := sheet.Of(r)
			if err != nil {
				t.Fatal(err)
			}
			if !has(s, severity, c.mode, sheet.TargetOutOfReach) {
				t.Errorf("%s: no finding: %+v", c.path, s.Findings)
			}
		}
	}
}

func has(s *sheet.Sheet, severity sheet.Severity, where string, what sheet.Kind) bool {
	for _, f := range s.Findings {
		if f.Severity == severity && f.Where == where && f.Kind == what {
			return f.Figure != "" && f.Do != ""
		}
	}
	return false
}

// The sheet's steps are those of the analytic slopes, to first order.
func TestStepsAgainstSlopes(t *testing.T) {
	r := rigtest.Build(t, rigtest.Full(t))
	steps, err := sheet.Steps(r)
	if err != nil {
		t.Fatal(err)
	}
	d, err := r.Modes()[0].Setting().Demand(pitch.Stick{Collective: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	state := r.Head().Control.NewState()
	s, err := r.Head().Sensitivity(state, r.Gauge().Bearing, d)
	if err != nil {
		t.Fatal(err)
	}
	legs := make([]swash.LegEffect, 3)
	if err := r.Head().Control.Mechanism().(*swash.Plate).LegEffects(legs, s.Pose, state.Arms); err != nil {
		t.Fatal(err)
	}
	front := r.Head().Control.Servos()[0]
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
	data := rigtest.Changed(t, `"offset": "0.5 mm", `, ``)
	data = bytes.Replace(data, []byte(`"link": "45.2 mm",`), nil, 1)
	data = bytes.Replace(data, []byte(`"sub_trim": "3 µs", "mount": "0.2°", "low_end_point": "99 %", "high_end_point": "101 %"`), []byte(`"sub_trim": "0 µs"`), 1)
	rates := swash.Rates{Collective: 0.45, Right: 0.79, Forward: 0.79}
	s := sheetOf(t, rigtest.Rig(t, data, func(m *machine.Machine) { m.Modes[0].Rates = &rates }))
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
	clean := sheetFor(t, rigtest.Full(t))
	for _, c := range []struct {
		old, new string
		severity sheet.Severity
		where    string
		what     sheet.Kind
	}{
		{`"throttle_hold": "0 %"`, `"throttle_hold": "10 %"`, sheet.Stop, "hover", sheet.LiveUnderHold},
		{`["0 %", "0 %"], ["50 %", "60 %"]`, `["0 %", "5 %"], ["50 %", "60 %"]`, sheet.Stop, "hover", sheet.LiveAtLowStick},
		{`"reverse": false, "sub_trim": "3 µs"`, `"reverse": true, "sub_trim": "3 µs"`, sheet.Stop, "front", sheet.ServoReversed},
		{`"right": "-86.60254037844386 %"`, `"right": "-20 %"`, sheet.Fix, "right cyclic", sheet.CyclicAstray},
		{`"high_end_point": "101 %"`, `"high_end_point": "120 %"`, sheet.Fix, "hover", sheet.TiltUnderCollective},
		{`"mount": "0.2°"`, `"mount": "8°"`, sheet.Fix, "front", sheet.ArmOffSquare},
		{`"longest_pulse": "2220 µs"`, `"longest_pulse": "2080 µs"`, sheet.Fix, "hover", sheet.LimitAtCorners},
		{`"dead_centre": "25°"`, `"dead_centre": "60°"`, sheet.Fix, "front", sheet.ArmNearDeadCentre},
		{`"ball_link_angle": "20°"`, `"ball_link_angle": "0.5°"`, sheet.Fix, "right rear", sheet.BallLinkAngleTooWide},
		{`"least_use": "60 %"`, `"least_use": "300 %"`, sheet.Fix, "right rear", sheet.TravelUnused},
		{`"high": "14°"`, `"high": "4°"`, sheet.Note, "hover", sheet.ReadingOffScale},
		{`"name": "checked",`, `"name": "checked", "targets": {"kind": "polyline", "collective":
			[{"stick": "0 %", "pitch": "-5°"}, {"stick": "100 %", "pitch": "5°"}], "cyclic": "4°"},`,
			sheet.Fix, "checked", sheet.TargetMissed},
	} {
		if has(clean, c.severity, c.where, c.what) {
			t.Errorf("%s: found without the fault", c.what)
		}
		s := sheetFor(t, rigtest.Changed(t, c.old, c.new))
		if !has(s, c.severity, c.where, c.what) {
			t.Errorf("%s (%s): not found in %+v", c.what, c.where, s.Findings)
		}
	}
}

// Findings come gravest first, and the tilt's names the leg at fault.
func TestFindingsOrderAndCause(t *testing.T) {
	data := rigtest.Changed(t, `"raises_on": "longer", "reverse": false}`, `"raises_on": "longer", "reverse": false, "high_end_point": "120 %"}`)
	data = bytes.Replace(data, []byte(`"throttle_hold": "0 %"`), []byte(`"throttle_hold": "10 %"`), 1)
	s := sheetFor(t, data)
	rank := map[sheet.Severity]int{sheet.Stop: 0, sheet.Fix: 1, sheet.Note: 2}
	for i := 1; i < len(s.Findings); i++ {
		if rank[s.Findings[i-1].Severity] > rank[s.Findings[i].Severity] {
			t.Errorf("%v before %v", s.Findings[i-1], s.Findings[i])
		}
	}
	blamed := 0
	for _, f := range s.Findings {
		if f.Kind != sheet.TiltUnderCollective {
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
	s := sheetFor(t, rigtest.Full(t))
	if len(s.Cautions) < 4 || !strings.Contains(s.Cautions[0], "blades") {
		t.Errorf("cautions: %q", s.Cautions)
	}
	data, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var back sheet.Sheet
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

// Who moves each arm by the teeth and sets the sub-trim that the sheet tells has
// square arms, to within half a pulse step.
func TestTeethAndSubTrimSquareTheArm(t *testing.T) {
	const tooth = 14.4 * units.Degree
	m := rigtest.Parse(t, rigtest.Read(t, rigtest.Demos+"direct.json"))
	rigtest.Hover(m)
	halfStep := 0.5 * float64(36*units.Degree) / 400 // of the arm, for 1 µs
	for _, mounts := range [][3]float64{
		{-3, 8, -8}, {18.7, -18.7, 3}, {-35, 0, 35}, {8, 8, 8}, {-18.7, -18.7, -18.7},
	} {
		for i, mount := range mounts {
			m.Plate.Legs[i].Servo.Mount, m.Plate.Legs[i].Servo.SubTrim = units.Angle(mount)*units.Degree, 0
		}
		squareUp(t, m, mounts[:], tooth)
		for i, off := range squareUp(t, m, mounts[:], tooth) {
			// Half a step of its own, and what the others' half steps tilt its link by.
			if math.Abs(float64(off)) > 1.2*halfStep {
				t.Errorf("mounts %v, servo %d: still %v off square", mounts, i+1, off)
			}
		}
	}
}

// squareUp follows a sheet's advice on the arms, and returns by how much they were
// off square before.
func squareUp(t *testing.T, m *machine.Machine, mounts []float64, tooth units.Angle) (off []units.Angle) {
	t.Helper()
	r, err := setup.Build(m)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range sheetOf(t, r).Neutral.Servos {
		if s.NoTrim {
			t.Errorf("mounts %v, %s: no trim for %v", mounts, s.Name, s.OffSquare)
		}
		m.Plate.Legs[i].Servo.Mount += units.Angle(s.Teeth) * tooth
		m.Plate.Legs[i].Servo.SubTrim = s.SubTrim
		off = append(off, s.OffSquare)
	}
	return off
}

// Half a tooth of 14.4° is 80 µs: a servo with less room for it has no sub-trim
// that squares its arm, and one with more has.
func TestNoSubTrim(t *testing.T) {
	for room, none := range map[units.PulseWidth]bool{76 * units.PulseMicrosecond: false, 72 * units.PulseMicrosecond: true} {
		s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Hover(m)
			m.Modes[0].Rates = &swash.Rates{Collective: 0.1, Right: 0.1, Forward: 0.1}
			kind := m.Servos["bench digital"]
			kind.Min = kind.Neutral - room
			m.Servos["bench digital"] = kind
			m.Plate.Legs[0].Servo.Mount = 6.7 * units.Degree // 75 µs
		}))
		front := s.Neutral.Servos[0]
		if front.NoTrim != none || front.Teeth != 0 || (front.SubTrim == 0) != none {
			t.Errorf("room %v: %+v", room, front)
		}
		f := one(t, s, sheet.ArmOffSquare)
		if none {
			contains(t, f, "6.8° off", "Sub-trim cannot correct the rest")
		} else {
			contains(t, f, "6.8° off", fmt.Sprintf("Set the sub-trim to %+.4g µs.", front.SubTrim.Microseconds()))
		}
	}
}

// The advice on teeth counts them, and says which way.
func TestTeethInWords(t *testing.T) {
	s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		rigtest.Hover(m)
		m.Plate.Legs[0].Servo.Mount = 14 * units.Degree
		m.Plate.Legs[1].Servo.Mount = -14 * units.Degree
		m.Plate.Legs[2].Servo.Mount = 28 * units.Degree
	}))
	for _, f := range found(s, sheet.ArmOffSquare) {
		contains(t, f, map[string]string{"front": "1 tooth down on its spline of 25", "right rear": "1 tooth up", "left rear": "2 teeth down"}[f.Where])
	}
}

// stepTolerance is for what the sheet's steps and a machine built anew for each
// step, both exact, differ by in rounding, in degrees.
const stepTolerance = 1e-9

// The steps of rates and servos are what a machine file with that step taken does.
func TestStepsAgainstChangedMachines(t *testing.T) {
	for _, name := range []string{"direct", "bellcranks"} {
		data := rigtest.Read(t, rigtest.Demos+name+".json")
		plain := func(m *machine.Machine) {
			rigtest.Hover(m)
			m.Radio.PulseStep = 0
		}
		r := rigtest.Rig(t, data, plain)
		steps, err := sheet.Steps(r)
		if err != nil {
			t.Fatal(err)
		}
		byName := map[string]sheet.Step{}
		for _, s := range steps {
			byName[s.What] = s
		}
		servo := func(m *machine.Machine, i int) *machine.ServoOfALeg {
			if b := m.Plate.BellCranks; b != nil {
				return []*machine.ServoOfALeg{&b.Collective.Servo, &b.Right.Servo, &b.Forward.Servo}[i]
			}
			return &m.Plate.Legs[i].Servo
		}
		check := func(what string, stick float64, edit func(*machine.Machine)) {
			t.Helper()
			step, ok := byName[what]
			if !ok {
				t.Fatalf("%s: no step %q in %+v", name, what, steps)
			}
			before, err := r.Modes()[0].Row(stick)
			if err != nil {
				t.Fatal(err)
			}
			changed := rigtest.Rig(t, data, func(m *machine.Machine) { plain(m); edit(m) })
			after, err := changed.Modes()[0].Row(stick)
			if err != nil {
				t.Fatal(err)
			}
			tilt := tiltOf(after).Sub(tiltOf(before))
			if off := (step.Pitch - after.Gauge + before.Gauge).Degrees(); math.Abs(off) > stepTolerance || step.Pitch == 0 && after.Gauge != before.Gauge {
				t.Errorf("%s, %s: pitch %v is off by %g°", name, what, step.Pitch, off)
			}
			got := swash.TiltTo(step.Tilt, step.LowSide)
			if off := got.Sub(tilt).Amount().Degrees(); off > 1e-6 { // below which a low side is not shown
				t.Errorf("%s, %s: tilt %+v, want %+v", name, what, got, tilt)
			}
		}
		for i, s := range r.Servos() {
			tooth := 360 * units.Degree / units.Angle(s.Type.Spline)
			check(s.Name+" servo arm, one tooth up", 0.5, func(m *machine.Machine) { servo(m, i).Mount += tooth })
			check(s.Name+" servo sub-trim, 1 µs more", 0.5, func(m *machine.Machine) { servo(m, i).SubTrim += 1 * units.PulseMicrosecond })
			end := s.Name + " servo end points, 1 % more"
			if name == "direct" {
				end += " (tilts the plate; do not set pitch with it)"
			}
			check(end, 1, func(m *machine.Machine) {
				more := 101 * units.Percent
				servo(m, i).Low, servo(m, i).High = &more, &more
			})
		}
		more := rigtest.Rig(t, data, func(m *machine.Machine) {
			plain(m)
			rates := *m.Modes[0].Rates
			m.Modes[0].Rates = &swash.Rates{Collective: rates.Collective + 0.01, Right: rates.Right + 0.01, Forward: rates.Forward + 0.01}
		})
		row := func(r *setup.Rig) units.Angle {
			row, err := r.Modes()[0].Row(1)
			if err != nil {
				t.Fatal(err)
			}
			return row.Gauge
		}
		for what, want := range map[string]units.Angle{
			"collective rate, 1 % more":     row(more) - row(r),
			"right cyclic rate, 1 % more":   amplitude(t, more, pitch.Stick{Collective: 0.5, Right: 1}) - amplitude(t, r, pitch.Stick{Collective: 0.5, Right: 1}),
			"forward cyclic rate, 1 % more": amplitude(t, more, pitch.Stick{Collective: 0.5, Forward: 1}) - amplitude(t, r, pitch.Stick{Collective: 0.5, Forward: 1}),
		} {
			got, ok := byName[what]
			if !ok || math.Abs((got.Pitch-want).Degrees()) > stepTolerance || want <= 0 {
				t.Errorf("%s, %s: %v, want %v", name, what, got.Pitch, want)
			}
		}
	}
}

func tiltOf(row setup.Row) swash.Tilt { return swash.TiltTo(row.Tilt, row.LowSide) }

func amplitude(t *testing.T, r *setup.Rig, at pitch.Stick) units.Angle {
	t.Helper()
	return rigtest.Cyclic(t, r, r.Modes()[0], at).Amplitude()
}

// The steps of a bell-crank machine's links are what a file with a longer link
// does: half a turn of an M2 link is 0.2 mm.
func TestCrankLinkSteps(t *testing.T) {
	data := rigtest.Read(t, rigtest.Demos+"bellcranks.json")
	plain := func(m *machine.Machine) { rigtest.Straight(m); m.Radio.PulseStep = 0 }
	r := rigtest.Rig(t, data, plain)
	steps, err := sheet.Steps(r)
	if err != nil {
		t.Fatal(err)
	}
	before, err := r.Modes()[0].Row(0.5)
	if err != nil {
		t.Fatal(err)
	}
	const half = 0.2 * units.Millimetre
	for what, edit := range map[string]func(*machine.BellCranks){
		"collective, first link":    func(b *machine.BellCranks) { b.Collective.Chain[0].ArmToArm.Link += half },
		"collective, second link":   func(b *machine.BellCranks) { b.Collective.Chain[1].ArmToLine.Link += half },
		"right cyclic, first link":  func(b *machine.BellCranks) { b.Right.Chain[0].ArmToArm.Link += half },
		"right cyclic, second link": func(b *machine.BellCranks) { b.Right.Chain[1].ArmToArm.Link += half },
		"forward cyclic link":       func(b *machine.BellCranks) { b.Forward.Chain[0].ArmToArm.Link += half },
	} {
		changed := rigtest.Rig(t, data, func(m *machine.Machine) { plain(m); edit(m.Plate.BellCranks) }).Head().Control
		pose, err := changed.Pose(changed.NewState(), swash.Demand{})
		if err != nil {
			t.Fatal(err)
		}
		gauge, err := r.Head().Grip.Pitch(r.Gauge().Bearing, pose)
		if err != nil {
			t.Fatal(err)
		}
		seen := false
		for _, s := range steps {
			if s.Adjust != sheet.AdjustLink || s.Of != what {
				continue
			}
			seen = true
			if off := (s.Pitch - gauge + before.Gauge).Degrees(); math.Abs(off) > stepTolerance {
				t.Errorf("%s: pitch %v is off by %g°", what, s.Pitch, off)
			}
			if off := swash.TiltTo(s.Tilt, s.LowSide).Sub(pose.Tilt.Sub(tiltOf(before))).Amount().Degrees(); off > 1e-6 {
				t.Errorf("%s: tilt %v at %v is off by %g°", what, s.Tilt, s.LowSide, off)
			}
		}
		if !seen {
			t.Errorf("no step %q", what)
		}
	}
}

// What is set on the servos is told from what the geometry makes: the latter does
// not change with mounts, sub-trims, end points and pulse steps.
func TestSymmetryTellsSettingsApart(t *testing.T) {
	symmetry := func(edit func(*machine.ServoOfALeg, *machine.Radio)) *setup.Symmetry {
		s := sheetOf(t, rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Straight(m)
			m.Radio.PulseStep = 0
			for i := range m.Plate.Legs {
				edit(&m.Plate.Legs[i].Servo, &m.Radio)
			}
			link := 45.2 * units.Millimetre
			m.Head.Link = &link
		}))
		if s.Modes[0].Symmetry == nil {
			t.Fatal("no symmetry")
		}
		return s.Modes[0].Symmetry
	}
	plain := symmetry(func(*machine.ServoOfALeg, *machine.Radio) {})
	if plain.Settings != 0 {
		t.Errorf("settings are blamed for %v", plain.Settings)
	}
	percent := func(p units.Ratio) *units.Ratio { p *= units.Percent; return &p }
	for name, edit := range map[string]func(*machine.ServoOfALeg, *machine.Radio){
		"mount":    func(s *machine.ServoOfALeg, _ *machine.Radio) { s.Mount = 2 * units.Degree },
		"low end":  func(s *machine.ServoOfALeg, _ *machine.Radio) { s.Low = percent(90) },
		"high end": func(s *machine.ServoOfALeg, _ *machine.Radio) { s.High = percent(110) },
		"step":     func(_ *machine.ServoOfALeg, r *machine.Radio) { r.PulseStep = 50 * units.PulseMicrosecond },
		"sub-trim": func(s *machine.ServoOfALeg, _ *machine.Radio) {
			s.SubTrim = 20 * units.PulseMicrosecond
			if s.Raises == machine.ShorterPulses {
				s.SubTrim = -s.SubTrim
			}
		},
	} {
		got := symmetry(edit)
		if math.Abs((got.Geometry-plain.Geometry).Degrees()) > 1e-6 || math.Abs((got.Sum-got.Geometry-got.Settings).Degrees()) > 2e-6 || math.Abs((got.Sum-got.Low-got.High).Degrees()) > 2e-6 {
			t.Errorf("%s: %+v; geometry alone %v", name, got, plain.Geometry)
		}
		// A tenth of a servo's travel on two of the three is about this much.
		if name != "step" && math.Abs(got.Settings.Degrees()) < 0.25 || got.Settings == 0 {
			t.Errorf("%s: settings make %v", name, got.Settings)
		}
	}
}
