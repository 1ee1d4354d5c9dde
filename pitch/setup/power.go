package setup

import (
	"cmp"
	"errors"

	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

// PowerTrain returns what turns the rotor, a battery at a charge. An engine knows no
// charge. The error is a *FieldError; the file must have power.
func (r *Rig) PowerTrain(charge units.Ratio) (rotor.PowerTrain, error) {
	if !r.built() {
		return nil, errNotBuilt
	}
	m, p := r.file, r.file.Power
	if p == nil {
		return nil, fail(m, "power", "missing field; give motor and battery, or engine")
	}
	gear := rotor.Gear(p.Gear)
	switch electric := p.Motor != nil && p.Battery != nil; {
	case p.Engine != nil && p.Motor == nil && p.Battery == nil:
		points := make([]rotor.EnginePoint, len(p.Engine))
		for i, point := range p.Engine {
			points[i] = rotor.EnginePoint(point)
		}
		engine, err := rotor.NewEngine(points, gear)
		if err != nil {
			return nil, blamePower(m, err)
		}
		return engine, nil
	case !electric || p.Engine != nil:
		return nil, fail(m, "power", "must have motor and battery, or engine alone")
	}
	battery, err := p.Battery.Built().At(charge)
	if err != nil {
		return nil, blamePower(m, err)
	}
	train := rotor.Electric{
		Source: battery,
		Motor:  rotor.Motor{SpeedConstant: p.Motor.SpeedPerVolt, Resistance: p.Motor.Resistance, NoLoad: p.Motor.NoLoad},
		Gear:   gear,
	}
	// The power train is checked only as it holds a speed.
	var input *units.FieldError
	if _, err := train.Hold(100*units.RevolutionPerMinute, 0); errors.As(err, &input) {
		return nil, blamePower(m, err)
	}
	return train, nil
}

// full is the charge of a full battery.
const full units.Ratio = 1

// checkPower refuses power that cannot be worked with.
func (r *Rig) checkPower() error {
	m, p := r.file, r.file.Power
	if mass := m.Mass; mass != nil && !(*mass > 0 && units.Finite(*mass)) {
		return fail(m, "mass", "must be above zero, not %v", *mass)
	}
	if p == nil {
		return nil
	}
	if r.rotor == nil {
		return fail(m, "power", "needs a rotor to turn; give rotor too, or leave power out")
	}
	if _, err := r.PowerTrain(full); err != nil {
		return err
	}
	if p.Battery == nil {
		return nil
	}
	if _, err := p.Battery.Built().At(p.Battery.LandAt); err != nil {
		return blame(m, "power.battery.land_at", err)
	}
	for _, f := range []struct {
		path  string
		value *units.Current
	}{{"power.motor.max_current", p.Motor.MaxCurrent}, {"power.battery.max_current", p.Battery.MaxCurrent}} {
		if f.value != nil && !(*f.value > 0 && units.Finite(*f.value)) {
			return fail(m, f.path, "must be above zero, not %v", *f.value)
		}
	}
	return nil
}

// powerFields are the fields of the power by those of what package rotor is given.
var powerFields = units.FieldNames{
	"Gear": "power.gear", "Gear.Ratio": "power.gear.ratio", "Gear.Efficiency": "power.gear.efficiency",
	"gear": "power.gear", "gear.Ratio": "power.gear.ratio", "gear.Efficiency": "power.gear.efficiency",
	"Source": "power.battery",
	"Motor":  "power.motor", "Motor.SpeedConstant": "power.motor.speed_per_volt", "Motor.Resistance": "power.motor.resistance", "Motor.NoLoad": "power.motor.no_load",
	"Cells": "power.battery.cells", "Resistance": "power.battery.resistance", "Cell": "power.battery.cell", "Cell[]": "power.battery.cell[%d]",
	"charge": "power.battery.cell", // its points do not go that far
	"curve":  "power.engine", "curve[]": "power.engine[%d]",
}

// blamePower finds the field of the power that an error speaks of.
func blamePower(m *machine.Machine, err error) error {
	path, _ := words.Field(powerFields, err)
	return blame(m, cmp.Or(path, "power"), err)
}
