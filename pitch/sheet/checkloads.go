package sheet

import (
	"errors"
	"maps"
	"slices"

	"example.org/levelhead/pitch/internal/words"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// checkLoads looks for servos and a power train that cannot do what a mode asks of them
// while the rotor turns.
func (b *bench) checkLoads(_ setup.Setup, s *Mode) []Finding {
	l := s.Loads
	if l == nil {
		return nil
	}
	if l.Unsolved != "" {
		return []Finding{report(loadsUnknown{l.Unsolved})}
	}
	found := b.checkServoLoads(l)
	if l.Missed > 0 {
		found = append(found, report(loadsIncomplete{l.Missed}))
	}
	found = append(found, b.checkHeld(l)...)
	return append(found, b.checkCurrents(l)...)
}

// checkRated looks for types of servo that are not rated for the voltage they get, and for
// servos without a rating beside rated ones.
func (b *bench) checkRated(*Sheet) []Finding {
	var found []Finding
	for _, name := range slices.Sorted(maps.Keys(b.file.Servos)) {
		given := b.file.Servos[name].Rating
		if given == nil {
			continue
		}
		rating := given.Servo()
		var unrated *servo.VoltageError
		if _, err := rating.At(*b.file.ServoVoltage); errors.As(err, &unrated) {
			found = append(found, report(voltageNotRated{unrated.Voltage, unrated.Beyond, name, words.Plain(unrated)}))
		}
	}
	var without []string
	for _, s := range b.servos {
		if s.Type.Rating == nil {
			without = append(without, s.Name)
		}
	}
	if n := len(without); n == 0 || n == len(b.servos) {
		return found
	}
	return append(found, report(servosNotRated{len(without), len(b.servos), without}))
}

// checkSpeedLimits looks for a rotor speed that the blades are not made for.
func (b *bench) checkSpeedLimits(m setup.Setup, _ *Mode) []Finding {
	t, ok := load.Of(m)
	if !ok {
		return nil
	}
	spin := &t.Spin
	var found []Finding
	if most := b.file.Rotor.MaxSpeed; most != nil && spin.At.Speed > *most {
		found = append(found, report(rotorTooFast{spin.At.Speed, *most}))
	}
	if tip := spin.Rotor.TipSpeed(spin.At); tip > b.limits.TipSpeed {
		found = append(found, report(tipsTooFast{tip, spin.At.Speed, b.limits.TipSpeed}))
	}
	return found
}

// checkServoLoads looks for servos that are too weak or too slow.
func (b *bench) checkServoLoads(l *Loads) []Finding {
	var found []Finding
	for _, s := range l.Servos {
		if s.Stall == nil {
			continue
		}
		if *s.Load > b.limits.ServoLoad {
			found = append(found, report(servoTooWeak{Place{Servo: s.Name}, s.Peak.Peak, *s.Load, *b.file.ServoVoltage, b.limits.ServoLoad, s.Peak.At, s.Stroke == nil}))
		}
		if s.Stroke != nil && *s.Stroke > b.limits.Stroke {
			found = append(found, report(servoTooSlow{Place{Servo: s.Name}, *s.Stroke, b.limits.Stroke}))
		}
	}
	return found
}

// worseThan reports whether one power train that cannot hold a rotor speed falls shorter
// than another: most of all one that does not work at all.
func (d *PowerTrain) worseThan(other *PowerTrain) bool {
	if d.Unsolved != "" || other.Unsolved != "" {
		return other.Unsolved == ""
	}
	return d.Speed < other.Speed
}

// checkHeld looks for rotor speed that the power train cannot hold.
func (b *bench) checkHeld(l *Loads) []Finding {
	var found []Finding
	add := func(charge *units.Ratio, landing bool, of func(Held) *PowerTrain) bool {
		var worst *PowerTrain
		var at Held
		for _, h := range l.Held {
			if d := of(h); d != nil && (d.Short || d.Unsolved != "") && (worst == nil || d.worseThan(worst)) {
				worst, at = d, h
			}
		}
		if worst == nil {
			return false
		}
		f := rotorSpeedNotHeld{Place: Place{Stick: collectiveAt(at.Stick)}, Pitch: at.Pitch, Wanted: l.Speed, Charge: charge, landing: landing, why: worst.Unsolved}
		if f.why == "" {
			f.RotorSpeed = known(worst.Speed)
		}
		found = append(found, report(f))
		return true
	}
	onFull := func(h Held) *PowerTrain { return &h.Full }
	if b.file.Power == nil || b.file.Power.Battery == nil {
		add(nil, false, onFull)
	} else if !add(known(full), false, onFull) {
		add(known(b.file.Power.Battery.LandAt), true, func(h Held) *PowerTrain { return h.Landing })
	}
	switch {
	case l.NoHover != "":
		found = append(found, report(cannotHover{l.NoHover}))
	case l.Hover != nil && l.Hover.OffStick:
		found = append(found, report(hoverOffStick{l.Hover.Pitch, l.Speed}))
	}
	return found
}

// checkCurrents looks for currents above what the parts are rated for.
func (b *bench) checkCurrents(l *Loads) []Finding {
	p := b.file.Power
	if p == nil || p.Motor == nil {
		return nil
	}
	var found []Finding
	check := func(limit *units.Current, of func(*PowerTrain) units.Current, too func(f *currentTooHigh, most *units.Current)) {
		var most units.Current
		var at Held
		for _, h := range l.Held {
			for _, d := range []*PowerTrain{&h.Full, h.Landing} {
				if d != nil && of(d) > most {
					most, at = of(d), h
				}
			}
		}
		if limit != nil && most > *limit {
			f := currentTooHigh{Place: Place{Stick: collectiveAt(at.Stick)}, Pitch: at.Pitch, Limit: *limit}
			too(&f, &most)
			found = append(found, report(f))
		}
	}
	check(p.Motor.MaxCurrent, func(d *PowerTrain) units.Current { return d.Motor },
		func(f *currentTooHigh, most *units.Current) { f.Motor = most })
	check(p.Battery.MaxCurrent, func(d *PowerTrain) units.Current { return d.Battery },
		func(f *currentTooHigh, most *units.Current) { f.Battery = most })
	return found
}
