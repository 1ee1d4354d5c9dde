package load_test

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// The machine's own rotor, blade, air and drive are those that its file says.
func TestBuiltFromFile(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		warm := rotor.Celsius(30)
		m.Field.Temperature = &warm
		m.Rotor.Damper, m.Rotor.Taper, m.Rotor.Twist = 2*units.NewtonMetre, 1.2, -3*units.Degree
	})
	spec := r.Rotor().Spec()
	want := rotor.Spec{Blades: 2, Radius: 620 * units.Millimetre, Cutout: 100 * units.Millimetre, Chord: 54 * units.Millimetre,
		Taper: 1.2, Twist: -3 * units.Degree, Axis: 0.25, Section: rotor.NACA0015()}
	if diff := cmp.Diff(want, spec); diff != "" {
		t.Error(diff)
	}
	solid, err := rotor.SymmetricBlade(120*units.Gram, 54*units.Millimetre, 0.12, 0.25)
	if err != nil {
		t.Fatal(err)
	}
	if b := r.Blade(); b.Chordwise != 230*units.GramSquareCentimetre || b.Thickness != solid.Thickness || b.Spring != 2 {
		t.Errorf("blade %+v", b)
	}
	if b := rigtest.Build(t, bytes.Replace(rigtest.Read(t, rigtest.Demos+"direct.json"), []byte(`"chordwise_inertia": "230 g·cm²",`), nil, 1)).Blade(); b != solid {
		t.Errorf("without inertia: %+v, want %+v", b, solid)
	}
	air, err := rotor.StandardAir(150 * units.Metre)
	if err != nil {
		t.Fatal(err)
	}
	if warm, err := air.WithTemperature(rotor.Celsius(30)); err != nil || r.Air() != warm {
		t.Errorf("air %+v, want %+v (%v)", r.Air(), warm, err)
	}
	if spin := demoSpin(t, r); spin.At.Density != r.Air().Density || spin.At.Speed != *r.Machine().Modes[0].RotorSpeed {
		t.Errorf("the rotor turns at %+v, in air of %v kg/m³", spin.At, r.Air().Density)
	}
	drive, err := r.PowerTrain(0.5)
	source, _ := rotor.Battery{Cells: 6, Cell: rotor.LithiumPolymer(), Resistance: 14 * units.Milliohm}.At(0.5)
	electric := rotor.Electric{
		Source: source,
		Motor:  rotor.Motor{SpeedConstant: 1020 * units.RevolutionPerMinute, Resistance: 22 * units.Milliohm, NoLoad: 2.5},
		Gear:   rotor.Gear{Ratio: 9.5, Efficiency: 0.85},
	}
	if diff := cmp.Diff(rotor.PowerTrain(electric), drive); diff != "" || err != nil {
		t.Error(diff, err)
	}
	if _, err := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"bellcranks.json")).PowerTrain(1); err == nil {
		t.Error("a machine without power has a drive")
	}
	own := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
		m.Power.Battery.Cell = []machine.CellPoint{{Charge: 0, Voltage: 3}, {Charge: 1, Voltage: 4}}
		m.Power.Battery.Cells = 10
	})
	if drive, err := own.PowerTrain(0.5); err != nil || math.Abs(float64(drive.(rotor.Electric).Source.Voltage)-35) > 1e-9 {
		t.Errorf("own cells at half charge: %+v, %v; want 35 V", drive, err)
	}
	engine := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"flybar.json"))
	if drive, err := engine.PowerTrain(0.2); err != nil {
		t.Error(err)
	} else if op, err := drive.Hold(1500*units.RevolutionPerMinute, 2); err != nil || op.MotorCurrent != 0 || op.Speed.RPM() < 13000 {
		t.Errorf("engine: %+v, %v", op, err)
	}
}

// Hover is where the rotor carries the weight: the thrust is that of the mass at
// standard gravity, at the stick that the sheet names.
func TestHover(t *testing.T) {
	r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), rigtest.Stepless)
	m := turning(r, demoSpin(t, r))
	drive, err := r.PowerTrain(1)
	if err != nil {
		t.Fatal(err)
	}
	h, err := m.Hover(3.1*units.Kilogram, drive)
	if err != nil || !h.Reached || h.Short != nil || h.Unsolved != nil {
		t.Fatalf("%+v, %v", h, err)
	}
	row, err := m.Setup.Row(float64(h.Stick))
	if err != nil || math.Abs((row.Gauge-h.Pitch).Degrees()) > 1e-6 {
		t.Errorf("at stick %v the gauge reads %v, hover takes %v (%v)", h.Stick, row.Gauge, h.Pitch, err)
	}
	if weight := 3.1 * 9.80665; math.Abs(float64(h.Loads.Thrust)/weight-1) > 1e-9 {
		t.Errorf("a thrust of %v, the weight is %v N", h.Loads.Thrust, weight)
	}
	said, err := sheet.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	loads := said.Modes[0].Loads
	if math.Abs(float64(loads.Hover.Stick-h.Stick)) > 1e-6 || math.Abs(float64(loads.Hover.Full.Throttle-h.Operation.Throttle)) > 1e-6 {
		t.Errorf("the sheet has %+v, want %+v", loads.Hover, h)
	}
	if _, err := m.Hover(1000*units.Kilogram, drive); err == nil {
		t.Error("a tonne hovers")
	}
}

// A speed that cannot be held is answered by the best one that can: full throttle.
func TestHoldBest(t *testing.T) {
	r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json"))
	spin := demoSpin(t, r)
	spin.At.Speed = 2600 * units.RevolutionPerMinute
	drive, err := r.PowerTrain(0.2)
	if err != nil {
		t.Fatal(err)
	}
	h := spin.Hold(drive, 9*units.Degree)
	if h.Short == nil || h.Short.Wanted != spin.At.Speed || h.Unsolved != nil || h.Speed >= spin.At.Speed || h.Operation.Throttle < 0.999 {
		t.Errorf("%+v", h)
	}
	if h := spin.Hold(drive, math.Pi); h.Unsolved == nil {
		t.Errorf("a pitch of half a turn: %+v", h)
	}
}

// The service of servos follows from their duty: part of stall, time of the stroke
// and what is lost, by the rating's own laws.
func TestService(t *testing.T) {
	const rounding = 1e-12
	r := rigtest.Build(t, rigtest.Read(t, rigtest.Demos+"direct.json"))
	d, err := turning(r, demoSpin(t, r)).Demand()
	if err != nil {
		t.Fatal(err)
	}
	rating := r.Servos()[0].Type.Rating.Servo()
	ratings := []servo.Rating{rating, rating, rating}
	s, err := d.Performance(ratings, 7.4)
	if err != nil {
		t.Fatal(err)
	}
	at, _ := rating.At(7.4)
	for i, one := range s.Servos {
		stroke, err := rating.StrokeTime(at, d.Turns[i], d.Peaks[i].Peak)
		if err != nil || one.Stroke != stroke || one.At != at || one.Unrated != nil || one.Stalled != nil {
			t.Errorf("%+v, want a stroke of %v (%v)", one, stroke, err)
		}
		if want := float64(d.Peaks[i].Peak / at.Stall); math.Abs(float64(one.Load)-want) > rounding {
			t.Errorf("load %v, want %v", one.Load, want)
		}
	}
	// Half a deadband of 2 µs is 1 µs: as much as one step of this radio.
	if math.Abs(float64(s.Deadband/d.Step)-1) > 1e-9 || !(s.Lost.Blade < -s.Deadband) {
		t.Errorf("deadband %v, step %v, lost %+v", s.Deadband, d.Step, s.Lost)
	}
	for i := range ratings {
		ratings[i].Points = []servo.RatingPoint{{Voltage: 6, Stall: d.High[i].Mean / 2, Speed: 10}}
	}
	if s, err = d.Performance(ratings, 5); err != nil || s.Dropped == nil || s.Servos[0].Stalled == nil || s.Servos[0].Unrated == nil || s.Servos[0].Unrated.Beyond != -1 {
		t.Errorf("%+v, %v", s, err)
	}
	ratings[1].FullTorqueAt = units.Angle(math.NaN())
	var field *units.FieldError
	if _, err := d.Performance(ratings, 6); !errors.As(err, &field) {
		t.Errorf("a rating that is no number: %v", err)
	}
	if _, err := d.Performance(ratings[:2], 5); err == nil {
		t.Error("two ratings for three servos were taken")
	}
}

// Hover is found on curves that stand level or turn, at the highest stick that gives it.
func TestHoverOnTurningCurve(t *testing.T) {
	for _, c := range []struct{ low, middle float64 }{{-1, 0.6}, {1, -1}} {
		r := rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"direct.json"), func(m *machine.Machine) {
			rigtest.Stepless(m)
			m.Modes[0].Pitch.Points = [][2]units.Ratio{{0, units.Ratio(c.low)}, {0.4, units.Ratio(c.middle)}, {0.6, units.Ratio(c.middle)}, {1, 1}}
		})
		m := turning(r, demoSpin(t, r))
		drive, err := r.PowerTrain(1)
		if err != nil {
			t.Fatal(err)
		}
		h, err := m.Hover(*r.Machine().Mass, drive)
		if err != nil || !h.Reached {
			t.Fatalf("%+v: %+v, %v", c, h, err)
		}
		row, err := m.Setup.Row(float64(h.Stick))
		if err != nil || math.Abs((row.Gauge-h.Pitch).Degrees()) > 1e-6 || (h.Stick > 0.5) != (c.middle < 0) {
			t.Errorf("%+v: stick %v gives %v, hover takes %v (%v)", c, h.Stick, row.Gauge, h.Pitch, err)
		}
	}
}

// An engine whose power curve does not go so low is the worst of shortfalls, and gearing
// or cells are not its cure.
func TestEngineOffItsCurve(t *testing.T) {
	s, err := sheet.Of(rigtest.Rig(t, rigtest.Read(t, rigtest.Demos+"flybar.json"), func(m *machine.Machine) {
		*m.Modes[0].RotorSpeed = 700 * units.RevolutionPerMinute
	}))
	if err != nil {
		t.Fatal(err)
	}
	all := slices.DeleteFunc(s.Findings, func(f sheet.Finding) bool { return f.Kind != sheet.RotorSpeedNotHeld })
	if len(all) == 0 || !strings.Contains(all[0].Figure, "off the power curve") || !strings.Contains(all[0].Do, "engine turns where it has more power") {
		t.Errorf("%+v", all)
	}
}
