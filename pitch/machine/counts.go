package machine

import (
	"maps"
	"slices"
	"unicode/utf8"

	"example.org/levelhead/curve"
	"example.org/levelhead/pitch/internal/fieldpath"
)

// The most that a machine file may hold. Each is more than a model helicopter or its radio
// has (common practice, no source), and few enough that every file is answered or refused
// in a second or so: what the sheet takes grows with the modes times the legs or members.
const (
	MaxFile       = 1 << 20 // bytes
	MaxModes      = 10
	MaxLegs       = 8
	MaxChain      = 6 // members of one function's chain
	MaxServoTypes = 32
	MaxArmHoles   = 12              // of one servo type
	MaxPoints     = curve.MaxPoints // of a curve, and targets of a mode
	MaxName       = 200             // characters of a name
	MaxText       = 2000            // characters of a note, and of any other text or number
)

// checkCounts refuses more of anything than a machine file may hold.
func (m *Machine) checkCounts() error {
	type count struct {
		path        string
		count, most int
		of          string
	}
	name := func(path, text string) count {
		return count{path, utf8.RuneCountInString(text), MaxName, "characters"}
	}
	counts := []count{
		name("name", m.Name),
		{"note", utf8.RuneCountInString(m.Note), MaxText, "characters"},
		{"plate.legs", len(m.Plate.Legs), MaxLegs, ""},
		{"servos", len(m.Servos), MaxServoTypes, ""},
		{"modes", len(m.Modes), MaxModes, ""},
	}
	for i, leg := range m.Plate.Legs {
		counts = append(counts, name(fieldpath.Leg(i)+".name", leg.Name))
	}
	if m.Plate.BellCranks != nil {
		for _, f := range m.Plate.BellCranks.Functions() {
			counts = append(counts, count{"plate.bell_cranks." + f.Name + ".chain", len(f.Chain.Chain), MaxChain, ""})
		}
	}
	for _, key := range slices.Sorted(maps.Keys(m.Servos)) {
		counts = append(counts, name("servos", key), count{fieldpath.Join("servos", key) + ".arm_holes", len(m.Servos[key].ArmHoles), MaxArmHoles, ""})
	}
	for i := range m.Modes {
		path, mode := fieldpath.Mode(i), &m.Modes[i]
		counts = append(counts, name(path+".name", mode.Name), count{path + ".throttle.points", len(mode.Throttle.Points), MaxPoints, ""})
		if mode.Pitch != nil {
			counts = append(counts, count{path + ".pitch.points", len(mode.Pitch.Points), MaxPoints, ""})
		}
		if mode.Targets != nil {
			counts = append(counts, count{path + ".targets.collective", len(mode.Targets.Collective), MaxPoints, ""})
		}
	}
	for _, c := range counts {
		if c.count > c.most {
			err := &CountError{Of: c.of, Count: c.count, Most: c.most}
			return m.Fault(c.path, err.Error(), err)
		}
	}
	return nil
}
