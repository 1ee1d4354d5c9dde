package sheet_test

import (
	"encoding/json"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Every machine in examples/demo/testdata, one of each type, gives a sheet.
func TestMachines(t *testing.T) {
	paths, err := filepath.Glob("../../examples/demo/testdata/*.json")
	if err != nil || len(paths) < 4 {
		t.Fatalf("%q, %v", paths, err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			s := sheetFor(t, rigtest.Read(t, path))
			if _, err := json.Marshal(s); err != nil {
				t.Error(err)
			}
			for _, m := range s.Modes {
				if m.Unmet != "" || len(m.Rows) == 0 {
					t.Errorf("mode %s was not worked out: %s", m.Name, m.Unmet)
				}
				for _, reading := range m.Readings {
					if off := (reading.Exact - reading.Target.Pitch).Degrees(); math.Abs(off) > 1e-6 {
						t.Errorf("mode %s misses a target by %v°", m.Name, off)
					}
				}
			}
			for _, f := range s.Findings {
				if f.Severity == sheet.Stop && f.Kind != sheet.LiveAtLowStick {
					t.Errorf("%+v", f)
				}
			}
			for _, step := range s.Steps {
				if step.Unreachable != "" {
					t.Errorf("step %q: %s", step.What, step.Unreachable)
				}
			}
		})
	}
}

// On bell cranks collective cannot tilt the plate, nor cyclic lift it, and an end
// point changes only its own function.
func TestBellCranksKeepFunctionsApart(t *testing.T) {
	r := rigtest.Build(t, rigtest.Read(t, "../../examples/demo/testdata/bellcranks.json"))
	state := r.Head().Control.NewState()
	neutral := r.Head().Control.Mechanism().Neutral()
	for _, d := range []swash.Demand{{Collective: 0.4}, {Right: 0.5}, {Forward: -0.5}} {
		pose, err := r.Head().Control.Pose(state, d)
		if err != nil {
			t.Fatal(err)
		}
		if (d.Collective != 0) != (pose.Height != neutral.Height) ||
			(d.Right != 0) != (pose.Tilt.Right != neutral.Tilt.Right) ||
			(d.Forward != 0) != (pose.Tilt.Forward != neutral.Tilt.Forward) {
			t.Errorf("%+v gives %+v", d, pose)
		}
	}
	pose, err := r.Head().Control.Pose(state, swash.Demand{Collective: 0.3, Right: 0.2, Forward: -0.1})
	if err != nil {
		t.Fatal(err)
	}
	back, _, err := r.Head().Control.Demand(state, pose)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(back.Collective-0.3)+math.Abs(back.Right-0.2)+math.Abs(back.Forward+0.1) > 0.01 { // pulse steps
		t.Errorf("came back as %+v", back)
	}
}

// Servos fight where a sub-trim puts an arm off square. They are told to square it, and to
// set no other sub-trims, and that ends it at neutral.
func TestFightsOfArmsOffSquare(t *testing.T) {
	data := rigtest.Read(t, "../../examples/demo/testdata/fourservos.json")
	r := rigtest.Build(t, data)
	do := fightAdvice(t, r)
	if !strings.HasPrefix(do, "Square the servo arms first") || strings.Contains(do, "µs") {
		t.Error(do)
	}
	m := rigtest.Parse(t, data)
	square(t, r, m)
	relieves(t, r, m)
}

// Servos whose arms are square fight where a link is unlike the others, and the sub-trims
// that the finding names end it at neutral.
func TestFightsAndTheirRelief(t *testing.T) {
	m := rigtest.Parse(t, rigtest.Read(t, "../../examples/demo/testdata/fourservos.json"))
	square(t, rigtest.Build(t, rigtest.Read(t, "../../examples/demo/testdata/fourservos.json")), m)
	leg := &m.Plate.Legs[2]
	u := leg.Upright
	spec, err := swash.Upright(swash.Ball{Bearing: u.Bearing, Radius: u.BallRadius, Offset: u.Offset}, m.Plate.NeutralHeight, u.Arm, u.Link, u.Points)
	if err != nil {
		t.Fatal(err)
	}
	arm := spec.Arm
	leg.Upright = nil
	leg.Spatial = &machine.Spatial{Bearing: u.Bearing, BallRadius: u.BallRadius, Offset: u.Offset,
		Shaft: arm.Shaft, Axis: arm.Axis, Neutral: arm.Neutral, Arm: u.Arm, Link: u.Link + units.Millimetre}
	r, err := setup.Build(m)
	if err != nil {
		t.Fatal(err)
	}
	square(t, r, m)
	if r, err = setup.Build(m); err != nil {
		t.Fatal(err)
	}
	do := fightAdvice(t, r)
	for i := range m.Plate.Legs {
		leg := &m.Plate.Legs[i]
		_, rest, ok := strings.Cut(do, leg.Name+" ")
		if !ok {
			t.Fatalf("%q does not speak of %s", do, leg.Name)
		}
		trim := rest[:strings.IndexAny(rest, ",.")]
		if err := leg.Servo.SubTrim.UnmarshalText([]byte(trim)); err != nil {
			t.Fatal(err)
		}
	}
	relieves(t, r, m)
	// They are not taken back: nothing asks for square arms again.
	relieved, err := setup.Build(m)
	if err != nil {
		t.Fatal(err)
	}
	if do := fightAdvice(t, relieved); !strings.HasPrefix(do, "Leave the sub-trims") {
		t.Error(do)
	}
}

// fightAdvice returns what the finding of a fight says to do.
func fightAdvice(t *testing.T, r *setup.Rig) string {
	t.Helper()
	s, err := sheet.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range s.Findings {
		if f.Kind == sheet.ServosFight {
			return f.Do
		}
	}
	t.Fatalf("no finding: %+v", s.Findings)
	return ""
}

// square sets the sub-trims of a machine as its sheet says for neutral.
func square(t *testing.T, r *setup.Rig, m *machine.Machine) {
	t.Helper()
	s, err := sheet.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	for i, servo := range s.Neutral.Servos {
		if servo.Teeth != 0 {
			t.Fatalf("%+v", servo)
		}
		m.Plate.Legs[i].Servo.SubTrim = servo.SubTrim
	}
}

// relieves checks that the machine, changed as advised, has little of the rig's strain left at neutral.
func relieves(t *testing.T, r *setup.Rig, m *machine.Machine) {
	t.Helper()
	before := neutralFight(t, r)
	if before.Strain == 0 || before.Force == 0 || before.Torque == 0 {
		t.Errorf("at neutral %+v", before)
	}
	relieved, err := setup.Build(m)
	if err != nil {
		t.Fatal(err)
	}
	after := neutralFight(t, relieved)
	// Whole pulse steps leave up to half a step on each arm.
	if math.Abs(after.Strain.Millimetres()) > 0.02 || math.Abs(float64(after.Strain)) > math.Abs(float64(before.Strain))/4 {
		t.Errorf("strain %v before, %v after", before.Strain, after.Strain)
	}
}

// neutralFight returns the worst fight with collective and cyclic at zero.
func neutralFight(t *testing.T, r *setup.Rig) swash.Fight {
	t.Helper()
	state := r.Head().Control.NewState()
	pose, err := r.Head().Control.Pose(state, swash.Demand{})
	if err != nil {
		t.Fatal(err)
	}
	fights := make([]swash.Fight, len(state.Arms))
	if err := r.Head().Control.Mechanism().(*swash.Plate).Fights(fights, pose, state.Arms); err != nil {
		t.Fatal(err)
	}
	worst := fights[0]
	for _, f := range fights {
		if math.Abs(float64(f.Strain)) > math.Abs(float64(worst.Strain)) {
			worst = f
		}
	}
	return worst
}

// A flybar's mixing arm scales the plate's share of the pitch link's travel:
// the machine with it needs other rates for the same targets.
func TestFlybarMachine(t *testing.T) {
	r := rigtest.Build(t, rigtest.Read(t, "../../examples/demo/testdata/flybar.json"))
	plate, bar := r.Head().Grip.Spec().Mixer.Shares()
	if math.Abs(plate-0.75*16/14) > 1e-12 || math.Abs(bar-0.25) > 1e-12 {
		t.Errorf("shares %v and %v", plate, bar)
	}
	var grip *pitch.Grip = r.Head().Grip
	e, err := grip.Effect(0, r.Head().Control.Mechanism().Neutral())
	if err != nil || e.PerTeeter <= 0 {
		t.Errorf("teeter moves the blade by %v rad/rad, %v", e.PerTeeter, err)
	}
}
