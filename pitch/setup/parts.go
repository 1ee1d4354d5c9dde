package setup

import (
	"fmt"
	"reflect"
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Parts are what a rig is made of, at their exact sizes. They can be changed, such as
// by a turn of a link or another hole of an arm, and put together again.
//
// Bodies, Links and Joints list them by name. Legs are one pattern of a mechanism, and the
// chains of bell cranks another.
type Parts struct {
	Plate  swash.PlateSpec   // without legs where bell cranks move it: they use only its height
	Chains [3][]linkage.Spec // of bell cranks: collective, right and forward, each from the servo's arm on; empty on a direct plate
	Servos []servo.Servo     // in the order of the legs; on bell cranks collective, right cyclic, forward cyclic
	Mix    swash.Mix
	Grip   pitch.GripSpec
	// Neutral is the height of the plate, all arms neutral, for which the head is
	// drawn.
	Neutral units.Length

	names []string // of the servos
	made  [3]made  // of Chains, when they were last put together
}

// made is a chain and the linkage that it makes: to find the travel of one takes
// milliseconds, and most changes leave most chains as they are. A linkage does not change.
type made struct {
	chain   []linkage.Spec
	linkage linkage.Linkage
}

// of reports whether a linkage was made of a chain.
func (m *made) of(chain []linkage.Spec) bool {
	return m.linkage != nil && slices.EqualFunc(m.chain, chain, func(a, b linkage.Spec) bool {
		return reflect.TypeOf(a) == reflect.TypeOf(b) && reflect.TypeOf(a).Comparable() && a == b
	})
}

// Parts returns the rig's parts, for the caller to change.
func (r *Rig) Parts() Parts {
	if !r.built() {
		return Parts{}
	}
	return r.parts.clone()
}

// clone returns parts that can be changed without changing p.
func (p Parts) clone() Parts {
	p.Plate.Legs = slices.Clone(p.Plate.Legs)
	for i := range p.Chains {
		p.Chains[i] = slices.Clone(p.Chains[i])
	}
	p.Servos = slices.Clone(p.Servos)
	p.Mix = slices.Clone(p.Mix)
	p.names = slices.Clone(p.names)
	return p
}

// Head puts the parts together. The errors are those of swash.NewPlate,
// swash.NewBellCranks, the linkages of the chains, swash.NewControl and pitch.NewGrip.
func (p *Parts) Head() (*pitch.Head, error) {
	mechanism, err := p.Mechanism()
	if err != nil {
		return nil, err
	}
	control, err := swash.NewControl(mechanism, p.Servos, p.Mix)
	if err != nil {
		return nil, err
	}
	grip, err := pitch.NewGrip(p.Grip, p.Neutral)
	if err != nil {
		return nil, err
	}
	return &pitch.Head{Control: control, Grip: grip}, nil
}

// With returns the rig with other parts, and with the targets of its modes solved again
// for them. Machine stays the one that it was. The errors are those of Refit, and a
// *machine.FieldError for a mode whose targets cannot be worked out.
func (r *Rig) With(p Parts) (*Rig, error) {
	changed, err := r.Refit(p)
	if err != nil {
		return nil, err
	}
	changed.modes = nil
	return changed, changed.buildModes()
}

// Refit returns the rig with other parts, and the radio as it is set: no target is solved
// again. The errors are those of Parts.Head, and a *units.FieldError for more or fewer servos
// than the rig has.
func (r *Rig) Refit(p Parts) (*Rig, error) {
	if !r.built() {
		return nil, errNotBuilt
	}
	if have, want := len(p.Servos), len(r.servos); have != want {
		return nil, &units.FieldError{Field: "servos", Words: "setup: servos:", Reason: fmt.Sprintf("must be one for each of the %d servos of the machine, not %d", want, have)}
	}
	head, err := p.Head()
	if err != nil {
		return nil, err
	}
	changed := *r
	changed.head, changed.parts = head, p.clone()
	changed.servos = slices.Clone(r.servos)
	for i := range changed.servos {
		changed.servos[i].Arm = p.arm(i)
	}
	return &changed, nil
}

// arm returns the radius of a servo's arm, and 0 where it has none.
func (p *Parts) arm(servo int) units.Length {
	if p.Plate.Legs != nil {
		return p.Plate.Legs[servo].Arm.Radius
	}
	return p.Chains[servo][0].Radius()
}

// Mechanism builds what stands between the servos and the plate.
func (p *Parts) Mechanism() (swash.Mechanism, error) {
	if p.Plate.Legs != nil {
		return swash.NewPlate(p.Plate)
	}
	spec := swash.BellCrankSpec{Height: p.Plate.Height}
	for i, to := range []*linkage.Linkage{&spec.Collective, &spec.Right, &spec.Forward} {
		if m := &p.made[i]; !m.of(p.Chains[i]) {
			l, err := join(p.Chains[i])
			if err != nil {
				return nil, err
			}
			*m = made{slices.Clone(p.Chains[i]), l}
		}
		*to = p.made[i].linkage
	}
	return swash.NewBellCranks(spec)
}
