package setup

import (
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/pitch/machine"
	"example.org/levelhead/pitch/rotor"
	"example.org/levelhead/units"
)

// Rig is a machine built and ready to be asked: what Build returns. The zero Rig knows nothing,
// and what is asked of it is empty or an error. A rig does not change: With and its
// neighbours return another one. Any number of goroutines may use one at the same time.
type Rig struct {
	file   *machine.Machine
	head   *pitch.Head
	limits machine.Limits
	modes  []mode
	servos []Servo

	rotor *rotor.Rotor
	blade rotor.Blade
	air   rotor.Air

	parts Parts
}

// Name returns the machine's name.
func (r *Rig) Name() string {
	if !r.built() {
		return ""
	}
	return r.file.Name
}

// built reports whether Build or With made the rig: the zero Rig, and nil, know nothing.
func (r *Rig) built() bool { return r != nil && r.file != nil }

var errNotBuilt = &units.FieldError{Field: "rig", Words: "setup: rig", Reason: "is empty; make it with Build"}

// Machine returns a copy of the machine that the rig was built from. File returns it as the
// radio is now set.
func (r *Rig) Machine() *machine.Machine {
	if !r.built() {
		return &machine.Machine{}
	}
	return r.file.Clone()
}

// Head returns the head: what leads from a demand to the pitch of a blade.
func (r *Rig) Head() *pitch.Head {
	if !r.built() {
		return &pitch.Head{}
	}
	head := *r.head
	return &head
}

// Gauge returns the pitch gauge.
func (r *Rig) Gauge() machine.Gauge {
	if !r.built() {
		return machine.Gauge{}
	}
	return r.file.Gauge
}

// Radio returns what the radio can resolve, and how it mixes.
func (r *Rig) Radio() machine.Radio {
	if !r.built() {
		return machine.Radio{}
	}
	radio := r.file.Radio
	radio.MixRows = slices.Clone(radio.MixRows)
	return radio
}

// Limits returns the limits beyond which there are findings: those of the file, or else
// DefaultLimits.
func (r *Rig) Limits() machine.Limits {
	if !r.built() {
		return machine.DefaultLimits()
	}
	return r.limits
}

// Servos returns the servos, in the order of the legs; on bell cranks collective, right
// cyclic, forward cyclic.
func (r *Rig) Servos() []Servo {
	if !r.built() {
		return nil
	}
	return slices.Clone(r.servos)
}

// Modes returns the machine in each of its flight modes, in the order of the file.
func (r *Rig) Modes() []Setup {
	if !r.built() {
		return nil
	}
	modes := make([]Setup, len(r.modes))
	for i := range modes {
		modes[i] = Setup{r, &r.modes[i]}
	}
	return modes
}

// Mode returns the machine in the flight mode of a name, and false where there is none.
func (r *Rig) Mode(name string) (Setup, bool) {
	if !r.built() {
		return Setup{}, false
	}
	for i := range r.modes {
		if r.modes[i].file.Name == name {
			return Setup{r, &r.modes[i]}, true
		}
	}
	return Setup{}, false
}

// Rotor returns the main rotor; nil where the file gives none.
func (r *Rig) Rotor() *rotor.Rotor { return r.rotor }

// Blade returns one of the rotor's blades.
func (r *Rig) Blade() rotor.Blade { return r.blade }

// Air returns that of the field.
func (r *Rig) Air() rotor.Air { return r.air }
