package setup_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"example.org/levelhead/pitch/internal/rigtest"
	"example.org/levelhead/pitch/machine"
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
		data := rigtest.Read(t, rigtest.Demos+c.file)
		if !bytes.Contains(data, []byte(c.old)) {
			t.Fatalf("%s: no %q", c.file, c.old)
		}
		_, err := rigtest.Open(bytes.Replace(data, []byte(c.old), []byte(c.new), 1))
		var f *machine.FieldError
		if !errors.As(err, &f) || f.Path != c.path || f.Line == 0 || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want path %q and %q", c.new, err, c.path, c.says)
		}
	}
}
