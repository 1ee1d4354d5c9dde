package sheet

import (
	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// SheetLoads is, for a mode with a rotor speed, what it takes to hold that speed and
// to hold the blades.
type Loads struct {
	Speed    units.AngularSpeed `json:"rotor_speed"`
	TipSpeed units.Velocity     `json:"tip_speed"`
	Held     []Held             `json:"throttle_table,omitempty"` // over the collective stick; none without power, or with hold on
	Hover    *Held              `json:"hover,omitempty"`          // nil without mass and power, or with hold on
	NoHover  string             `json:"no_hover,omitempty"`       // why the rotor cannot carry the mass
	Servos   []LoadedServo      `json:"servos"`
	Missed   units.Ratio        `json:"missed,omitempty"` // the part of the sticks' positions where no load could be worked out
	// At high stick, as in ServoDemand and Performance.
	PulseStep units.Angle  `json:"pulse_step" plain:"without=Unsolved"`
	Deadband  *units.Angle `json:"deadband,omitempty"` // nil without ratings
	Lost      *load.Yield  `json:"lost,omitempty"`     // nil without ratings, or where the load stalls a servo
	// Unsolved is why the loads cannot be worked out; there is nothing else then.
	Unsolved string `json:"unsolved,omitempty"`
}

// SheetHeld is how the power train holds the rotor speed in hover at a position of the
// collective stick. Thrust and rotor power are with a full battery, at the speed that Full
// holds. Landing is the same at the charge to land at; nil for an engine.
type Held struct {
	Stick    units.Ratio `json:"stick" plain:"without=OffStick"`
	OffStick bool        `json:"off_stick,omitempty"` // no position gives that pitch
	Pitch    units.Angle `json:"pitch"`
	Thrust   units.Force `json:"thrust" plain:"with=Rotor"`
	Rotor    units.Power `json:"rotor_power" plain:"with=Rotor"`
	Full     PowerTrain  `json:"full"` // with a full battery, or an engine
	Landing  *PowerTrain `json:"landing,omitempty"`
}

// SheetPowerTrain is a motor with its battery, or an engine, at work.
type PowerTrain struct {
	Throttle units.Ratio        `json:"throttle" plain:"without=Unsolved"`
	Speed    units.AngularSpeed `json:"rotor_speed" plain:"without=Unsolved"` // the one asked for, or the best that can be held
	Short    bool               `json:"short,omitempty"`
	Motor    units.Current      `json:"motor_current,omitempty"`
	Battery  units.Current      `json:"battery_current,omitempty"`
	Voltage  units.Voltage      `json:"battery_voltage,omitempty"`
	Unsolved string             `json:"unsolved,omitempty"` // why there are no figures
}

// SheetServo is what one servo must hold, and how it does that where it has a rating.
type LoadedServo struct {
	Name    string        `json:"name"`
	Peak    load.Peak     `json:"peak"`
	Hold    units.Torque  `json:"hold"`             // at high stick, the mean over a revolution
	Stall   *units.Torque `json:"stall,omitempty"`  // at the servos' voltage; nil without rating
	Load    *units.Ratio  `json:"load,omitempty"`   // Peak as part of Stall
	Stroke  *units.Time   `json:"stroke,omitempty"` // of the full collective stick; nil where the load stalls it
	Unrated string        `json:"unrated,omitempty"`
}

// full is the charge of a full battery.
const full units.Ratio = 1

// sheetLoads works out a mode's loads; nil where it has no rotor speed.
func (b *bench) sheetLoads(m setup.Setup, rows []setup.Row) *Loads {
	t, ok := load.Of(m)
	if !ok || !m.Works() {
		return nil
	}
	spin := &t.Spin
	s := &Loads{Speed: spin.At.Speed, TipSpeed: spin.Rotor.TipSpeed(spin.At)}
	if err := b.sheetServos(s, t); err != nil {
		return &Loads{Speed: s.Speed, TipSpeed: s.TipSpeed, Unsolved: b.rig.Cause(err)}
	}
	if m.Mode().Held {
		return s
	}
	var hover units.Angle
	mass := b.file.Mass
	if mass != nil {
		var err error
		if hover, _, err = spin.Rotor.HoverPitch(*mass, spin.At); err != nil {
			s.NoHover = words.Plain(err)
		}
	}
	if b.file.Power == nil {
		return s
	}
	for _, row := range rows {
		if row.Unreachable == "" {
			s.Held = append(s.Held, b.sheetHeld(row.Stick, row.Gauge, spin))
		}
	}
	if mass != nil && s.NoHover == "" {
		stick, reached := m.StickFor(hover)
		h := b.sheetHeld(stick, hover, spin)
		h.OffStick = !reached
		s.Hover = &h
	}
	return s
}

func (b *bench) sheetServos(s *Loads, t load.Turning) error {
	demand, err := t.Demand()
	if err != nil {
		return err
	}
	s.PulseStep, s.Missed = demand.Step, demand.Missed
	for i, servo := range b.servos {
		s.Servos = append(s.Servos, LoadedServo{Name: servo.Name, Peak: demand.Peaks[i], Hold: demand.High[i].Mean})
	}
	ratings, ok := load.Ratings(b.rig)
	if !ok {
		return nil
	}
	performance, err := demand.Performance(ratings, *b.file.ServoVoltage)
	if err != nil {
		return err
	}
	for i, done := range performance.Servos {
		one := &s.Servos[i]
		one.Stall, one.Load = &done.At.Stall, &done.Load
		if done.Stalled == nil {
			one.Stroke = &done.Stroke
		}
		if done.Unrated != nil {
			one.Unrated = words.Plain(done.Unrated)
		}
	}
	s.Deadband = &performance.Deadband
	if performance.Dropped == nil {
		s.Lost = &performance.Lost
	}
	return nil
}

// sheetHeld works out how the machine's own power train holds a rotor's speed.
func (b *bench) sheetHeld(stick units.Ratio, pitch units.Angle, spin *load.Spin) Held {
	h := Held{Stick: stick, Pitch: pitch}
	at := func(charge units.Ratio) PowerTrain {
		train, err := b.rig.PowerTrain(charge)
		if err != nil {
			return PowerTrain{Unsolved: words.Plain(err)} // not for a rig that was built
		}
		held := spin.Hold(train, pitch)
		if charge == full {
			h.Thrust, h.Rotor = held.Loads.Thrust, held.Loads.Power
		}
		if held.Unsolved != nil {
			return PowerTrain{Speed: held.Speed, Unsolved: words.Plain(held.Unsolved)}
		}
		return sheetPowerTrain(held)
	}
	h.Full = at(full)
	if battery := b.file.Power.Battery; battery != nil {
		landing := at(battery.LandAt)
		h.Landing = &landing
	}
	return h
}

func sheetPowerTrain(h load.Held) PowerTrain {
	o := h.Operation
	return PowerTrain{
		Throttle: o.Throttle,
		Speed:    h.Speed,
		Short:    h.Short != nil,
		Motor:    o.MotorCurrent,
		Battery:  o.BatteryCurrent,
		Voltage:  o.BatteryVoltage,
	}
}
