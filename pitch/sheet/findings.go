package sheet

import (
	"math"
	"slices"

	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/setup"
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

// Finding is a fault of the machine or of a mode, or a thing worth knowing: with the figure
// behind it, and what to do about it.
type Finding struct {
	Severity Severity `json:"severity"`
	Mode     string   `json:"mode,omitempty"` // the mode it is about; "" is all
	Where    string   `json:"where"`          // the mode, the servo or the control
	What     string   `json:"what"`
	Figure   string   `json:"figure"`
	Do       string   `json:"do"`
}

// inMode returns the findings as those of a mode.
func inMode(m setup.Setup, found []Finding) []Finding {
	for i := range found {
		found[i].Mode, found[i].Where = m.Name(), m.Name()
	}
	return found
}

// check looks through the machine and its worked sheet. The findings come
// gravest first, and else in the order of the work.
func (b *bench) check(s *Sheet) []Finding {
	var found []Finding
	for i := range b.modes {
		found = append(found, inMode(b.modes[i], b.checkThrottle(b.modes[i]))...)
	}
	found = append(found, b.checkServos()...)
	found = append(found, b.checkFunctions()...)
	found = append(found, b.checkHeight()...)
	found = append(found, b.checkSquare(s.Neutral)...)
	for i := range b.modes {
		found = append(found, inMode(b.modes[i], b.checkMode(b.modes[i], s.Modes[i]))...)
	}
	found = append(found, b.checkTravel(s.Neutral)...)
	found = append(found, b.checkRated()...)
	found = append(found, b.checkClassLimits()...)
	slices.SortStableFunc(found, bySeverity)
	return found
}

// bySeverity orders findings, gravest first.
func bySeverity(a, b Finding) int {
	return slices.Index(severities, a.Severity) - slices.Index(severities, b.Severity)
}

// degree turns radians into degrees.
const degree = 180 / math.Pi

// ours are the limits that are not the machine's.
var ours = machine.DefaultLimits()
