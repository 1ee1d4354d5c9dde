package main

import (
	"fmt"
	"io"
	"strings"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/pitch/sheet"
)

const (
	stop = "STOP: "
	live = "Set 0 % at low stick in the mode you start in, whatever is needed in the air. Any throttle at low stick can turn the rotor."
)

// print writes the plan, cautions first.
func (p *plan) print(w io.Writer) {
	show.PrintCaution(w, sheet.WithoutBlades, p.rig.Machine())
	m, air := p.rig.Machine(), p.rig.Air()
	show.Print(w, "", "", fmt.Sprintf("%s: the %s that holds the rotor speed of each flight mode, in air of %.1f °C, %.0f hPa and %.3f kg/m³.",
		m.Name, p.share(), air.Temperature.Celsius(), float64(air.Pressure/rotor.Hectopascal), float64(air.Density)))
	if m.Note != "" {
		show.Print(w, "", "", m.Note)
	}
	show.Print(w, "", "", p.drivetrain())
	fmt.Fprintln(w)
	if p.electric() {
		show.Print(w, stop, "      ", live)
	}
	show.Print(w, "", "", p.columns())
	for i := range p.modes {
		fmt.Fprintln(w)
		p.printMode(w, &p.modes[i])
	}
	fmt.Fprintln(w)
	scale := ""
	if p.electric() {
		scale = "Throttle is the share of the battery's voltage. Check in the controller's manual that it uses the same scale. "
	}
	show.Print(w, "", "", "This is theory, for a rotor that neither climbs nor sinks. Rotor power can be off by 15 %, and by more below 4° of pitch or past stall. "+
		scale+"Check the speed against the log of a flight before you trust the figures.")
}

// share names what holds the speed: the throttle of a motor's controller, which can be
// entered, or else a share of the engine's power. No carburettor opens in step with that.
func (p *plan) share() string {
	if p.electric() {
		return "throttle"
	}
	return "power share"
}

func (p *plan) electric() bool { return p.rig.Machine().Power.Battery != nil }

// drivetrain describes the rotor and what turns it.
func (p *plan) drivetrain() string {
	m := p.rig.Machine()
	text := fmt.Sprintf("%d blades, %v from mast to tip, chord %v; gear %.4g to 1; ", m.Rotor.Blades, m.Rotor.Radius, m.Rotor.Chord, float64(m.Power.Gear.Ratio))
	if p.electric() {
		text += fmt.Sprintf("motor %.0f rpm for each volt; battery of %d cells, land at %v charge", m.Power.Motor.SpeedPerVolt.RPM(), m.Power.Battery.Cells, m.Power.Battery.LandAt)
	} else {
		last := m.Power.Engine[len(m.Power.Engine)-1]
		text += fmt.Sprintf("engine with power given up to %.0f rpm", last.Speed.RPM())
	}
	if m.Mass == nil {
		return text + ". The machine file gives no mass, so hover is not worked out."
	}
	return text + fmt.Sprintf("; %v in all.", m.Mass)
}

// columns says what the tables' columns are.
func (p *plan) columns() string {
	text := "In the tables, pitch is the blade's pitch on the gauge; + is leading edge up. Rotor is the power at the rotor's shaft. "
	if !p.electric() {
		return text + "Engine is the engine's power. Turns at is the engine's speed. Speed is the rotor's speed. " +
			"Power share is the part of the engine's power that is needed. Do not enter it. Find the throttle for it by trial."
	}
	text += "Motor is the current in the motor. Battery is the current from the battery. Volts is the battery's voltage under load. " +
		"Speed is the rotor's speed. Throttle is what to enter at that stick position. Own curve is what the mode has now."
	if len(p.supplies) > 1 {
		text += fmt.Sprintf(" The last column is the throttle%s, or the best rotor speed if full throttle is not enough.", p.with(1))
	}
	return text
}

// printMode writes a mode, or why it has no table.
func (p *plan) printMode(w io.Writer, m *mode) {
	if m.why != "" {
		show.Print(w, "", "  ", fmt.Sprintf("Flight mode %q %s", m.Name(), m.why))
		return
	}
	show.Print(w, "", "  ", fmt.Sprintf("Flight mode %q, rotor at %.0f rpm, tip speed %.0f m/s", m.Name(), m.spin.At.Speed.RPM(), m.spin.Rotor.TipSpeed(m.spin.At).MetresPerSecond()))
	if text := p.tooFast(m); text != "" {
		show.Print(w, "  "+stop, "    ", text)
	}
	if m.grounded != nil {
		show.Print(w, "  ", "    ", "Hover: the rotor cannot carry the machine: "+plain(m.grounded)+".")
	}
	for i := range m.hover {
		show.Print(w, "  ", "    ", "Hover"+p.with(i)+": "+p.hovering(&m.hover[i]))
	}
	t := p.table(m)
	p.remarks(t, m)
	t.Print(w)
}

// tooFast says that a mode's speed is more than the blades' maker allows. It is empty if the
// speed is allowed.
func (p *plan) tooFast(m *mode) string {
	if most := p.rig.Machine().Rotor.MaxSpeed; most != nil && m.spin.At.Speed > *most {
		return fmt.Sprintf("the blades' maker allows %.0f rpm. A blade that comes off kills.", most.RPM())
	}
	return ""
}

// with says at which charge, if there is a battery.
func (p *plan) with(supply int) string {
	if !p.electric() {
		return ""
	}
	return fmt.Sprintf(" at %s charge", show.Percent(p.supplies[supply].charge))
}

// plain is the text of an error without the name of its package.
func plain(err error) string { return strings.TrimPrefix(err.Error(), "rotor: ") }

// hovering says what hover takes.
func (p *plan) hovering(h *load.Hover) string {
	text := fmt.Sprintf("pitch %s, ", show.Signed(h.Pitch))
	if h.Reached {
		text += fmt.Sprintf("stick %s, ", show.Percent(h.Stick))
	} else {
		text += "which no stick position reaches, "
	}
	switch {
	case h.Unsolved != nil:
		return text + "but " + plain(h.Unsolved) + "."
	case h.Short != nil:
		return text + "but the power train " + plain(h.Short) + "."
	}
	o := h.Operation
	text += fmt.Sprintf("%s %s, rotor power %.0f W", p.share(), show.Percent(o.Throttle), o.Rotor.Watts())
	if p.electric() {
		return text + fmt.Sprintf(", motor %.1f A, battery %.1f A at %.1f V.", o.MotorCurrent.Amperes(), o.BatteryCurrent.Amperes(), o.BatteryVoltage.Volts())
	}
	return text + fmt.Sprintf(", engine %.0f W at %.0f rpm.", o.Power.Watts(), o.Speed.RPM())
}
