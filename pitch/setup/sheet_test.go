package setup_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Who moves each arm by the teeth and sets the sub-trim that the sheet tells has
// square arms, to within half a pulse step.
func TestTeethAndSubTrimSquareTheArm(t *testing.T) {
	const tooth = 14.4 * units.Degree
	m := parse(t, read(t, demos+"direct.json"))
	hover(m)
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
func squareUp(t *testing.T, m *setup.Machine, mounts []float64, tooth units.Angle) (off []units.Angle) {
	t.Helper()
	r, err := m.Build()
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
		s := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
			hover(m)
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
		f := one(t, s, "Servo arm not square to its link at neutral")
		if none {
			contains(t, f, "6.8° off", "Sub-trim cannot correct the rest")
		} else {
			contains(t, f, "6.8° off", fmt.Sprintf("Set the sub-trim to %+.4g µs.", front.SubTrim.Microseconds()))
		}
	}
}

// The advice on teeth counts them, and says which way.
func TestTeethInWords(t *testing.T) {
	s := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
		hover(m)
		m.Plate.Legs[0].Servo.Mount = 14 * units.Degree
		m.Plate.Legs[1].Servo.Mount = -14 * units.Degree
		m.Plate.Legs[2].Servo.Mount = 28 * units.Degree
	}))
	for _, f := range found(s, "Servo arm not square to its link at neutral") {
		contains(t, f, map[string]string{"front": "1 tooth down on its spline of 25", "right rear": "1 tooth up", "left rear": "2 teeth down"}[f.Where])
	}
}

// stepTolerance is for what the sheet's steps and a machine built anew for each
// step, both exact, differ by in rounding, in degrees.
const stepTolerance = 1e-9

// The steps of rates and servos are what a machine file with that step taken does.
func TestStepsAgainstChangedMachines(t *testing.T) {
	for _, name := range []string{"direct", "bellcranks"} {
		data := read(t, demos+name+".json")
		plain := func(m *setup.Machine) {
			hover(m)
			m.Radio.PulseStep = 0
		}
		r := rigOf(t, data, plain)
		steps, err := r.Steps()
		if err != nil {
			t.Fatal(err)
		}
		byName := map[string]setup.Step{}
		for _, s := range steps {
			byName[s.What] = s
		}
		servo := func(m *setup.Machine, i int) *setup.ServoOfALeg {
			if b := m.Plate.BellCranks; b != nil {
				return []*setup.ServoOfALeg{&b.Collective.Servo, &b.Right.Servo, &b.Forward.Servo}[i]
			}
			return &m.Plate.Legs[i].Servo
		}
		check := func(what string, stick float64, edit func(*setup.Machine)) {
			t.Helper()
			step, ok := byName[what]
			if !ok {
				t.Fatalf("%s: no step %q in %+v", name, what, steps)
			}
			before, err := r.Row(&r.Modes[0], stick)
			if err != nil {
				t.Fatal(err)
			}
			changed := rigOf(t, data, func(m *setup.Machine) { plain(m); edit(m) })
			after, err := changed.Row(&changed.Modes[0], stick)
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
		for i, s := range r.Servos {
			tooth := 360 * units.Degree / units.Angle(s.Type.Spline)
			check(s.Name+" servo arm, one tooth up", 0.5, func(m *setup.Machine) { servo(m, i).Mount += tooth })
			check(s.Name+" servo sub-trim, 1 µs more", 0.5, func(m *setup.Machine) { servo(m, i).SubTrim += 1 * units.PulseMicrosecond })
			end := s.Name + " servo end points, 1 % more"
			if name == "direct" {
				end += " (tilts the plate; do not set pitch with it)"
			}
			check(end, 1, func(m *setup.Machine) {
				more := 101 * units.Percent
				servo(m, i).Low, servo(m, i).High = &more, &more
			})
		}
		more := rigOf(t, data, func(m *setup.Machine) {
			plain(m)
			rates := *m.Modes[0].Rates
			m.Modes[0].Rates = &swash.Rates{Collective: rates.Collective + 0.01, Right: rates.Right + 0.01, Forward: rates.Forward + 0.01}
		})
		row := func(r *setup.Rig) units.Angle {
			row, err := r.Row(&r.Modes[0], 1)
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
	return cyclicAt(t, r, &r.Modes[0], at).Amplitude()
}

// The steps of a bell-crank machine's links are what a file with a longer link
// does: half a turn of an M2 link is 0.2 mm.
func TestCrankLinkSteps(t *testing.T) {
	data := read(t, demos+"bellcranks.json")
	plain := func(m *setup.Machine) { straight(m); m.Radio.PulseStep = 0 }
	r := rigOf(t, data, plain)
	steps, err := r.Steps()
	if err != nil {
		t.Fatal(err)
	}
	before, err := r.Row(&r.Modes[0], 0.5)
	if err != nil {
		t.Fatal(err)
	}
	const half = 0.2 * units.Millimetre
	for what, edit := range map[string]func(*setup.BellCranks){
		"collective, first link":    func(b *setup.BellCranks) { b.Collective.Chain[0].ArmToArm.Link += half },
		"collective, second link":   func(b *setup.BellCranks) { b.Collective.Chain[1].ArmToLine.Link += half },
		"right cyclic, first link":  func(b *setup.BellCranks) { b.Right.Chain[0].ArmToArm.Link += half },
		"right cyclic, second link": func(b *setup.BellCranks) { b.Right.Chain[1].ArmToArm.Link += half },
		"forward cyclic link":       func(b *setup.BellCranks) { b.Forward.Chain[0].ArmToArm.Link += half },
	} {
		changed := rigOf(t, data, func(m *setup.Machine) { plain(m); edit(m.Plate.BellCranks) }).Head.Control
		pose, err := changed.Pose(changed.NewState(), swash.Demand{})
		if err != nil {
			t.Fatal(err)
		}
		gauge, err := r.Head.Grip.Pitch(r.Machine.Gauge.Bearing, pose)
		if err != nil {
			t.Fatal(err)
		}
		seen := false
		for _, s := range steps {
			if s.What != what+", half a turn longer" {
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
	symmetry := func(edit func(*setup.ServoOfALeg, *setup.Radio)) *setup.Symmetry {
		s := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
			straight(m)
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
	plain := symmetry(func(*setup.ServoOfALeg, *setup.Radio) {})
	if plain.Settings != 0 {
		t.Errorf("settings are blamed for %v", plain.Settings)
	}
	percent := func(p units.Ratio) *units.Ratio { p *= units.Percent; return &p }
	for name, edit := range map[string]func(*setup.ServoOfALeg, *setup.Radio){
		"mount":    func(s *setup.ServoOfALeg, _ *setup.Radio) { s.Mount = 2 * units.Degree },
		"low end":  func(s *setup.ServoOfALeg, _ *setup.Radio) { s.Low = percent(90) },
		"high end": func(s *setup.ServoOfALeg, _ *setup.Radio) { s.High = percent(110) },
		"step":     func(_ *setup.ServoOfALeg, r *setup.Radio) { r.PulseStep = 50 * units.PulseMicrosecond },
		"sub-trim": func(s *setup.ServoOfALeg, _ *setup.Radio) {
			s.SubTrim = 20 * units.PulseMicrosecond
			if s.Raises == setup.ShorterPulses {
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

// leastSteps is the least number of percent steps in a collective rate under which no
// point of a setting's curve, as its demands are, lies beyond ±100 %.
func leastSteps(s pitch.Setting, r *setup.Rig) float64 {
	const rounding = 1e-7 // of a step
	var largest float64
	for _, p := range s.Pitch.Points() {
		largest = math.Max(largest, math.Abs(p.Y)*float64(s.Rates.Collective))
	}
	return math.Max(math.Ceil(largest/float64(r.Machine.Radio.PercentStep)-rounding), 1)
}

// stepsOf is the number of percent steps in a setting's collective rate.
func stepsOf(s pitch.Setting, r *setup.Rig) float64 {
	return math.Round(float64(s.Rates.Collective / r.Machine.Radio.PercentStep))
}

// The solved collective rate is in whole percent steps, and up to ten steps and a tenth
// above the least with which no curve point lies beyond ±100 %. What is entered is in
// whole steps too.
func TestSolvedRateIsNearTheLeast(t *testing.T) {
	for _, step := range []units.Ratio{0.0001, 0.001, 0.005, 0.01, 0.05} {
		r := rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
			m.Modes = m.Modes[1:]
			m.Radio.PercentStep = step
		})
		for _, mode := range r.Modes {
			rate := mode.Solved.Exact.Rates.Collective
			if n := float64(rate / step); math.Abs(n-math.Round(n)) > 1e-9 || rate != mode.Solved.Enter.Rates.Collective {
				t.Errorf("step %v: rate %v is not in whole steps", step, rate)
			}
			least := leastSteps(mode.Solved.Exact, r)
			if n := stepsOf(mode.Solved.Exact, r); n < least || n > least+math.Min(10, least/10) {
				t.Errorf("step %v, mode %s: rate %v, least %v", step, mode.Mode.Name, rate, units.Ratio(least)*step)
			}
			for _, p := range mode.Solved.Enter.Points {
				if n := float64(p[1] / step); math.Abs(n-math.Round(n)) > 1e-8 || p[1] > 1 || p[1] < -1 {
					t.Errorf("step %v: point %v", step, p)
				}
			}
		}
	}
}

// What is to be entered reads nearer to its targets, pulse steps included, than the exact
// values rounded one by one under the least rate; nothing one step aside, of rates or
// points, reads nearer at the worst of them. The figures are what it reaches on the
// machines of the examples, in degrees of pitch.
func TestEnteredReadsNearest(t *testing.T) {
	type figures struct{ pitch, rounded, cyclic float64 }
	reached := map[string][2]figures{
		"direct.json":     {{0.0191, 0.0338, 0.0125}, {0.0226, 0.0226, 0.0172}},
		"bellcranks.json": {{0.0101, 0.0271, 0.0179}, {0.0137, 0.0320, 0.0062}},
		"fourservos.json": {{0.0279, 0.0444, 0.0405}, {0.0337, 0.0337, 0.0344}},
		"flybar.json":     {{0.0405, 0.0986, 0.0404}, {0.0652, 0.0659, 0.0245}},
		"spatial.json":    {{0.0194, 0.0194, 0.0256}, {0.0281, 0.0300, 0.0305}},
	}
	for name, data := range demoFiles(t) {
		r := build(t, data)
		for i, want := range reached[name] {
			m := &r.Modes[1+i]
			solved, targets := m.Solved, m.Mode.Targets
			step := r.Machine.Radio.PercentStep
			// off is the error at a target for a value of the curve under a rate.
			off := func(k int, rate, value units.Ratio) float64 {
				at := swash.Demand{Collective: float64(rate * value)}
				p, _, err := r.Head.Blade(r.Head.Control.NewState(), r.Machine.Gauge.Bearing, at)
				if err != nil {
					t.Fatal(err)
				}
				return math.Abs((p - targets.Collective[k].Pitch).Degrees())
			}
			const decimals = 5e-5 // half the last decimal of the figures
			rate, least := solved.Enter.Rates.Collective, units.Ratio(leastSteps(solved.Exact, r))*step
			var worst, rounded float64
			for k, p := range solved.Enter.Points {
				here := off(k, rate, p[1])
				worst = math.Max(worst, here)
				plain := solved.Exact.Pitch.Points()[k].Y * float64(rate/least)
				rounded = math.Max(rounded, off(k, least, units.Ratio(math.RoundToEven(plain/float64(step)))*step))
				for _, beside := range []units.Ratio{p[1] - step, p[1] + step} {
					if beside >= -1 && beside <= 1 && off(k, rate, beside) < here-1e-6 {
						t.Errorf("%s, %s: point %v at %v reads %.4f° off, one step aside less", name, m.Mode.Name, p[1], p[0], here)
					}
				}
			}
			var cyclic float64
			for _, c := range solved.Cyclic {
				cyclic = math.Max(cyclic, math.Abs((c.Entered - c.Wanted).Degrees()))
			}
			got := figures{worst, rounded, cyclic}
			if diff := cmp.Diff(want, got, cmp.AllowUnexported(figures{}), cmpopts.EquateApprox(0, decimals)); diff != "" {
				t.Errorf("%s, %s (-want +got):\n%s", name, m.Mode.Name, diff)
			}
			for k, stick := range []pitch.Stick{{Collective: 0.5, Right: 1}, {Collective: 0.5, Forward: 1}} {
				for _, by := range []units.Ratio{-step, step} {
					beside := *m
					beside.Setting = solved.Entered
					*[]*units.Ratio{&beside.Setting.Rates.Right, &beside.Setting.Rates.Forward}[k] += by
					full, centre := cyclicAt(t, r, &beside, stick), cyclicAt(t, r, &beside, pitch.Stick{Collective: 0.5})
					full.Cosine -= centre.Cosine
					full.Sine -= centre.Sine
					if there, here := full.Amplitude()-targets.Cyclic, solved.Cyclic[k].Entered-targets.Cyclic; math.Abs(there.Degrees()) < math.Abs(here.Degrees())-1e-6 {
						t.Errorf("%s, %s: %s reads %v off, one step aside %v", name, m.Mode.Name, solved.Cyclic[k].Stick, here, there)
					}
				}
			}
		}
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
	} {
		m, err := setup.Parse(changed(t, c.old, c.new))
		if c.path == "" {
			if err != nil {
				t.Errorf("%s: %v", c.new, err)
			} else if _, err := m.Build(); err != nil {
				t.Errorf("%s: parsed, but %v", c.new, err)
			}
			continue
		}
		var field *setup.FieldError
		if !errors.As(err, &field) || field.Line == 0 || !strings.HasPrefix(field.Path, c.path) {
			t.Errorf("%s: %v, want %s", c.new, err, c.path)
		}
	}
}

// A file that is empty, or does not begin as one must, says so and not what follows from it.
func TestBeginning(t *testing.T) {
	for text, want := range map[string]string{
		"":          "machine file: the file is empty; copy an example file",
		" \n\t\r\n": "machine file: the file is empty; copy an example file",
		"\ufeff\n":  "machine file: the file is empty; copy an example file",
		strings.TrimLeft(string(full(t)), "{ \r\n"): "machine file, line 1: the file must begin with {; line 1 has none",
		"\n\n[]": "machine file, line 3: the file must begin with {; line 3 has none",
	} {
		if _, err := setup.Parse([]byte(text)); err == nil || err.Error() != want {
			t.Errorf("%.20q: %v, want %s", text, err, want)
		}
	}
}

// A byte order mark changes nothing, not even lines.
func TestByteOrderMark(t *testing.T) {
	mark := []byte("\ufeff")
	marked := parse(t, append(mark, full(t)...))
	if diff := cmp.Diff(parse(t, full(t)), marked, cmpopts.IgnoreUnexported(setup.Machine{})); diff != "" {
		t.Error(diff)
	}
	broken := changed(t, `"travel": "36°"`, `"travel": "much"`)
	var field *setup.FieldError
	if _, err := setup.Parse(append(mark, broken...)); !errors.As(err, &field) || field.Line != lineOf(broken, `"much"`) {
		t.Errorf("line: %v", err)
	}
}

// A fault in a field that is not in the file is at the line of what would hold it.
func TestLineOfWhatIsNotThere(t *testing.T) {
	var indented bytes.Buffer // each field on a line of its own
	if err := json.Indent(&indented, full(t), "", " "); err != nil {
		t.Fatal(err)
	}
	var rows struct {
		Radio struct {
			MixRows json.RawMessage `json:"mix_rows"`
		}
	}
	if err := json.Unmarshal(indented.Bytes(), &rows); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, path, at string }{
		// Missing at all.
		{`"neutral_height": "60 mm",`, ``, "plate.neutral_height", `"plate": {`},
		{`"raises_on": "longer",`, ``, "plate.legs[0].servo.raises_on", `"servo": {`},
		{`"spline_teeth": 25,`, ``, "servos.bench digital.spline_teeth", `"bench digital": {`},
		{`"rotation": "clockwise",`, ``, "head.rotation", `"head": {`},
		// Left out, and what stands in for it does not do.
		{`,
  "mix_rows": ` + string(rows.Radio.MixRows), ``, "radio.mix_rows", `"radio": {`},
	} {
		if !bytes.Contains(indented.Bytes(), []byte(c.old)) {
			t.Fatalf("no %q", c.old)
		}
		data := bytes.Replace(indented.Bytes(), []byte(c.old), []byte(c.new), 1)
		var field *setup.FieldError
		if _, err := setup.Parse(data); !errors.As(err, &field) || field.Path != c.path || field.Line != lineOf(data, c.at) {
			t.Errorf("%v, want %s in line %d", err, c.path, lineOf(data, c.at))
		}
	}
}

// The drawing shows arms and links where the machine file puts them.
func TestPlan(t *testing.T) {
	const mm = units.Millimetre
	point := func(x, y, z float64) linkage.Point {
		return linkage.Point{X: units.Length(x) * mm, Y: units.Length(y) * mm, Z: units.Length(z) * mm}
	}
	end := func(x, y, z float64) *linkage.Point { p := point(x, y, z); return &p }
	rear := func(r, z float64, side float64) linkage.Point { return point(side*r*math.Sqrt(3)/2, -r/2, z) }
	for name, want := range map[string][]setup.PlanArm{
		"direct": {
			{Name: "front", Shaft: point(0, 18, 2), Tip: point(0, 30, 2), End: point(0, 30, 60)},
			{Name: "right rear", Shaft: rear(18, 2, 1), Tip: rear(30, 2, 1), End: rear(30, 60, 1)},
			{Name: "left rear", Shaft: rear(18, 2, -1), Tip: rear(30, 2, -1), End: rear(30, 60, -1)},
		},
		"bellcranks": {
			{Name: "collective", Shaft: point(0, -62, 24), Tip: point(0, -62, 35), End: point(0, -26, 35), EndShaft: end(0, -26, 24)},
			{Name: "collective", Shaft: point(0, -26, 24), Tip: point(0, -13, 24), End: point(0, -13, 66)},
			{Name: "right", Shaft: point(18, -46, 12), Tip: point(31, -46, 12), End: point(31, 0, 12), EndShaft: end(18, 0, 12)},
			{Name: "right", Shaft: point(18, 0, 12), Tip: point(31, 0, 12), End: point(31, 0, 66), EndShaft: end(0, 0, 66)},
			{Name: "forward", Shaft: point(0, 19, 12), Tip: point(0, 31, 12), End: point(0, 31, 66), EndShaft: end(0, 0, 66)},
		},
	} {
		plan, err := build(t, read(t, demos+name+".json")).Plan()
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, plan, cmp.Comparer(func(a, b units.Length) bool { return math.Abs(float64(a-b)) < 1e-12 })); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	// A link of another length turns what stands behind it, and a lever is left out.
	plan, err := rigOf(t, read(t, demos+"bellcranks.json"), func(m *setup.Machine) {
		b := m.Plate.BellCranks
		b.Right.Chain[0].ArmToArm.Link += 2 * mm
		ratio := 0.5
		b.Forward.Chain = append([]setup.Member{{Lever: &setup.Lever{Ratio: &ratio}}}, b.Forward.Chain...)
	}).Plan()
	if err != nil {
		t.Fatal(err)
	}
	if len(plan) != 5 {
		t.Fatalf("%+v", plan)
	}
	for i, link := range []units.Length{36 * mm, 42 * mm, 48 * mm, 54 * mm, 54 * mm} {
		if got := between(plan[i].Tip, plan[i].End); math.Abs(float64(got-link)) > 1e-12 {
			t.Errorf("%s: the link is %v long, want %v", plan[i].Name, got, link)
		}
	}
	if a, b := plan[2], plan[3]; a.End.Y <= 1*mm || math.Abs(float64(b.Tip.Z-12*mm)) < 1e-4 {
		t.Errorf("the crank has not turned: %+v, %+v", a, b)
	}
}

func between(a, b linkage.Point) units.Length {
	return units.Length(math.Hypot(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)), float64(a.Z-b.Z)))
}

// Every joint with play is there by name, with half of its play, and moves the
// blade as the machine does that has the joint's place changed.
func TestJoints(t *testing.T) {
	demand := swash.Demand{Collective: 0.2, Right: 0.15, Forward: -0.1}
	play := setup.Play{Ball: 0.04 * units.Millimetre, Gear: 0.3 * units.Degree, Bearing: 0.02 * units.Millimetre}
	const (
		exactly = 0.01 // of a difference over steps of a few hundredths of a millimetre
		by      = 0.02 * units.Millimetre
		turn    = 0.02 * units.Degree
	)
	check := func(r *setup.Rig, joints pitch.Joints, name string, half, by float64, changed *pitch.Head) {
		t.Helper()
		read := func(h *pitch.Head) (units.Angle, swash.Pose) {
			p, pose, err := h.Blade(h.Control.NewState(), r.Machine.Gauge.Bearing, demand)
			if err != nil {
				t.Fatal(err)
			}
			return p, pose
		}
		was, wasPose := read(r.Head)
		is, isPose := read(changed)
		want := float64(is-was) / by
		tilt := isPose.Tilt.Sub(wasPose.Tilt)
		seen := 0
		for _, j := range joints {
			if j.Name != name {
				continue
			}
			seen++
			if math.Abs(j.Blade-want) > exactly*math.Abs(want) || j.Half != half {
				t.Errorf("%s: %v per unit and half play %v, want %v and %v", name, j.Blade, j.Half, want, half)
			}
			got := swash.Tilt{Right: units.Angle(j.Pose.Right * by), Forward: units.Angle(j.Pose.Forward * by)}
			if off := float64(got.Sub(tilt).Amount()); off > exactly*float64(tilt.Amount())+1e-12 {
				t.Errorf("%s: tilts by %+v, want %+v", name, got, tilt)
			}
			if rise := float64(isPose.Height - wasPose.Height); math.Abs(j.Pose.Height*by-rise) > exactly*math.Abs(rise)+1e-12 {
				t.Errorf("%s: rises by %v, want %v", name, j.Pose.Height*by, rise)
			}
		}
		if seen != 1 {
			t.Errorf("%d joints %q", seen, name)
		}
	}
	ball, bearing := float64(play.Ball)/2, float64(play.Bearing)/2
	exact := func(m *setup.Machine) { hover(m); m.Radio.PulseStep = 0 }
	common := func(r *setup.Rig, joints pitch.Joints) {
		for i, s := range r.Servos {
			moved := r.Head.Control.Servos()[i]
			moved.Mount += turn
			drive, err := r.Head.Control.WithServo(i, moved)
			if err != nil {
				t.Fatal(err)
			}
			check(r, joints, s.Name+" servo gear", float64(play.Gear)/2, float64(turn), &pitch.Head{Control: drive, Grip: r.Head.Grip})
		}
		longer := r.Head.Grip.Spec()
		longer.Link += by
		grip, err := pitch.NewGrip(longer, r.Head.Control.Mechanism().Neutral().Height)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"pitch link, lower ball", "pitch link, ball on the pitch horn"} {
			check(r, joints, name, ball, float64(by), &pitch.Head{Control: r.Head.Control, Grip: grip})
		}
	}
	with := func(r *setup.Rig, m swash.Mechanism, err error) *pitch.Head {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		drive, err := r.Head.Control.WithMechanism(m)
		if err != nil {
			t.Fatal(err)
		}
		return &pitch.Head{Control: drive, Grip: r.Head.Grip}
	}

	direct := rigOf(t, read(t, demos+"direct.json"), exact)
	joints, err := direct.Joints(play, demand)
	if err != nil || len(joints) != 3+2*3+2 {
		t.Fatalf("%d joints, %v", len(joints), err)
	}
	common(direct, joints)
	for i, s := range direct.Servos {
		plate := direct.Parts().Plate
		plate.Legs[i].Arm.Link += by
		m, err := swash.NewPlate(plate)
		for _, name := range []string{" ball on the arm", " ball on the plate"} {
			check(direct, joints, s.Name+name, ball, float64(by), with(direct, m, err))
		}
	}

	data := read(t, demos+"bellcranks.json")
	cranks := rigOf(t, data, exact)
	if joints, err = cranks.Joints(play, demand); err != nil || len(joints) != 3+2*(2+2+1)+2*2+2 {
		t.Fatalf("%d joints, %v", len(joints), err)
	}
	common(cranks, joints)
	for _, c := range []struct {
		names []string
		edit  func(*setup.BellCranks)
	}{
		{[]string{"collective, first link, first ball", "collective, first link, second ball", "collective, first crank, towards the first link"}, func(b *setup.BellCranks) { b.Collective.Chain[0].ArmToArm.Link += by }},
		{[]string{"collective, second link, first ball", "collective, second link, second ball", "collective, first crank, towards the second link"}, func(b *setup.BellCranks) { b.Collective.Chain[1].ArmToLine.Link += by }},
		{[]string{"right cyclic, first link, first ball", "right cyclic, first link, second ball", "right cyclic, first crank, towards the first link"}, func(b *setup.BellCranks) { b.Right.Chain[0].ArmToArm.Link += by }},
		{[]string{"right cyclic, second link, first ball", "right cyclic, second link, second ball", "right cyclic, first crank, towards the second link"}, func(b *setup.BellCranks) { b.Right.Chain[1].ArmToArm.Link += by }},
		{[]string{"forward cyclic link, first ball", "forward cyclic link, second ball"}, func(b *setup.BellCranks) { b.Forward.Chain[0].ArmToArm.Link += by }},
	} {
		changed := rigOf(t, data, func(m *setup.Machine) { exact(m); c.edit(m.Plate.BellCranks) }).Head
		for i, name := range c.names {
			half := ball
			if i == 2 {
				half = bearing
			}
			check(cranks, joints, name, half, float64(by), &pitch.Head{Control: changed.Control, Grip: cranks.Head.Grip})
		}
	}
}
