package sheet

import (
	"fmt"
	"strings"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/units"
)

type rotorTooFast struct {
	RotorSpeed units.AngularSpeed
	Limit      units.AngularSpeed
}

func (f rotorTooFast) finding() Finding {
	return Finding{Kind: RotorTooFast, Severity: Stop, What: "Rotor speed above the blades' limit",
		Figure: fmt.Sprintf("%.0f rpm; the maker of the blades allows %.0f rpm", f.RotorSpeed.RPM(), f.Limit.RPM()),
		Do:     "Lower the rotor speed. A blade that comes off kills."}
}

type tipsTooFast struct {
	TipSpeed   units.Velocity
	RotorSpeed units.AngularSpeed
	Limit      units.Velocity
}

func (f tipsTooFast) finding() Finding {
	return Finding{Kind: TipsTooFast, Severity: Fix, What: "Blade tips too fast",
		Figure: fmt.Sprintf("%.0f m/s at %.0f rpm (%s)", f.TipSpeed.MetresPerSecond(), f.RotorSpeed.RPM(), machine.LimitText(f.Limit, ours.TipSpeed)),
		Do:     "Lower the rotor speed. Drag, noise and the pull on the blade roots grow fast with it. The theory here leaves out the speed of sound."}
}

type loadsUnknown struct{ why string }

func (f loadsUnknown) finding() Finding {
	return Finding{Kind: LoadsUnknown, Severity: Note, What: "Loads cannot be worked out", Figure: f.why,
		Do: "Lower the rates or the rotor speed until loads can be worked out."}
}

type loadsIncomplete struct {
	Missed units.Ratio // of the stick positions
}

func (f loadsIncomplete) finding() Finding {
	return Finding{Kind: LoadsIncomplete, Severity: Note, What: "Loads not worked out everywhere",
		Figure: fmt.Sprintf("no load could be worked out at %.0f %% of the stick positions", f.Missed.Percent()),
		Do:     "Lower the rates until the machine reaches all stick positions with less than 30° of blade pitch. The largest servo loads can be at those that it does not reach."}
}

type servoTooWeak struct {
	Place
	Torque  units.Torque
	Load    units.Ratio // Torque as a part of the stall torque
	Voltage units.Voltage
	Limit   units.Ratio // of Load
	at      string      // the stick position
	stalls  bool
}

func (f servoTooWeak) finding() Finding {
	do := "Use a stronger servo, a shorter servo arm with more rate, lighter or narrower blades, or less rotor speed. Friction, the weight of the parts and gusts add to this load."
	if f.stalls {
		do += " Under this load the servo stalls, and the swashplate goes where the load pushes it."
	}
	return Finding{Kind: ServoTooWeak, Severity: Fix, What: "Servo too weak",
		Figure: fmt.Sprintf("servo %s holds up to %.2f N·m (%.1f kgf·cm), at %s. That is %.0f %% of its stall torque at %v (%s)",
			f.Servo, f.Torque.NewtonMetres(), f.Torque.KilogramForceCentimetres(), f.at, f.Load.Percent(), f.Voltage, machine.LimitText(f.Limit, ours.ServoLoad)),
		Do: do}
}

type servoTooSlow struct {
	Place
	Stroke units.Time
	Limit  units.Time
}

func (f servoTooSlow) finding() Finding {
	return Finding{Kind: ServoTooSlow, Severity: Fix, What: "Servo too slow",
		Figure: fmt.Sprintf("servo %s takes %.0f ms for the full collective stick against its largest load (%s)", f.Servo, float64(f.Stroke/units.Millisecond), machine.LimitText(f.Limit, ours.Stroke)),
		Do:     "Use a faster servo or a higher rated voltage. If its torque allows, use a longer arm with less rate."}
}

// rotorSpeedNotHeld is at the stick position where the rotor speed falls shortest.
type rotorSpeedNotHeld struct {
	Place
	Pitch      units.Angle
	RotorSpeed *units.AngularSpeed // that can be held; nil where that cannot be told
	Wanted     units.AngularSpeed
	Charge     *units.Ratio // of the battery; nil with an engine
	landing    bool         // Charge is what it must land at
	why        string       // RotorSpeed is nil
}

func (f rotorSpeedNotHeld) finding() Finding {
	when, do := "at full throttle", "Ask for less pitch there. Or change the rotor speed or the gear, so that the engine turns where it has more power."
	if f.Charge != nil {
		when, do = "with a full battery", "Ask for less rotor speed or less pitch there. Or gear the motor higher, or give it more cells."
		if f.landing {
			when = fmt.Sprintf("with the battery at %v, where it must land,", *f.Charge)
		}
	}
	held := f.why
	if f.RotorSpeed != nil {
		held = fmt.Sprintf("at most %.0f rpm, not %.0f rpm", f.RotorSpeed.RPM(), f.Wanted.RPM())
	}
	return Finding{Kind: RotorSpeedNotHeld, Severity: Fix, What: "Rotor speed cannot be held",
		Figure: fmt.Sprintf("%s at stick %v with %.1f° of pitch: %s", when, units.Ratio(f.stick().Collective), f.Pitch.Degrees(), held), Do: do}
}

type cannotHover struct{ why string }

func (f cannotHover) finding() Finding {
	return Finding{Kind: CannotHover, Severity: Fix, What: "The rotor cannot carry the machine", Figure: f.why,
		Do: "Check the mass, the rotor speed and the blades in the machine file."}
}

type hoverOffStick struct {
	Pitch      units.Angle // that hover takes
	RotorSpeed units.AngularSpeed
}

func (f hoverOffStick) finding() Finding {
	return Finding{Kind: HoverOffStick, Severity: Fix, What: "No stick position hovers",
		Figure: fmt.Sprintf("hover takes %.1f° of pitch at %.0f rpm; the pitch curve does not reach that", f.Pitch.Degrees(), f.RotorSpeed.RPM()),
		Do:     "Give the curve more range, or the rotor more speed."}
}

type currentTooHigh struct {
	Place
	Pitch   units.Angle
	Motor   *units.Current // the one of the two that is too high
	Battery *units.Current
	Limit   units.Current
}

func (f currentTooHigh) finding() Finding {
	var part string
	var most units.Current
	switch {
	case f.Motor != nil:
		part, most = "motor or controller", *f.Motor
	case f.Battery != nil:
		part, most = "battery", *f.Battery
	}
	return Finding{Kind: CurrentTooHigh, Severity: Fix, What: "Current above the rating",
		Figure: fmt.Sprintf("%s: %.0f A at stick %v with %.1f° of pitch; rated %.0f A", part, most.Amperes(), units.Ratio(f.stick().Collective), f.Pitch.Degrees(), f.Limit.Amperes()),
		Do:     "Ask for less pitch or less rotor speed, or use stronger parts. The maker's data sheet says whether a short peak is allowed."}
}

type voltageNotRated struct {
	Voltage units.Voltage
	Beyond  units.Voltage // negative below the lowest rated voltage, positive above the highest
	servos  string        // their type
	why     string
}

func (f voltageNotRated) finding() Finding {
	return Finding{Kind: VoltageNotRated, Severity: Fix, Where: f.servos, What: "Servo voltage not rated", Figure: f.why,
		Do: "Never run a servo above its highest rated voltage. Torque and speed here are those of the nearest rated voltage."}
}

type servosNotRated struct {
	NotRated int
	Servos   int
	names    []string // of those not rated
}

func (f servosNotRated) finding() Finding {
	who := strings.Join(f.names, ", ")
	return Finding{Kind: ServosNotRated, Severity: Note, Where: who, What: "Servos not all rated",
		Figure: "the file gives no rating for " + who + ", so no servo's load is compared with its stall torque",
		Do:     "Add the ratings to the machine file."}
}
