package gauge

import (
	"fmt"

	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/units"
)

// Session is a machine as built, on the bench: what its file says, how far its parameters
// are commonly off, and what it is measured with. It is safe for use by several goroutines.
type Session struct {
	model  *model
	gauges []Instrument
}

// NewSession returns a session for a rig with 1 to 12 blades and any number of gauges, each
// with a name of its own. The error is a *units.FieldError.
func NewSession(rig *setup.Rig, blades int, tolerances Tolerances, gauges ...Instrument) (*Session, error) {
	s, err := newSession(rig, blades, tolerances, gauges)
	return s, own(err)
}

func newSession(rig *setup.Rig, blades int, tolerances Tolerances, gauges []Instrument) (*Session, error) {
	if rig == nil || len(rig.Servos()) == 0 {
		return nil, refuse("rig", "is missing")
	}
	const most = 12
	if blades < 1 || blades > most {
		return nil, refuse("blades", "must be from 1 to %d, not %d", most, blades)
	}
	if err := tolerances.validate(); err != nil {
		return nil, err
	}
	of := func(i int, g *Instrument, err error) error {
		return units.In(fmt.Sprintf("gauges[%d]", i), fmt.Sprintf("gauge %q", g.Name), err)
	}
	zeros := make([]float64, len(gauges))
	names := map[string]bool{}
	for i := range gauges {
		g := &gauges[i]
		if err := g.validate(); err != nil {
			return nil, of(i, g, err)
		}
		if names[g.Name] {
			return nil, of(i, g, &units.FieldError{Reason: "has the name of another gauge; give it one of its own"})
		}
		names[g.Name] = true
		zeros[i] = float64(g.Zero)
	}
	b := &Session{newModel(rig, blades, &tolerances, zeros), append([]Instrument(nil), gauges...)}
	if len(b.model.params) == 0 {
		return nil, refuse("tolerances", "are all 0, so that there is nothing to find; give at least one")
	}
	if _, err := b.model.newBuild(); err != nil {
		return nil, &units.FieldError{Field: "rig", Reason: "cannot be built: " + b.model.say(err), Err: err}
	}
	return b, nil
}

// Parameters returns the parameters that have a tolerance, which are those that are looked for.
func (b *Session) Parameters() []Parameter {
	if b.model == nil {
		return nil
	}
	return append([]Parameter(nil), b.model.params...)
}

var errEmpty = own(refuse("session", "is empty; make it with NewSession"))

// Name returns what people call a parameter, with the machine file's name of its servo or
// link, such as "left rear servo centre" or "blade 2 pitch link".
func (b *Session) Name(p Parameter) string {
	if b.model == nil {
		return p.String()
	}
	m := b.model
	inside := func(n int) bool { return p.Index >= 0 && p.Index < n }
	switch p.Kind {
	case ServoCentre, ServoTravel, LowEnd, HighEnd, ArmRadius:
		if servos := m.rig.Servos(); inside(len(servos)) {
			return servos[p.Index].Name + " " + p.Kind.String()
		}
	case ServoLink:
		parts := m.rig.Parts()
		if links := parts.Links(); inside(len(links)) {
			return links[p.Index].Name
		}
	case PitchLink, HornRadius:
		return fmt.Sprintf("blade %d %v", p.Index+1, p.Kind)
	case GaugeZero:
		if inside(len(b.gauges)) {
			return b.gauges[p.Index].Name + " zero"
		}
	}
	return p.String()
}

// gauge returns the place of an instrument by its name, which may be left out where
// only one measures the quantity.
func (b *Session) gauge(name string, q Quantity) (int, error) {
	found := -1
	for i := range b.gauges {
		g := &b.gauges[i]
		switch {
		case g.Name == name && !g.measures(q):
			return 0, refuse("Gauge", "%q does not measure %v; name one that does", name, q)
		case g.Name == name:
			return i, nil
		case name == "" && g.measures(q) && found >= 0:
			return 0, refuse("Gauge", "must be named, as both %q and %q measure %v", b.gauges[found].Name, g.Name, q)
		case name == "" && g.measures(q):
			found = i
		}
	}
	if found < 0 {
		if name == "" {
			return 0, refuse("Gauge", "is missing: none of this session measures %v", q)
		}
		return 0, refuse("Gauge", "%q is not among those of this session", name)
	}
	return found, nil
}
