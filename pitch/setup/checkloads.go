package setup

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"example.org/levelhead/servo"
	"example.org/levelhead/units"
)

// checkLoads looks for servos and a power train that cannot do what a mode asks of them
// while the rotor turns.
func (r *Rig) checkLoads(l *SheetLoads) []Finding {
	if l == nil {
		return nil
	}
	if l.Unsolved != "" {
		return []Finding{{Severity: Note, What: "Loads cannot be worked out", Figure: l.Unsolved,
			Do: "Lower the rates or the rotor speed until loads can be worked out."}}
	}
	found := r.checkServoLoads(l)
	if l.Missed > 0 {
		found = append(found, Finding{Severity: Note, What: "Loads not worked out everywhere",
			Figure: fmt.Sprintf("no load could be worked out at %.0f %% of the stick positions", l.Missed.Percent()),
			Do:     "Lower the rates until the machine reaches all stick positions with less than 30° of blade pitch. The largest servo loads can be at those that it does not reach."})
	}
	found = append(found, r.checkHeld(l)...)
	return append(found, r.checkCurrents(l)...)
}

// checkRated looks for types of servo that are not rated for the voltage they get, and for
// servos without a rating beside rated ones.
func (r *Rig) checkRated() []Finding {
	var found []Finding
	for _, name := range slices.Sorted(maps.Keys(r.Machine.Servos)) {
		given := r.Machine.Servos[name].Rating
		if given == nil {
			continue
		}
		rating := given.Servo()
		var unrated *servo.VoltageError
		if _, err := rating.At(*r.Machine.ServoVoltage); errors.As(err, &unrated) {
			found = append(found, Finding{Severity: Fix, Where: name, What: "Servo voltage not rated", Figure: plain(unrated),
				Do: "Never run a servo above its highest rated voltage. Torque and speed here are those of the nearest rated voltage."})
		}
	}
	var without []string
	for _, s := range r.Servos {
		if s.Type.Rating == nil {
			without = append(without, s.Name)
		}
	}
	if n := len(without); n == 0 || n == len(r.Servos) {
		return found
	}
	who := strings.Join(without, ", ")
	return append(found, Finding{Severity: Note, Where: who, What: "Servos not all rated",
		Figure: "the file gives no rating for " + who + ", so no servo's load is compared with its stall torque",
		Do:     "Add the ratings to the machine file."})
}

// checkSpeedLimits looks for a rotor speed that the blades are not made for.
func (r *Rig) checkSpeedLimits(m *RigMode) []Finding {
	spin, ok := r.Spin(m)
	if !ok {
		return nil
	}
	var found []Finding
	if most := r.Machine.Rotor.MaxSpeed; most != nil && spin.At.Speed > *most {
		found = append(found, Finding{Severity: Stop, What: "Rotor speed above the blades' limit",
			Figure: fmt.Sprintf("%.0f rpm; the maker of the blades allows %.0f rpm", spin.At.Speed.RPM(), most.RPM()),
			Do:     "Lower the rotor speed. A blade that comes off kills."})
	}
	if tip := spin.Rotor.TipSpeed(spin.At); tip > r.Limits.TipSpeed {
		found = append(found, Finding{Severity: Fix, What: "Blade tips too fast",
			Figure: fmt.Sprintf("%.0f m/s at %.0f rpm (%s)", tip.MetresPerSecond(), spin.At.Speed.RPM(), LimitText(r.Limits.TipSpeed, ours.TipSpeed)),
			Do:     "Lower the rotor speed. Drag, noise and the pull on the blade roots grow fast with it. The theory here leaves out the speed of sound."})
	}
	return found
}

// checkServoLoads looks for servos that are too weak or too slow.
func (r *Rig) checkServoLoads(l *SheetLoads) []Finding {
	var found []Finding
	for _, s := range l.Servos {
		if s.Stall == nil {
			continue
		}
		voltage := *r.Machine.ServoVoltage
		if *s.Load > r.Limits.ServoLoad {
			figure := fmt.Sprintf("servo %s holds up to %.2f N·m (%.1f kgf·cm), at %s. That is %.0f %% of its stall torque at %v (%s)",
				s.Name, s.Peak.Peak.NewtonMetres(), s.Peak.Peak.KilogramForceCentimetres(), s.Peak.At, s.Load.Percent(), voltage, LimitText(r.Limits.ServoLoad, ours.ServoLoad))
			do := "Use a stronger servo, a shorter servo arm with more rate, lighter or narrower blades, or less rotor speed. Friction, the weight of the parts and gusts add to this load."
			if s.Stroke == nil {
				do += " Under this load the servo stalls, and the swashplate goes where the load pushes it."
			}
			found = append(found, Finding{Severity: Fix, What: "Servo too weak", Figure: figure, Do: do})
		}
		if s.Stroke != nil && *s.Stroke > r.Limits.Stroke {
			found = append(found, Finding{Severity: Fix, What: "Servo too slow",
				Figure: fmt.Sprintf("servo %s takes %.0f ms for the full collective stick against its largest load (%s)", s.Name, float64(*s.Stroke/units.Millisecond), LimitText(r.Limits.Stroke, ours.Stroke)),
				Do:     "Use a faster servo or a higher rated voltage. If its torque allows, use a longer arm with less rate."})
		}
	}
	return found
}

// worseThan reports whether one power train that cannot hold a rotor speed falls shorter
// than another: most of all one that does not work at all.
func (d *SheetPowerTrain) worseThan(other *SheetPowerTrain) bool {
	if d.Unsolved != "" || other.Unsolved != "" {
		return other.Unsolved == ""
	}
	return d.Speed < other.Speed
}

// checkHeld looks for rotor speed that the power train cannot hold.
func (r *Rig) checkHeld(l *SheetLoads) []Finding {
	when, do := "at full throttle", "Ask for less pitch there. Or change the rotor speed or the gear, so that the engine turns where it has more power."
	if r.Machine.Power != nil && r.Machine.Power.Battery != nil {
		when, do = "with a full battery", "Ask for less rotor speed or less pitch there. Or gear the motor higher, or give it more cells."
	}
	var found []Finding
	add := func(when string, of func(SheetHeld) *SheetPowerTrain) bool {
		var worst *SheetPowerTrain
		var at SheetHeld
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
	if !add(when, func(h SheetHeld) *SheetPowerTrain { return &h.Full }) && r.Machine.Power != nil && r.Machine.Power.Battery != nil {
		add(fmt.Sprintf("with the battery at %v, where it must land,", r.Machine.Power.Battery.LandAt), func(h SheetHeld) *SheetPowerTrain { return h.Landing })
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
func (r *Rig) checkCurrents(l *SheetLoads) []Finding {
	p := r.Machine.Power
	if p == nil || p.Motor == nil {
		return nil
	}
	var found []Finding
	for _, part := range []struct {
		name  string
		limit *units.Current
		of    func(*SheetPowerTrain) units.Current
	}{
		{"motor or controller", p.Motor.MaxCurrent, func(d *SheetPowerTrain) units.Current { return d.Motor }},
		{"battery", p.Battery.MaxCurrent, func(d *SheetPowerTrain) units.Current { return d.Battery }},
	} {
		if part.limit == nil {
			continue
		}
		var most units.Current
		var at SheetHeld
		for _, h := range l.Held {
			for _, d := range []*SheetPowerTrain{&h.Full, h.Landing} {
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
