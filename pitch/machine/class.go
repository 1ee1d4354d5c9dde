package machine

// Class is a class of competition.
type Class string

// F3C is the FAI's class of radio-controlled aerobatic helicopters.
const F3C Class = "F3C"

func (m *Machine) checkClass() error {
	if m.Class != F3C && m.Class != "" {
		return m.fail("class", "%q is not a known class; write %q, or leave it out", m.Class, F3C)
	}
	return nil
}
