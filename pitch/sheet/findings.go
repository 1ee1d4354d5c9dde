package sheet

import (
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Severity tells what a finding asks for.
type Severity string

// The severities, gravest first.
const (
	Stop Severity = "stop" // connect no motor and start no engine before it is corrected, or cannot happen on the ground
	Fix  Severity = "fix"  // correct it before you fly
	Note Severity = "note" // know it
)

var severities = []Severity{Stop, Fix, Note}

// Finding is a fault of the machine or of a mode, or a thing worth knowing: as data, and in
// words with what to do about it.
type Finding struct {
	Kind     Kind     `json:"kind"`
	Severity Severity `json:"severity"`
	Mode     string   `json:"mode,omitempty"` // the mode it is about; "" is all
	Where    string   `json:"where"`          // the mode, the servo or the control
	What     string   `json:"what"`
	Figure   string   `json:"figure"`
	Do       string   `json:"do"`
	// At is where on the machine and on its sticks Numbers are found.
	At      Place    `json:"place,omitzero"`
	Numbers []Number `json:"numbers,omitempty"`
}

// Number is a number behind a finding, by its name.
type Number struct {
	Name  string `json:"name"`            // such as "limit" or "off_square"
	Servo string `json:"servo,omitempty"` // where a finding has such a number for each of several servos
	Value string `json:"value"`           // a quantity for units.Parse, an area in dm², or a count
}

// Place is a place on a machine and on its sticks, as far as a finding has one.
type Place struct {
	Servo   string `json:"servo,omitempty"`
	Control string `json:"control,omitempty"` // collective, right cyclic or forward cyclic
	Mode    string `json:"mode,omitempty"`    // of the sticks, for a finding about all modes
	Stick   *Stick `json:"sticks,omitempty"`
}

// Stick is a pitch.Stick with units: from the low end of the collective stick, and to the
// right and forward on the cyclic stick.
type Stick struct {
	Collective units.Ratio `json:"collective"` // 0 to 1
	Right      units.Ratio `json:"right"`      // -1 to 1
	Forward    units.Ratio `json:"forward"`    // -1 to 1
}

func stickOf(s pitch.Stick) *Stick {
	return &Stick{units.Ratio(s.Collective), units.Ratio(s.Right), units.Ratio(s.Forward)}
}

// collectiveAt is a position of the collective stick, the cyclic stick centred.
func collectiveAt(stick units.Ratio) *Stick { return &Stick{Collective: stick} }

// Plain returns the position without units.
func (s Stick) Plain() pitch.Stick {
	return pitch.Stick{Collective: float64(s.Collective), Right: float64(s.Right), Forward: float64(s.Forward)}
}

// stick returns the position of the sticks; the low end for none.
func (p Place) stick() pitch.Stick {
	if p.Stick == nil {
		return pitch.Stick{}
	}
	return p.Stick.Plain()
}

// inMode returns the findings as those of a mode.
func inMode(m setup.Setup, found []Finding) []Finding {
	for i := range found {
		found[i].Mode, found[i].Where = m.Name(), m.Name()
	}
	return found
}

// bySeverity orders findings, gravest first.
func bySeverity(a, b Finding) int {
	return slices.Index(severities, a.Severity) - slices.Index(severities, b.Severity)
}

// ours are the limits that are not the machine's.
var ours = machine.DefaultLimits()
