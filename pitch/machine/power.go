package machine

import (
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

// Built returns the battery for package rotor.
func (b *Battery) Built() rotor.Battery {
	built := rotor.Battery{Cells: b.Cells, Cell: rotor.LithiumPolymer(), Resistance: b.Resistance}
	if b.Cell != nil {
		built.Cell = nil
		for _, p := range b.Cell {
			built.Cell = append(built.Cell, rotor.CellPoint(p))
		}
	}
	return built
}
