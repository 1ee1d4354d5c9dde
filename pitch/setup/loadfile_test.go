package setup_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// Faults in what a file says of loads name the field's path and line.
func TestRefusesLoads(t *testing.T) {
	const direct, paddle = "direct.json", "flybar.json"
	for _, c := range []struct{ file, old, new, path, says string }{
		{direct, `"servo_voltage": "7.4 V",`, ``, "servo_voltage", "missing"},
		{direct, `"servo_voltage": "7.4 V"`, `"servo_voltage": "0 V"`, "servo_voltage", "must be from"},
		{direct, `{"voltage": "6 V", "stall"`, `{"voltage": "9 V", "stall"`, "servos.bench digital.rating.points[1]", "higher voltage than the point before"},
		{direct, `"stall": "8.2 kgf·cm"`, `"stall": "0 kgf·cm"`, "servos.bench digital.rating.points[0].stall", "must be from"},
		{direct, `"deadband": "2 µs"`, `"deadband": "-2 µs"`, "servos.bench digital.rating.deadband", "must be from"},
		{direct, `"full_torque_at": "3°"`, `"full_torque_at": "0°"`, "servos.bench digital.rating.full_torque_at", "must be from"},
		{direct, `"full_torque_at": "3°"`, `"full_torque_at": "91°"`, "servos.bench digital.rating.full_torque_at", "must be from"},
		{direct, `"frame": "4 ms"`, `"frame": "0 ms"`, "servos.bench digital.rating.frame", "must be from"},
		{direct, `"blades": 2`, `"blades": 0`, "rotor.blades", "from 1 to 12"},
		{direct, `"radius": "620 mm"`, `"radius": "0 mm"`, "rotor.radius", "must be"},
		{direct, `"root": "100 mm"`, `"root": "600 mm"`, "rotor.root", "must be"},
		{direct, `"chord": "54 mm"`, `"chord": "540 mm"`, "rotor.chord", "must be"},
		{direct, `"chord": "54 mm"`, `"chord": "54 mm", "taper": "-1:1"`, "rotor.taper", "must be"},
		{direct, `"chord": "54 mm"`, `"chord": "54 mm", "twist": "40°"`, "rotor.twist", "must be"},
		{direct, `"feathering_axis": "25 %"`, `"feathering_axis": "0 %"`, "rotor.feathering_axis", "above zero"},
		{direct, `"feathering_axis": "25 %"`, `"feathering_axis": "120 %"`, "rotor.feathering_axis", "must be"},
		{direct, `"blade_mass": "120 g"`, `"blade_mass": "-120 g"`, "rotor.blade_mass", "must be"},
		{direct, `"blade_mass": "120 g"`, `"blade_mass": "0 g"`, "rotor.blade_mass", "must be from"},
		{direct, `"chordwise_inertia": "230 g·cm²"`, `"chordwise_inertia": "2 g·cm²"`, "rotor.chordwise_inertia", "must be between"},
		{direct, `"chordwise_inertia": "230 g·cm²"`, `"chordwise_inertia": "0.23 kg·m²"`, "rotor.chordwise_inertia", "must be between"},
		{direct, `"cells": 6`, `"cells": 6, "cell": [{"charge": "0 %", "voltage": "3 V"}, {"charge": "90 %", "voltage": "4 V"}]`, "power.battery.cell", "charge must be from 0 to 0.9, not 1"},
		{direct, `"thickness": "12 %"`, `"thickness": "120 %"`, "rotor.thickness", "must be"},
		{direct, `"chordwise_inertia": "230 g·cm²"`, `"chordwise_inertia": "-230 g·cm²"`, "rotor.chordwise_inertia", "must be"},
		{direct, `"max_speed": "2400 rpm"`, `"damper": "-1 N·m"`, "rotor.damper", "must be"},
		{direct, `"max_speed": "2400 rpm"`, `"max_speed": "0 rpm"`, "rotor.max_speed", "must be from"},
		{direct, `"max_speed": "2400 rpm"`, `"section": {"lift_slope": 0, "stall_lift": 1, "drag": 0.01, "drag_rise": 1}`, "rotor.section.lift_slope", "must be"},
		{direct, `"ratio": "9.5:1"`, `"ratio": "0:1"`, "power.gear.ratio", "must be"},
		{direct, `"efficiency": "85 %"`, `"efficiency": "185 %"`, "power.gear.efficiency", "must be"},
		{direct, `"speed_per_volt": "1020 rpm"`, `"speed_per_volt": "0 rpm"`, "power.motor.speed_per_volt", "must be"},
		{direct, `"resistance": "22 mΩ"`, `"resistance": "-22 mΩ"`, "power.motor.resistance", "must be"},
		{direct, `"no_load": "2.5 A"`, `"no_load": "-2.5 A"`, "power.motor.no_load", "must be"},
		{direct, `"max_current": "95 A"`, `"max_current": "0 A"`, "power.motor.max_current", "must be from"},
		{direct, `"max_current": "150 A"`, `"max_current": "0 A"`, "power.battery.max_current", "must be from"},
		{direct, `"cells": 6`, `"cells": 0`, "power.battery.cells", "must be"},
		{direct, `"cells": 6`, `"cells": 6, "cell": [{"charge": "0 %", "voltage": "3 V"}, {"charge": "-1 %", "voltage": "4 V"}]`, "power.battery.cell[1].charge", "must be from"},
		{direct, `"cells": 6`, `"cells": 6, "cell": [{"charge": "0 %", "voltage": "4 V"}, {"charge": "100 %", "voltage": "3.9 V"}]`, "power.battery.cell[1]", "must be"},
		{direct, `"land_at": "20 %"`, `"land_at": "120 %"`, "power.battery.land_at", "must be"},
		{direct, `"battery": {"cells": 6, "resistance": "14 mΩ", "land_at": "20 %", "max_current": "150 A"}`, `"engine": []`, "power", "or engine"},
		{paddle, `{"speed": "12000 rpm", "power": "0.95 kW"}`, `{"speed": "8000 rpm", "power": "0.95 kW"}`, "power.engine[1]", "must be"},
		{paddle, `"engine": [`, `"motor": {"speed_per_volt": "1020 rpm", "resistance": "22 mΩ", "no_load": "2.5 A"}, "engine": [`, "power", "or engine"},
		{direct, `"mass": "3100 g"`, `"mass": "0 g"`, "mass", "must be from"},
		{direct, `"mass": "3100 g"`, `"mass": "3100 g", "class": "F1"`, "class", "write \"F3C\""},
		{direct, `"height": "150 m"`, `"height": "150000 m"`, "field.height", "must be"},
		{direct, `"height": "150 m"`, `"height": "150 m", "temperature": "20"`, "field.temperature", "°C"},
		{direct, `"height": "150 m"`, `"height": "150 m", "temperature": "500 °C"`, "field.temperature", "must be"},
		{direct, `"rotor_speed": "1700 rpm"`, `"rotor_speed": "-1 rpm"`, "modes[0].rotor_speed", "must be from"},
		{direct, `"rotor_speed": "1700 rpm"`, `"rotor_speed": "0.5 rpm"`, "modes[0].rotor_speed", "must be"},
		{"bellcranks.json", `"throttle_hold"`, `"rotor_speed": "1500 rpm", "throttle_hold"`, "modes[0].rotor_speed", "needs a rotor"},
		{"bellcranks.json", `"modes"`, `"power": {"gear": {"ratio": "9:1", "efficiency": "85 %"}}, "modes"`, "power", "needs a rotor"},
		{direct, `"mass": "3100 g"`, `"mass": "3100 g", "limits": {"tip_speed": "-1 m/s"}`, "limits.tip_speed", "must be from"},
	} {
		data := read(t, demos+c.file)
		if !bytes.Contains(data, []byte(c.old)) {
			t.Fatalf("%s: no %q", c.file, c.old)
		}
		_, err := setup.Parse(bytes.Replace(data, []byte(c.old), []byte(c.new), 1))
		var f *setup.FieldError
		if !errors.As(err, &f) || f.Path != c.path || f.Line == 0 || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want path %q and %q", c.new, err, c.path, c.says)
		}
	}
}

// Limits that a file does not give are the default ones.
func TestLimitsGivenInPart(t *testing.T) {
	data := bytes.Replace(read(t, demos+"direct.json"), []byte(`"mass"`), []byte(`"limits": {"tilt": "1°", "tip_speed": "100 m/s"}, "mass"`), 1)
	want := setup.DefaultLimits()
	want.Tilt, want.TipSpeed = 1*units.Degree, 100
	if got := build(t, data).Limits; got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// What is read, written and read again is the same machine, loads and all.
func TestRoundTripOfLoads(t *testing.T) {
	for _, name := range []string{"direct.json", "flybar.json"} {
		m := parse(t, read(t, demos+name))
		data, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(m, parse(t, data), cmpopts.IgnoreUnexported(setup.Machine{})); diff != "" {
			t.Error(diff)
		}
	}
}

// The machine's own rotor, blade, air and drive are those that its file says.
func TestBuiltFromFile(t *testing.T) {
	r := rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
		warm := rotor.Celsius(30)
		m.Field.Temperature = &warm
		m.Rotor.Damper, m.Rotor.Taper, m.Rotor.Twist = 2*units.NewtonMetre, 1.2, -3*units.Degree
	})
	spec := r.Rotor.Spec()
	want := rotor.Spec{Blades: 2, Radius: 620 * units.Millimetre, Cutout: 100 * units.Millimetre, Chord: 54 * units.Millimetre,
		Taper: 1.2, Twist: -3 * units.Degree, Axis: 0.25, Section: rotor.NACA0015()}
	if diff := cmp.Diff(want, spec); diff != "" {
		t.Error(diff)
	}
	solid, err := rotor.SymmetricBlade(120*units.Gram, 54*units.Millimetre, 0.12, 0.25)
	if err != nil {
		t.Fatal(err)
	}
	if b := r.Blade; b.Chordwise != 230*units.GramSquareCentimetre || b.Thickness != solid.Thickness || b.Spring != 2 {
		t.Errorf("blade %+v", b)
	}
	if b := build(t, bytes.Replace(read(t, demos+"direct.json"), []byte(`"chordwise_inertia": "230 g·cm²",`), nil, 1)).Blade; b != solid {
		t.Errorf("without inertia: %+v, want %+v", b, solid)
	}
	air, err := rotor.StandardAir(150 * units.Metre)
	if err != nil {
		t.Fatal(err)
	}
	if warm, err := air.WithTemperature(rotor.Celsius(30)); err != nil || r.Air != warm {
		t.Errorf("air %+v, want %+v (%v)", r.Air, warm, err)
	}
	if spin := demoSpin(t, r); spin.At.Density != r.Air.Density || spin.At.Speed != *r.Machine.Modes[0].RotorSpeed {
		t.Errorf("the rotor turns at %+v, in air of %v kg/m³", spin.At, r.Air.Density)
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
	if _, err := build(t, read(t, demos+"bellcranks.json")).PowerTrain(1); err == nil {
		t.Error("a machine without power has a drive")
	}
	own := rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
		m.Power.Battery.Cell = []setup.CellPoint{{Charge: 0, Voltage: 3}, {Charge: 1, Voltage: 4}}
		m.Power.Battery.Cells = 10
	})
	if drive, err := own.PowerTrain(0.5); err != nil || math.Abs(float64(drive.(rotor.Electric).Source.Voltage)-35) > 1e-9 {
		t.Errorf("own cells at half charge: %+v, %v; want 35 V", drive, err)
	}
	engine := build(t, read(t, demos+"flybar.json"))
	if drive, err := engine.PowerTrain(0.2); err != nil {
		t.Error(err)
	} else if op, err := drive.Hold(1500*units.RevolutionPerMinute, 2); err != nil || op.MotorCurrent != 0 || op.Speed.RPM() < 13000 {
		t.Errorf("engine: %+v, %v", op, err)
	}
}

// Each limit of loads is found when it is passed, in the mode that passes it, and not
// before.
func TestLoadFindings(t *testing.T) {
	rate := func(edit func(*setup.Rating)) func(*setup.Machine) {
		return func(m *setup.Machine) {
			kind := m.Servos["bench digital"]
			rating := *kind.Rating
			edit(&rating)
			kind.Rating = &rating
			m.Servos["bench digital"] = kind
		}
	}
	stall := func(t units.Torque) func(*setup.Machine) {
		return rate(func(r *setup.Rating) {
			r.Points = []setup.RatingPoint{{Voltage: 7.4, Stall: t, Speed: units.TransitSpeed(0.08)}}
		})
	}
	limits := func(edit func(*setup.Limits)) func(*setup.Machine) {
		return func(m *setup.Machine) { l := setup.DefaultLimits(); edit(&l); m.Limits = &l }
	}
	speed := func(rpm units.AngularSpeed) func(*setup.Machine) {
		return func(m *setup.Machine) { s := rpm * units.RevolutionPerMinute; m.Modes[0].RotorSpeed = &s }
	}
	plain := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), hover)).Modes[0].Loads
	peak, stroke := plain.Servos[0].Peak.Peak, *plain.Servos[0].Stroke
	for _, s := range plain.Servos {
		peak, stroke = max(peak, s.Peak.Peak), max(stroke, *s.Stroke)
	}
	motor := plain.Held[len(plain.Held)-1].Full.Motor
	battery := plain.Held[len(plain.Held)-1].Landing.Battery
	const near = 1 + 1e-4 // sheets are rounded
	const weak, slow, unrated = "Servo too weak", "Servo too slow", "Servo voltage not rated"
	const held, blades, tips, current = "Rotor speed cannot be held", "Rotor speed above the blades' limit", "Blade tips too fast", "Current above the rating"
	for _, c := range []struct {
		name     string
		edit     func(*setup.Machine)
		what     string
		severity setup.Severity
		count    int // of findings; 0 is none
		contains []string
	}{
		{"strong enough", stall(2 * peak * near), weak, setup.Fix, 0, nil},
		{"too weak", stall(2 * peak / near * 0.99), weak, setup.Fix, 3, []string{"our limit 50 %; the maker's manual decides", "stronger servo"}},
		{"stalls", stall(peak * 0.9), weak, setup.Fix, 3, []string{"the servo stalls"}},
		{"fast enough", limits(func(l *setup.Limits) { l.Stroke = stroke * near }), slow, setup.Fix, 0, nil},
		{"too slow", limits(func(l *setup.Limits) { l.Stroke = stroke * 0.5 }), slow, setup.Fix, 3, []string{"full collective stick"}},
		{"rated voltage", func(m *setup.Machine) { *m.ServoVoltage = 8.4 }, unrated, setup.Fix, 0, nil},
		{"too much voltage", func(m *setup.Machine) { *m.ServoVoltage = 9 }, unrated, setup.Fix, 1, []string{"0.6 V above", "Never run"}},
		{"full battery", speed(2400), held, setup.Fix, 1, []string{"full battery", "not 2400 rpm"}},
		{"landing", speed(2150), held, setup.Fix, 1, []string{"battery at 20 %", "not 2150 rpm"}},
		{"holds", speed(1700), held, setup.Fix, 0, nil},
		{"at the blades' limit", speed(2400), blades, setup.Stop, 0, nil},
		{"above it", speed(2401), blades, setup.Stop, 1, []string{"2401 rpm", "2400 rpm"}},
		{"blade tips", limits(func(l *setup.Limits) { l.TipSpeed = plain.TipSpeed * near }), tips, setup.Fix, 0, nil},
		{"blade tips too fast", limits(func(l *setup.Limits) { l.TipSpeed = plain.TipSpeed / near }), tips, setup.Fix, 1, []string{"m/s at 1700 rpm"}},
		{"motor", func(m *setup.Machine) { c := motor * near; m.Power.Motor.MaxCurrent = &c }, current, setup.Fix, 0, nil},
		{"motor overloaded", func(m *setup.Machine) { c := motor / near; m.Power.Motor.MaxCurrent = &c }, current, setup.Fix, 1, []string{"motor or controller", "stick 100 %"}},
		{"battery", func(m *setup.Machine) { c := battery * near; m.Power.Battery.MaxCurrent = &c }, current, setup.Fix, 0, nil},
		{"battery overloaded", func(m *setup.Machine) { c := battery / near; m.Power.Battery.MaxCurrent = &c }, current, setup.Fix, 1, []string{"battery: ", "stick 100 %"}},
		{"too heavy", func(m *setup.Machine) { *m.Mass = 100 }, "The rotor cannot carry the machine", setup.Fix, 1, []string{"out of reach"}},
		{"too heavy, without power", func(m *setup.Machine) { *m.Mass = 100; m.Power = nil }, "The rotor cannot carry the machine", setup.Fix, 1, nil},
		{"beyond the theory", wideThrow, "Loads not worked out everywhere", setup.Note, 1, []string{"% of the stick positions"}},
		{"hover off the curve", func(m *setup.Machine) { *m.Mass = 10 }, "No stick position hovers", setup.Fix, 1, []string{"hover takes"}},
	} {
		s := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
			hover(m)
			c.edit(m)
		}))
		all := found(s, c.what)
		if len(all) != c.count {
			t.Errorf("%s: %d of %q: %+v", c.name, len(all), c.what, s.Findings)
		}
		for _, f := range all {
			contains(t, f, c.contains...)
			if f.Severity != c.severity || f.Mode != "hover" && c.what != unrated {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
	}
	// An overspeed is found in a mode that cannot be worked out, too.
	s := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
		m.Modes = m.Modes[1:2]
		m.Modes[0].Targets.Cyclic = 60 * units.Degree
		*m.Modes[0].RotorSpeed = 2500 * units.RevolutionPerMinute
	}))
	if len(found(s, blades)) != 1 || s.Modes[0].Unmet == "" {
		t.Errorf("%+v", s.Findings)
	}
}

// A machine is held to its class: F3C's limits are those of the FAI's page, each
// passed by a hair.
func TestClassFindings(t *testing.T) {
	within := func(m *setup.Machine) {
		m.Class = setup.F3C
		*m.Mass = 6.5 * units.Kilogram
		m.Rotor.Radius = 892 * units.Millimetre // 249.97 dm²
		m.Power.Battery.Cells = 12              // 50.4 V
	}
	for _, c := range []struct {
		name, what string
		edit       func(*setup.Machine)
	}{
		{"within", "", func(*setup.Machine) {}},
		{"mass", "Mass above the class limit", func(m *setup.Machine) { *m.Mass = 6.51 * units.Kilogram }},
		{"disc", "Rotor disc above the class limit", func(m *setup.Machine) { m.Rotor.Radius = 893 * units.Millimetre }},
		{"cells", "Battery voltage above the class limit", func(m *setup.Machine) { m.Power.Battery.Cells = 13 }},
		{"unknown", "Class limits not all checked", func(m *setup.Machine) { m.Mass = nil }},
	} {
		s := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
			within(m)
			c.edit(m)
		}))
		var all []setup.Finding
		for _, f := range s.Findings {
			if f.Where == "F3C" {
				all = append(all, f)
			}
		}
		if c.what == "" && len(all) > 0 || c.what != "" && (len(all) != 1 || all[0].What != c.what) {
			t.Errorf("%s: %+v", c.name, all)
		}
	}
}

// Hover is where the rotor carries the weight: the thrust is that of the mass at
// standard gravity, at the stick that the sheet names.
func TestHover(t *testing.T) {
	r := rigOf(t, read(t, demos+"direct.json"), stepless)
	m := &r.Modes[0]
	spin := demoSpin(t, r)
	drive, err := r.PowerTrain(1)
	if err != nil {
		t.Fatal(err)
	}
	h, err := r.Hover(m, 3.1*units.Kilogram, &spin, drive)
	if err != nil || !h.Reached || h.Short != nil || h.Unsolved != nil {
		t.Fatalf("%+v, %v", h, err)
	}
	row, err := r.Row(m, float64(h.Stick))
	if err != nil || math.Abs((row.Gauge-h.Pitch).Degrees()) > 1e-6 {
		t.Errorf("at stick %v the gauge reads %v, hover takes %v (%v)", h.Stick, row.Gauge, h.Pitch, err)
	}
	if weight := 3.1 * 9.80665; math.Abs(float64(h.Loads.Thrust)/weight-1) > 1e-9 {
		t.Errorf("a thrust of %v, the weight is %v N", h.Loads.Thrust, weight)
	}
	loads := sheetOf(t, r).Modes[0].Loads
	if math.Abs(float64(loads.Hover.Stick-h.Stick)) > 1e-6 || math.Abs(float64(loads.Hover.Full.Throttle-h.Operation.Throttle)) > 1e-6 {
		t.Errorf("the sheet has %+v, want %+v", loads.Hover, h)
	}
	if _, err := r.Hover(m, 1000*units.Kilogram, &spin, drive); err == nil {
		t.Error("a tonne hovers")
	}
}

// A speed that cannot be held is answered by the best one that can: full throttle.
func TestHoldBest(t *testing.T) {
	r := build(t, read(t, demos+"direct.json"))
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
	r := build(t, read(t, demos+"direct.json"))
	spin := demoSpin(t, r)
	d, err := r.ServoDemand(&r.Modes[0], &spin)
	if err != nil {
		t.Fatal(err)
	}
	rating := r.Servos[0].Type.Rating.Servo()
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
		r := rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
			stepless(m)
			m.Modes[0].Pitch.Points = [][2]units.Ratio{{0, units.Ratio(c.low)}, {0.4, units.Ratio(c.middle)}, {0.6, units.Ratio(c.middle)}, {1, 1}}
		})
		spin := demoSpin(t, r)
		drive, err := r.PowerTrain(1)
		if err != nil {
			t.Fatal(err)
		}
		h, err := r.Hover(&r.Modes[0], *r.Machine.Mass, &spin, drive)
		if err != nil || !h.Reached {
			t.Fatalf("%+v: %+v, %v", c, h, err)
		}
		row, err := r.Row(&r.Modes[0], float64(h.Stick))
		if err != nil || math.Abs((row.Gauge-h.Pitch).Degrees()) > 1e-6 || (h.Stick > 0.5) != (c.middle < 0) {
			t.Errorf("%+v: stick %v gives %v, hover takes %v (%v)", c, h.Stick, row.Gauge, h.Pitch, err)
		}
	}
}

// An engine whose power curve does not go so low is the worst of shortfalls, and gearing
// or cells are not its cure.
func TestEngineOffItsCurve(t *testing.T) {
	s := sheetOf(t, rigOf(t, read(t, demos+"flybar.json"), func(m *setup.Machine) {
		*m.Modes[0].RotorSpeed = 700 * units.RevolutionPerMinute
	}))
	all := found(s, "Rotor speed cannot be held")
	if len(all) == 0 || !strings.Contains(all[0].Figure, "off the power curve") || !strings.Contains(all[0].Do, "engine turns where it has more power") {
		t.Errorf("%+v", all)
	}
}

// A rating on some of the servos is said to be missing on the others.
func TestServosNotAllRated(t *testing.T) {
	s := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
		other := m.Servos["bench digital"]
		other.Rating = nil
		m.Servos["other"] = other
		m.Plate.Legs[1].Servo.Type = "other"
	}))
	all := found(s, "Servos not all rated")
	if len(all) != 1 || all[0].Where != "right rear" || all[0].Severity != setup.Note {
		t.Errorf("%+v", all)
	}
	if all := found(sheetOf(t, build(t, read(t, demos+"direct.json"))), "Servos not all rated"); len(all) != 0 {
		t.Errorf("all rated: %+v", all)
	}
}

// With hold on there is no throttle to work out, and a stalled servo loses no pitch that
// could be told.
func TestSheetLeavesOut(t *testing.T) {
	s := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
		speed := 1800 * units.RevolutionPerMinute
		m.Modes[2].RotorSpeed = &speed
		*m.ServoVoltage = 7.4
	}))
	if l := s.Modes[2].Loads; l == nil || l.Held != nil || l.Hover != nil || len(l.Servos) != 3 || l.Lost == nil {
		t.Errorf("with hold on: %+v", l)
	}
	s = sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
		hover(m)
		m.Servos["bench digital"].Rating.Points = []setup.RatingPoint{{Voltage: 7.4, Stall: 0.01, Speed: 10}}
	}))
	if l := s.Modes[0].Loads; l.Lost != nil || l.Deadband == nil || l.Servos[0].Stroke != nil {
		t.Errorf("stalled: %+v", l)
	}
}

// The shortfall named is the largest: at high stick, where pitch is highest.
func TestWorstShortfall(t *testing.T) {
	s := sheetOf(t, rigOf(t, read(t, demos+"direct.json"), func(m *setup.Machine) {
		hover(m)
		m.Power.Battery.Cells = 1
	}))
	all := found(s, "Rotor speed cannot be held")
	if len(all) != 1 {
		t.Fatalf("%+v", all)
	}
	contains(t, all[0], "stick 100 %")
}
