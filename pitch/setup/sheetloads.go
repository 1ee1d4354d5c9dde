package setup

import (
	"example.org/levelhead/units"
)

// SheetLoads is, for a mode with a rotor speed, what it takes to hold that speed and
// to hold the blades.
type SheetLoads struct {
	Speed    units.AngularSpeed `json:"rotor_speed"`
	TipSpeed units.Velocity     `json:"tip_speed"`
	Held     []SheetHeld        `json:"throttle_table,omitempty"` // over the collective stick; none without power, or with hold on
	Hover    *SheetHeld         `json:"hover,omitempty"`          // nil without mass and power, or with hold on
	NoHover  string             `json:"no_hover,omitempty"`       // why the rotor cannot carry the mass
	Servos   []SheetServo       `json:"servos"`
	Missed   units.Ratio        `json:"missed,omitempty"` // the part of the sticks' positions where no load could be worked out
	// At high stick, as in ServoDemand and Performance.
	PulseStep units.Angle  `json:"pulse_step"`
	Deadband  *units.Angle `json:"deadband,omitempty"` // nil without ratings
	Lost      *Yield       `json:"lost,omitempty"`     // nil without ratings, or where the load stalls a servo
	// Unsolved is why the loads cannot be worked out; there is nothing else then.
	Unsolved string `json:"unsolved,omitempty"`
}

// SheetHeld is how the power train holds the rotor speed in hover at a position of the
// collective stick. Thrust and rotor power are with a full battery, at the speed that Full
// holds. Landing is the same at the charge to land at; nil for an engine.
type SheetHeld struct {
	Stick    units.Ratio      `json:"stick"`
	OffStick bool             `json:"off_stick,omitempty"` // no position gives that pitch
	Pitch    units.Angle      `json:"pitch"`
	Thrust   units.Force      `json:"thrust"`
	Rotor    units.Power      `json:"rotor_power"`
	Full     SheetPowerTrain  `json:"full"` // with a full battery, or an engine
	Landing  *SheetPowerTrain `json:"landing,omitempty"`
}

// SheetPowerTrain is a motor with its battery, or an engine, at work.
type SheetPowerTrain struct {
	Throttle units.Ratio        `json:"throttle"`
	Speed    units.AngularSpeed `json:"rotor_speed"` // the one asked for, or the best that can be held
	Short    bool               `json:"short,omitempty"`
	Motor    units.Current      `json:"motor_current,omitempty"`
	Battery  units.Current      `json:"battery_current,omitempty"`
	Voltage  units.Voltage      `json:"battery_voltage,omitempty"`
	Unsolved string             `json:"unsolved,omitempty"` // why there are no figures
}

// SheetServo is what one servo must hold, and how it does that where it has a rating.
type SheetServo struct {
	Name    string        `json:"name"`
	Peak    PeakLoad      `json:"peak"`
	Hold    units.Torque  `json:"hold"`             // at high stick, the mean over a revolution
	Stall   *units.Torque `json:"stall,omitempty"`  // at the servos' voltage; nil without rating
	Load    *units.Ratio  `json:"load,omitempty"`   // Peak as part of Stall
	Stroke  *units.Time   `json:"stroke,omitempty"` // of the full collective stick; nil where the load stalls it
	Unrated string        `json:"unrated,omitempty"`
}

// sheetLoads works out a mode's loads; nil where it has no rotor speed.
func (r *Rig) sheetLoads(m *RigMode, rows []Row) *SheetLoads {
	spin, ok := r.Spin(m)
	if !ok || !m.Works() {
		return nil
	}
	s := &SheetLoads{Speed: spin.At.Speed, TipSpeed: spin.Rotor.TipSpeed(spin.At)}
	if err := r.sheetServos(s, m, &spin); err != nil {
		return &SheetLoads{Speed: s.Speed, TipSpeed: s.TipSpeed, Unsolved: r.cause(err)}
	}
	if m.Mode.Held {
		return s
	}
	var hover units.Angle
	mass := r.Machine.Mass
	if mass != nil {
		var err error
		if hover, _, err = spin.Rotor.HoverPitch(*mass, spin.At); err != nil {
			s.NoHover = plain(err)
		}
	}
	if r.Machine.Power == nil {
		return s
	}
	for _, row := range rows {
		if row.Unreachable == "" {
			s.Held = append(s.Held, r.sheetHeld(row.Stick, row.Gauge, &spin))
		}
	}
	if mass != nil && s.NoHover == "" {
		stick, reached := r.stickFor(m, hover)
		h := r.sheetHeld(stick, hover, &spin)
		h.OffStick = !reached
		s.Hover = &h
	}
	return s
}

func (r *Rig) sheetServos(s *SheetLoads, m *RigMode, spin *Spin) error {
	demand, err := r.ServoDemand(m, spin)
	if err != nil {
		return err
	}
	s.PulseStep, s.Missed = demand.Step, demand.Missed
	for i, servo := range r.Servos {
		s.Servos = append(s.Servos, SheetServo{Name: servo.Name, Peak: demand.Peaks[i], Hold: demand.High[i].Mean})
	}
	ratings, ok := r.Ratings()
	if !ok {
		return nil
	}
	performance, err := demand.Performance(ratings, *r.Machine.ServoVoltage)
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
			one.Unrated = plain(done.Unrated)
		}
	}
	s.Deadband = &performance.Deadband
	if performance.Dropped == nil {
		s.Lost = &performance.Lost
	}
	return nil
}

// sheetHeld works out how the machine's own power train holds a rotor's speed.
func (r *Rig) sheetHeld(stick units.Ratio, pitch units.Angle, spin *Spin) SheetHeld {
	h := SheetHeld{Stick: stick, Pitch: pitch}
	at := func(charge units.Ratio) SheetPowerTrain {
		train, err := r.PowerTrain(charge)
		if err != nil {
			return SheetPowerTrain{Unsolved: plain(err)} // not for a rig that was built
		}
		held := spin.Hold(train, pitch)
		if charge == full {
			h.Thrust, h.Rotor = held.Loads.Thrust, held.Loads.Power
		}
		if held.Unsolved != nil {
			return SheetPowerTrain{Speed: held.Speed, Unsolved: plain(held.Unsolved)}
		}
		return sheetPowerTrain(held)
	}
	h.Full = at(full)
	if battery := r.Machine.Power.Battery; battery != nil {
		landing := at(battery.LandAt)
		h.Landing = &landing
	}
	return h
}

func sheetPowerTrain(h Held) SheetPowerTrain {
	o := h.Operation
	return SheetPowerTrain{
		Throttle: o.Throttle,
		Speed:    h.Speed,
		Short:    h.Short != nil,
		Motor:    o.MotorCurrent,
		Battery:  o.BatteryCurrent,
		Voltage:  o.BatteryVoltage,
	}
}
