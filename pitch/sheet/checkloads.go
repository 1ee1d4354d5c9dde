package sheet

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"

	"example.org/levelhead/pitch/internal/words"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// checkLoads looks for servos and a power train that cannot do what a mode asks of them
// while the rotor turns.
func (b *bench) checkLoads(l *Loads) []Finding {
	if l == nil {
		return nil
	}
	if l.Unsolved != "" {
		return []Finding{{Severity: Note, What: "Loads cannot be worked out", Figure: l.Unsolved,
			Do: "Lower the rates or the rotor speed until loads can be worked out."}}
	}
	found := b.checkServoLoads(l)
	if l.Missed > 0 {
		found = append(found, Finding{Severity: Note, What: "Loads not worked out everywhere",
			Figure: fmt.Sprintf("no load could be worked out at %.0f %% of the stick positions", l.Missed.Percent()),
			Do:     "Lower the rates until the machine reaches all stick positions with less than 30° of blade pitch. The largest servo loads can be at those that it does not reach."})
	}
	found = append(found, b.checkHeld(l)...)
	return append(found, b.checkCurrents(l)...)
}

// checkRated looks for types of servo that are not rated for the voltage they get, and for
// servos without a rating beside rated ones.
func (b *bench) checkRated() []Finding {
	var found []Finding
	for _, name := range slices.Sorted(maps.Keys(b.file.Servos)) {
		given := b.file.Servos[name].Rating
		if given == nil {
			continue
		}
		rating := given.Servo()
		var unrated *servo.VoltageError
		if _, err := rating.At(*b.file.ServoVoltage); errors.As(err, &unrated) {
			found = append(found, Finding{Severity: Fix, Where: name, What: "Servo voltage not rated", Figure: words.Plain(unrated),
				Do: "Never run a servo above its highest rated voltage. Torque and speed here are those of the nearest rated voltage."})
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
	who := strings.Join(without, ", ")
	return append(found, Finding{Severity: Note, Where: who, What: "Servos not all rated",
		Figure: "the file gives no rating for " + who + ", so no servo's load is compared with its stall torque",
		Do:     "Add the ratings to the machine file."})
}

// checkSpeedLimits looks for a rotor speed that the blades are not made for.
func (b *bench) checkSpeedLimits(m setup.Setup) []Finding {
	t, ok := load.Of(m)
	if !ok {
		return nil
	}
	spin := &t.Spin
	var found []Finding
	if most := b.file.Rotor.MaxSpeed; most != nil && spin.At.Speed > *most {
		found = append(found, Finding{Severity: Stop, What: "Rotor speed above the blades' limit",
			Figure: fmt.Sprintf("%.0f rpm; the maker of the blades allows %.0f rpm", spin.At.Speed.RPM(), most.RPM()),
			Do:     "Lower the rotor speed. A blade that comes off kills."})
	}
	if tip := spin.Rotor.TipSpeed(spin.At); tip > b.limits.TipSpeed {
		found = append(found, Finding{Severity: Fix, What: "Blade tips too fast",
			Figure: fmt.Sprintf("%.0f m/s at %.0f rpm (%s)", tip.MetresPerSecond(), spin.At.Speed.RPM(), machine.LimitText(b.limits.TipSpeed, ours.TipSpeed)),
			Do:     "Lower the rotor speed. Drag, noise and the pull on the blade roots grow fast with it. The theory here leaves out the speed of sound."})
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
		voltage := *b.file.ServoVoltage
		if *s.Load > b.limits.ServoLoad {
			figure := fmt.Sprintf("servo %s holds up to %.2f N·m (%.1f kgf·cm), at %s. That is %.0f %% of its stall torque at %v (%s)",
				s.Name, s.Peak.Peak.NewtonMetres(), s.Peak.Peak.KilogramForceCentimetres(), s.Peak.At, s.Load.Percent(), voltage, machine.LimitText(b.limits.ServoLoad, ours.ServoLoad))
			do := "Use a stronger servo, a shorter servo arm with more rate, lighter or narrower blades, or less rotor speed. Friction, the weight of the parts and gusts add to this load."
			if s.Stroke == nil {
				do += " Under this load the servo stalls, and the swashplate goes where the load pushes it."
			}
			found = append(found, Finding{Severity: Fix, What: "Servo too weak", Figure: figure, Do: do})
		}
		if s.Stroke != nil && *s.Stroke > b.limits.Stroke {
			found = append(found, Finding{Severity: Fix, What: "Servo too slow",
				Figure: fmt.Sprintf("servo %s takes %.0f ms for the full collective stick against its largest load (%s)", s.Name, float64(*s.Stroke/units.Millisecond), machine.LimitText(b.limits.Stroke, ours.Stroke)),
				Do:     "Use a faster servo or a higher rated voltage. If its torque allows, use a longer arm with less rate."})
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
	when, do := "at full throttle", "Ask for less pitch there. Or change the rotor speed or the gear, so that the engine turns where it has more power."
	if b.file.Power != nil && b.file.Power.Battery != nil {
		when, do = "with a full battery", "Ask for less rotor speed or less pitch there. Or gear the motor higher, or give it more cells."
	}
	var found []Finding
	add := func(when string, of func(Held) *PowerTrain) bool {
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
		figure := fmt.Sprintf("%s at stick %v with %.1f° of pitch: at most %.0f rpm, not %.0f rpm", when, at.Stick, at.Pitch.Degrees(), worst.Speed.RPM(), l.Speed.RPM())
		if worst.Unsolved != "" {
			figure = fmt.Sprintf("%s at stick %v with %.1f° of pitch: %s", when, at.Stick, at.Pitch.Degrees(), worst.Unsolved)
		}
		found = append(found, Finding{Severity: Fix, What: "Rotor speed cannot be held", Figure: figure,
			Do: do})
		return true
	}
	if !add(when, func(h Held) *PowerTrain { return &h.Full }) && b.file.Power != nil && b.file.Power.Battery != nil {
		add(fmt.Sprintf("with the battery at %v, where it must land,", b.file.Power.Battery.LandAt), func(h Held) *PowerTrain { return h.Landing })
	}
	switch {
	case l.NoHover != "":
		found = append(found, Finding{Severity: Fix, What: "The rotor cannot carry the machine", Figure: l.NoHover,
			Do: "Check the mass, the rotor speed and the blades in the machine file."})
	case l.Hover != nil && l.Hover.OffStick:
		found = append(found, Finding{Severity: Fix, What: "No stick position hovers",
			Figure: fmt.Sprintf("hover takes %.1f° of pitch at %.0f rpm; the pitch curve does not reach that", l.Hover.Pitch.Degrees(), l.Speed.RPM()),
			Do:     "Give the curve more range, or the rotor more speed."})
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
	for _, part := range []struct {
		name  string
		limit *units.Current
		of    func(*PowerTrain) units.Current
	}{
		{"motor or controller", p.Motor.MaxCurrent, func(d *PowerTrain) units.Current { return d.Motor }},
		{"battery", p.Battery.MaxCurrent, func(d *PowerTrain) units.Current { return d.Battery }},
	} {
		if part.limit == nil {
			continue
		}
		var most units.Current
		var at Held
		for _, h := range l.Held {
			for _, d := range []*PowerTrain{&h.Full, h.Landing} {
				if d != nil && part.of(d) > most {
					most, at = part.of(d), h
				}
			}
		}
		if most > *part.limit {
			found = append(found, Finding{Severity: Fix, What: "Current above the rating",
				Figure: fmt.Sprintf("%s: %.0f A at stick %v with %.1f° of pitch; rated %.0f A", part.name, most.Amperes(), at.Stick, at.Pitch.Degrees(), part.limit.Amperes()),
				Do:     "Ask for less pitch or less rotor speed, or use stronger parts. The maker's data sheet says whether a short peak is allowed."})
		}
	}
	return found
}
