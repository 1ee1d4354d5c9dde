package setup

import (
	"math"
	"slices"
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
func inMode(m *RigMode, found []Finding) []Finding {
	for i := range found {
		found[i].Mode, found[i].Where = m.Mode.Name, m.Mode.Name
	}
	return found
}

// check looks through the machine and its worked sheet. The findings come
// gravest first, and else in the order of the work.
func (r *Rig) check(s *Sheet) []Finding {
	var found []Finding
	for i := range r.Modes {
		found = append(found, inMode(&r.Modes[i], r.checkThrottle(&r.Modes[i]))...)
	}
	found = append(found, r.checkServos()...)
	found = append(found, r.checkFunctions()...)
	found = append(found, r.checkHeight()...)
	found = append(found, r.checkSquare(s.Neutral)...)
	for i := range r.Modes {
		found = append(found, inMode(&r.Modes[i], r.checkMode(&r.Modes[i], s.Modes[i]))...)
	}
	found = append(found, r.checkTravel(s.Neutral)...)
	found = append(found, r.checkRated()...)
	found = append(found, r.checkClassLimits()...)
	slices.SortStableFunc(found, bySeverity)
	return found
}

// bySeverity orders findings, gravest first.
func bySeverity(a, b Finding) int {
	return slices.Index(severities, a.Severity) - slices.Index(severities, b.Severity)
}

// degree turns radians into degrees.
const degree = 180 / math.Pi
