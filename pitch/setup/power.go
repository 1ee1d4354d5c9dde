package setup

import (
	"cmp"
	"errors"

	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

// Power is what turns the rotor: a motor with its battery, or an engine.
type Power struct {
	Gear    Gear          `json:"gear"`
	Motor   *Motor        `json:"motor,omitempty"`
	Battery *Battery      `json:"battery,omitempty"`
	Engine  []EnginePoint `json:"engine,omitempty"` // power at full throttle, by rising speed
}

// Gear is the main gear.
type Gear struct {
	Ratio units.Ratio `json:"ratio"` // turns of the motor or engine for one of the rotor, such as "9.5:1"
	// Efficiency is the share of the power that gets to the main rotor, the tail
	// rotor's share taken off.
	Efficiency units.Ratio `json:"efficiency"`
}

// Motor is an electric motor with its controller.
type Motor struct {
	SpeedPerVolt units.AngularSpeed `json:"speed_per_volt"` // without load
	Resistance   units.Resistance   `json:"resistance"`     // of winding, leads and controller
	NoLoad       units.Current      `json:"no_load"`        // taken when turning free
	// MaxCurrent is what motor and controller can both carry on and on.
	MaxCurrent *units.Current `json:"max_current,omitempty"`
}

// Battery is the flight battery.
type Battery struct {
	Cells      int              `json:"cells"` // in series
	Resistance units.Resistance `json:"resistance"`
	Cell       []CellPoint      `json:"cell,omitempty"` // nil is rotor.LithiumPolymer
	LandAt     units.Ratio      `json:"land_at"`        // charge at which the machine must be down
	MaxCurrent *units.Current   `json:"max_current,omitempty"`
}

// CellPoint is the voltage of a resting cell at a charge.
type CellPoint struct {
	Charge  units.Ratio   `json:"charge"`
	Voltage units.Voltage `json:"voltage"`
}

// EnginePoint is an engine's power at a speed.
type EnginePoint struct {
	Speed units.AngularSpeed `json:"speed"` // of the engine
	Power units.Power        `json:"power"`
}

// PowerTrain returns what turns the rotor, a battery at a charge. An engine knows no
// charge. The error is a *FieldError; the file must have power.
func (r *Rig) PowerTrain(charge units.Ratio) (rotor.PowerTrain, error) {
	m, p := r.Machine, r.Machine.Power
	if p == nil {
		return nil, m.fail("power", "missing field; give motor and battery, or engine")
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
			return nil, m.blamePower(err)
		}
		return engine, nil
	case !electric || p.Engine != nil:
		return nil, m.fail("power", "must have motor and battery, or engine alone")
	}
	battery, err := p.Battery.built().At(charge)
	if err != nil {
		return nil, m.blamePower(err)
	}
	train := rotor.Electric{
		Source: battery,
		Motor:  rotor.Motor{SpeedConstant: p.Motor.SpeedPerVolt, Resistance: p.Motor.Resistance, NoLoad: p.Motor.NoLoad},
		Gear:   gear,
	}
	// The power train is checked only as it holds a speed.
	var input *units.FieldError
	if _, err := train.Hold(100*units.RevolutionPerMinute, 0); errors.As(err, &input) {
		return nil, m.blamePower(err)
	}
	return train, nil
}

func (b *Battery) built() rotor.Battery {
	built := rotor.Battery{Cells: b.Cells, Cell: rotor.LithiumPolymer(), Resistance: b.Resistance}
	if b.Cell != nil {
		built.Cell = nil
		for _, p := range b.Cell {
			built.Cell = append(built.Cell, rotor.CellPoint(p))
		}
	}
	return built
}

// full is the charge of a full battery.
const full units.Ratio = 1

// checkPower refuses power that cannot be worked with.
func (r *Rig) checkPower() error {
	m, p := r.Machine, r.Machine.Power
	if mass := m.Mass; mass != nil && !(*mass > 0 && units.Finite(*mass)) {
		return m.fail("mass", "must be above zero, not %v", *mass)
	}
	if p == nil {
		return nil
	}
	if r.Rotor == nil {
		return m.fail("power", "needs a rotor to turn; give rotor too, or leave power out")
	}
	if _, err := r.PowerTrain(full); err != nil {
		return err
	}
	if p.Battery == nil {
		return nil
	}
	if _, err := p.Battery.built().At(p.Battery.LandAt); err != nil {
		return m.blame("power.battery.land_at", err)
	}
	for _, f := range []struct {
		path  string
		value *units.Current
	}{{"power.motor.max_current", p.Motor.MaxCurrent}, {"power.battery.max_current", p.Battery.MaxCurrent}} {
		if f.value != nil && !(*f.value > 0 && units.Finite(*f.value)) {
			return m.fail(f.path, "must be above zero, not %v", *f.value)
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
func (m *Machine) blamePower(err error) error {
	path, _ := fieldOf(powerFields, err)
	return m.blame(cmp.Or(path, "power"), err)
}
