package sheet_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// notReached are the kinds that no machine here has, and why.
var notReached = map[sheet.Kind]string{
	sheet.NotHeldAtNeutral: "setup.Build refuses a machine that does not stand at neutral",
}

// faulty are machines that have at least one finding of each kind: a demonstration machine,
// changed.
var faulty = map[sheet.Kind]struct {
	file string // "" is direct.json
	edit func(*machine.Machine)
}{
	sheet.LiveUnderHold:   {"", func(m *machine.Machine) { m.Modes[0].ThrottleHold = 0.1 }},
	sheet.LiveAtLowStick:  {"", func(m *machine.Machine) { m.Modes[0].Throttle.Points = [][2]units.Ratio{{0, 0.1}, {1, 0.8}} }},
	sheet.ServoReversed:   {"", func(m *machine.Machine) { m.Plate.Legs[0].Servo.Reverse = !m.Plate.Legs[0].Servo.Reverse }},
	sheet.ControlReversed: {"bellcranks.json", func(m *machine.Machine) { m.Plate.BellCranks.Right.Servo.Reverse = true }},
	sheet.CyclicAstray: {"", func(m *machine.Machine) {
		m.Radio.Mixing = machine.MixByRows
		m.Radio.MixRows = []machine.MixRow{{Collective: 1, Forward: 1}, {Collective: 1, Right: 0.866, Forward: -0.5}, {Collective: 1, Right: -0.2, Forward: -0.5}}
	}},
	sheet.NeutralHeightOff:     {"spatial.json", func(m *machine.Machine) { m.Plate.NeutralHeight += 2 * units.Millimetre }},
	sheet.ArmOffSquare:         {"", func(m *machine.Machine) { m.Plate.Legs[1].Servo.Mount = 8 * units.Degree }},
	sheet.TargetOutOfReach:     {"", func(m *machine.Machine) { m.Modes[1].Targets.Cyclic = 60 * units.Degree }},
	sheet.TargetMissed:         {"", func(m *machine.Machine) { m.Radio.PercentStep = 0.25 }},
	sheet.RotorTooFast:         {"", rotorSpeed(2500)},
	sheet.TipsTooFast:          {"", limits(func(l *machine.Limits) { l.TipSpeed = 10 })},
	sheet.StickOutOfReach:      {"", wild(1.3, 0.3)},
	sheet.LimitUnderCollective: {"", rates(1.6, 0.3, 0.3)},
	sheet.PitchReversed:        {"", func(m *machine.Machine) { m.Modes[0].Rates.Collective *= -1 }},
	sheet.PitchDead:            {"", func(m *machine.Machine) { m.Modes[0].Rates.Collective = 0 }},
	sheet.PitchFalls: {"", func(m *machine.Machine) {
		m.Modes[0].Pitch.Points = [][2]units.Ratio{{0, -1}, {0.5, 0.8}, {1, 0.2}}
	}},
	sheet.CyclicReversed:      {"", func(m *machine.Machine) { m.Head.Rotation = pitch.CounterClockwise }},
	sheet.RateTooHigh:         {"", rates(1, -1.01, 1)},
	sheet.TiltUnderCollective: {"", func(m *machine.Machine) { high := units.Ratio(1.2); m.Plate.Legs[1].Servo.High = &high }},
	sheet.ReadingOffScale:     {"", func(m *machine.Machine) { m.Gauge.High = 4 * units.Degree }},
	sheet.TargetOffScale:      {"", func(m *machine.Machine) { m.Gauge.High = 4 * units.Degree }},
	sheet.LoadsUnknown: {"", func(m *machine.Machine) {
		rigtest.WideThrow(m)
		m.Head.HornRadius = 12 * units.Millimetre
		m.Modes[0].Rates.Right, m.Modes[0].Rates.Forward = 0.1, 0.1
		m.Modes[0].Pitch.Points = [][2]units.Ratio{{0, 1}, {1, 1}}
	}},
	sheet.LoadsIncomplete:   {"", rigtest.WideThrow},
	sheet.ServoTooWeak:      {"", limits(func(l *machine.Limits) { l.ServoLoad = 0.01 })},
	sheet.ServoTooSlow:      {"", limits(func(l *machine.Limits) { l.Stroke = 1 * units.Millisecond })},
	sheet.RotorSpeedNotHeld: {"", rotorSpeed(2150)},
	sheet.CannotHover:       {"", func(m *machine.Machine) { *m.Mass = 100 }},
	sheet.HoverOffStick:     {"", func(m *machine.Machine) { *m.Mass = 10 }},
	sheet.CurrentTooHigh: {"", func(m *machine.Machine) {
		a := 1 * units.Ampere
		m.Power.Motor.MaxCurrent = &a
		m.Power.Battery.MaxCurrent = &a
	}},
	sheet.CornersOutOfReach:    {"", wild(0.1, 1.4)},
	sheet.LimitAtCorners:       {"", rates(1, 1, 1)},
	sheet.ArmNearDeadCentre:    {"", limits(func(l *machine.Limits) { l.DeadCentre = 70 * units.Degree })},
	sheet.BallLinkAngleTooWide: {"", limits(func(l *machine.Limits) { l.BallLinkAngle = 0.5 * units.Degree })},
	sheet.ServosFight:          {"fourservos.json", func(*machine.Machine) {}},
	sheet.HornNearDeadCentre:   {"", limits(func(l *machine.Limits) { l.DeadCentre = 70 * units.Degree })},
	sheet.TravelUnused:         {"", rates(0.3, 0.3, 0.3)},
	sheet.VoltageNotRated:      {"", func(m *machine.Machine) { *m.ServoVoltage = 9 }},
	sheet.ServosNotRated: {"", func(m *machine.Machine) {
		other := m.Servos["bench digital"]
		other.Rating = nil
		m.Servos["other"] = other
		m.Plate.Legs[1].Servo.Type = "other"
	}},
	sheet.ClassMass:       {"", func(m *machine.Machine) { m.Class = machine.F3C; *m.Mass = 7 }},
	sheet.ClassDisc:       {"", func(m *machine.Machine) { m.Class = machine.F3C; m.Rotor.Radius = 900 * units.Millimetre }},
	sheet.ClassVoltage:    {"", func(m *machine.Machine) { m.Class = machine.F3C; m.Power.Battery.Cells = 14 }},
	sheet.ClassNotChecked: {"", func(m *machine.Machine) { m.Class = machine.F3C; m.Mass = nil }},
	// The other machine of a transfer.
	sheet.PhaseDiffers:    {"", func(m *machine.Machine) { m.Head.Phase = 100 * units.Degree }},
	sheet.RotationDiffers: {"", rigtest.Mirrored},
	sheet.CurveDiffers: {"", func(m *machine.Machine) {
		m.Head.HornRadius = 34 * units.Millimetre
		m.Gauge.Step = 0.001 * units.Degree
	}},
	sheet.ThrottleCopied: {"", func(m *machine.Machine) { m.Power = nil }},
}

func rotorSpeed(rpm units.AngularSpeed) func(*machine.Machine) {
	return func(m *machine.Machine) { s := rpm * units.RevolutionPerMinute; m.Modes[0].RotorSpeed = &s }
}

func limits(edit func(*machine.Limits)) func(*machine.Machine) {
	return func(m *machine.Machine) { l := machine.DefaultLimits(); edit(&l); m.Limits = &l }
}

func rates(collective, right, forward units.Ratio) func(*machine.Machine) {
	return func(m *machine.Machine) {
		rigtest.Straight(m)
		m.Modes[0].Rates = &swash.Rates{Collective: collective, Right: right, Forward: forward}
	}
}

// wild gives servo arms so much travel that they leave the reach of their links.
func wild(collective, cyclic units.Ratio) func(*machine.Machine) {
	return func(m *machine.Machine) {
		kind := m.Servos["bench digital"]
		kind.Travel = 90 * units.Degree
		m.Servos["bench digital"] = kind
		m.Modes[0].Rates = &swash.Rates{Collective: collective, Right: cyclic, Forward: cyclic}
	}
}

// demo is a demonstration machine, changed.
func demo(t *testing.T, file string, edit func(*machine.Machine)) *setup.Rig {
	t.Helper()
	if file == "" {
		file = "direct.json"
	}
	return rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+file), edit)
}

// Each kind is found on a machine that has its fault, or is said not to be; and no check finds
// what it does not list.
func TestKinds(t *testing.T) {
	type title struct {
		sheet.Kind
		sheet.Severity
		what string
	}
	listed, ofTransfers := map[title]bool{}, map[sheet.Kind]bool{}
	missing := declared(t)
	for _, c := range sheet.Checks() {
		for _, f := range c.Finds {
			k := title{f.Kind, f.Severity, f.What}
			if listed[k] || f.What == "" {
				t.Errorf("%v is listed twice, or has no title", k)
			}
			listed[k] = true
			ofTransfers[f.Kind] = strings.Contains(c.LooksAt, "of the two machines") || f.Kind == sheet.CurveDiffers
			delete(missing, f.Kind)
			if _, here := faulty[f.Kind]; here == (notReached[f.Kind] != "") {
				t.Errorf("%q must have a faulty machine or a reason why there is none, and not both", f.Kind)
			}
		}
	}
	if len(missing) > 0 {
		t.Errorf("no check finds %v", missing)
	}
	from := demo(t, "", rigtest.Straight).Modes()[0]
	for kind, c := range faulty {
		var all []sheet.Finding
		if r := demo(t, c.file, c.edit); ofTransfers[kind] {
			all = transferred(t, from, r).Findings
		} else {
			all = sheetOf(t, r).Findings
		}
		found := false
		for _, f := range all {
			found = found || f.Kind == kind
			if !listed[title{f.Kind, f.Severity, f.What}] || f.Where == "" || f.Figure == "" || f.Do == "" {
				t.Errorf("%+v", f)
			}
			for _, n := range f.Numbers {
				if !strings.ContainsAny(n.Value[:1], "-0123456789") {
					t.Errorf("%q: %+v", f.Kind, n)
				}
			}
		}
		if !found {
			t.Errorf("%q is not in %+v", kind, all)
		}
	}
}

// declared returns all constants of type Kind.
func declared(t *testing.T) map[sheet.Kind]bool {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "kinds.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[sheet.Kind]bool{}
	ast.Inspect(file, func(n ast.Node) bool {
		if spec, ok := n.(*ast.ValueSpec); ok {
			text, err := strconv.Unquote(spec.Values[0].(*ast.BasicLit).Value)
			if err != nil || kinds[sheet.Kind(text)] {
				t.Errorf("%s: %q, %v", spec.Names[0], text, err)
			}
			kinds[sheet.Kind(text)] = true
		}
		return true
	})
	return kinds
}

// A finding has its place and its numbers as data, with units, and nothing it does not know.
func TestFindingsAreData(t *testing.T) {
	f := one(t, sheetOf(t, demo(t, "", rates(1.6, 0.3, 0.3))), sheet.RateTooHigh)
	want := sheet.Finding{Kind: sheet.RateTooHigh, Severity: sheet.Fix, Mode: "hover", Where: "hover", What: f.What, Figure: f.Figure, Do: f.Do,
		At:      sheet.Place{Control: "collective"},
		Numbers: []sheet.Number{{Name: "rate", Value: "160 %"}, {Name: "limit", Value: "100 %"}}}
	if diff := cmp.Diff(want, f); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	f = one(t, sheetOf(t, demo(t, "", func(m *machine.Machine) { m.Plate.Legs[1].Servo.Mount = 8 * units.Degree })), sheet.ArmOffSquare)
	if f.At != (sheet.Place{Servo: "right rear"}) || len(f.Numbers) != 5 || f.Numbers[0].Name != "off_square" || f.Numbers[2] != (sheet.Number{Name: "teeth", Value: "-1"}) {
		t.Errorf("%+v", f)
	}
	if off, err := units.Parse[units.Angle](f.Numbers[0].Value); err != nil || off < 7*units.Degree || off > 9*units.Degree {
		t.Errorf("%v, %v", off, err)
	}
}

// The stick of each corner as numbers is that in words.
func TestCornerSticks(t *testing.T) {
	sticks := setup.CornerSticks()
	for i, c := range demo(t, "", rigtest.Hover).Modes()[0].Corners() {
		end, side, _ := strings.Cut(c.Stick, " stick and full ")
		s := sticks[i]
		if (end == "high") != (s.Collective == 1) || strings.Contains(side, "right") != (s.Right > 0) || strings.Contains(side, "left") != (s.Right < 0) ||
			strings.Contains(side, "forward") != (s.Forward > 0) || strings.Contains(side, "back") != (s.Forward < 0) {
			t.Errorf("%s: %+v", c.Stick, s)
		}
	}
}
