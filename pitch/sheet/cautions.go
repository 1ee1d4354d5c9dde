package sheet

import (
	"strings"

	"example.org/levelhead/pitch/machine"
)

// Work is what somebody does at a machine on the bench. Both works together are
// WithoutBlades|WithBlades.
type Work int

// The works. A pitch gauge needs the blades; nothing else on the bench does.
const (
	WithoutBlades Work = 1 << iota // sets servos, links, radio or throttle up
	WithBlades                     // takes readings with the blades on
	anyWork       = WithoutBlades | WithBlades
)

// turner is what can turn the rotor of a machine: a motor, an engine, or either.
type turner int

const (
	motor turner = 1 << iota
	engine
	anyTurner = motor | engine
)

// turner returns what turns the machine's rotor: either, where its file does not say.
func turnerOf(m *machine.Machine) turner {
	if m != nil && m.Power != nil {
		switch electric, burns := m.Power.Motor != nil, m.Power.Engine != nil; {
		case electric && !burns:
			return motor
		case burns && !electric:
			return engine
		}
	}
	return anyTurner
}

// alive says when the rotor of a machine can first turn: after "before".
func alive(m *machine.Machine) string {
	switch turnerOf(m) {
	case motor:
		return "the battery goes in"
	case engine:
		return "anybody starts the engine"
	}
	return "the battery goes in or anybody starts the engine"
}

// dead says how the rotor is kept from turning on the ground: after "keep".
func dead(m *machine.Machine) string {
	switch turnerOf(m) {
	case motor:
		return "the motor leads apart"
	case engine:
		return "the engine stopped"
	}
	return "the motor leads apart or the engine stopped"
}

// cautions are all that is said before work on a machine, the most pressing first:
// common practice, no source.
var cautions = []struct {
	works Work
	turns turner
	first bool // of those that a picture carries too
	text  string
}{
	{WithoutBlades, anyTurner, true, "Take the main blades off before you set anything up."},
	{WithoutBlades, motor, true, "Pull the motor leads apart too."},
	{WithoutBlades, engine, true, "Stop the engine and close the tank line too. Switch off all glow and spark current."},
	{WithBlades, anyTurner, true, "Put the main blades on only for readings."},
	{WithBlades, motor, true, "Pull the motor leads apart before each reading, always."},
	{WithBlades, engine, true, "Stop the engine and close the tank line before each reading, always. Switch off all glow and spark current."},
	{WithBlades, anyTurner, true, "Hold the head during a reading. Switch throttle hold on, and leave it on while you read, in every mode."},
	{anyWork, motor, false, "Put throttle hold on and the throttle stick low before the battery goes in."},
	{anyWork, engine, false, "Put throttle hold on and the throttle stick low before anybody starts the engine."},
	{anyWork, anyTurner, false, "Switch the transmitter on first and off last."},
	{anyWork, anyTurner, false, "Move the sticks slowly the first time. Watch for binding before you give full throw."},
	{anyWork, anyTurner, false, "Never run an analogue servo on a short frame time. It overheats."},
	{anyWork, anyTurner, false, "Keep everybody away from the plane of the rotor disc whenever the rotor can be driven. Blades injure and kill."},
	{anyWork, anyTurner, false, "Never stand level with the disc to watch blade tracking. Stay well back, wear eye protection, and let an experienced pilot do it."},
	{anyWork, anyTurner, false, "Do a range check and a failsafe check before flying."},
	{anyWork, anyTurner, false, "Follow local law, your club's rules and the makers' manuals first. Let an experienced pilot look the machine over before its first flight."},
}

// Cautions returns what must be said before work on some machines, the most pressing
// first. They speak of motor or engine as the machines' files do; where a file gives
// no power they speak of both, each under its own name.
func Cautions(w Work, machines ...*machine.Machine) []string { return cautionsFor(w, false, machines) }

// Caution returns the first of the Cautions in one line: for a picture, which is looked
// at without its page.
func Caution(w Work, machines ...*machine.Machine) string {
	return strings.Join(cautionsFor(w, true, machines), " ")
}

func cautionsFor(w Work, first bool, machines []*machine.Machine) []string {
	var turns turner
	if len(machines) == 0 {
		turns = anyTurner
	}
	for _, m := range machines {
		turns |= turnerOf(m)
	}
	var said []string
	for _, c := range cautions {
		if c.works&w == 0 || c.turns&turns == 0 || first && !c.first {
			continue
		}
		name := ""
		if c.turns != turns {
			name = map[turner]string{motor: "Electric: ", engine: "Engine: "}[c.turns]
		}
		said = append(said, name+c.text)
	}
	return said
}
