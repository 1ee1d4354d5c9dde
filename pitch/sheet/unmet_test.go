package sheet_test

import (
	"errors"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

// A servo whose mount keeps the machine from standing at zero is named itself, and not the
// first target that is looked for.
func TestMountIsNamed(t *testing.T) {
	m := rigtest.Parse(t, rigtest.Read(t, rigtest.Demos+"direct.json"))
	m.Plate.Legs[1].Servo.Mount = 170 * units.Degree
	_, err := setup.Build(m)
	var field *machine.FieldError
	if !errors.As(err, &field) || field.Path != "plate.legs[1].servo.mount" || field.Line == 0 {
		t.Errorf("%v", err)
	}
	m = rigtest.Parse(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json"))
	m.Plate.BellCranks.Right.Servo.Mount = 100 * units.Degree
	if _, err = setup.Build(m); !errors.As(err, &field) || field.Path != "plate.bell_cranks.right.servo.mount" {
		t.Errorf("%v", err)
	}
}

// Whatever keeps targets from being met is a finding, and the rest of the machine is looked
// at: here a mid stick that no servo can get to, far from the others.
func TestUnmetIsAFinding(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		m.Modes = m.Modes[1:2]
		for i := range m.Modes[0].Targets.Collective {
			m.Modes[0].Targets.Collective[i].Pitch += 60 * units.Degree
		}
	})
	var field *machine.FieldError
	if err := r.Modes()[0].Unmet(); !errors.As(err, &field) || field.Line == 0 {
		t.Fatalf("%v", err)
	}
	if f := one(t, sheetOf(t, r), sheet.TargetOutOfReach); f.Figure == "" {
		t.Errorf("%+v", f)
	}
}
