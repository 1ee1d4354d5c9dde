package setup

import (
	"errors"
	"math"
	"os"
	"testing"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// What the plate reports is what the solver reports: it does not go on with a pose
// that there is not.
func TestRevolutionReportsThePlate(t *testing.T) {
	data, err := os.ReadFile("../internal/rigtest/testdata/full.json")
	if err != nil {
		t.Fatal(err)
	}
	m, err := machine.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Build(m)
	if err != nil {
		t.Fatal(err)
	}
	s, err := r.newSolver()
	if err != nil {
		t.Fatal(err)
	}
	var input *units.FieldError
	if _, err := s.revolution(swash.Demand{Right: math.NaN()}); !errors.As(err, &input) {
		t.Errorf("NaN: %v", err)
	}
	// Servos that turn as far as one asks lead where no link reaches.
	for i, v := range s.head.Control.Servos() {
		v.Min, v.Max = 1e-9, 1
		if s.head.Control, err = s.head.Control.WithServo(i, v); err != nil {
			t.Fatal(err)
		}
	}
	far := swash.Demand{Collective: 3}
	_, want := s.head.Control.Pose(s.state, far)
	if want == nil || s.state.Limited() != nil {
		t.Fatalf("the plate reports %v, the pulse limits %v", want, s.state.Limited())
	}
	if _, err := s.revolution(far); err == nil || err.Error() != want.Error() {
		t.Errorf("%v, want %v", err, want)
	}
	if _, err := s.cyclic("right", 1*units.Degree, 3, swash.Demand{Right: 1}); err == nil || err.Error() != want.Error() {
		t.Errorf("cyclic: %v, want %v", err, want)
	}
}
