package setup

import (
	"fmt"
	"slices"

	"example.org/levelhead/pitch"
	"example.org/levelhead/servo"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// Parts are what a rig is made of, at their exact sizes. They can be changed, such as
// by a turn of a link or another hole of an arm, and put together again.
type Parts struct {
	Plate  swash.PlateSpec // without legs where bell cranks move it: they use only its height
	Cranks [3][]Member     // the collective, right and forward chains; empty on a direct plate
	Servos []servo.Servo   // in the order of the legs; on bell cranks collective, right cyclic, forward cyclic
	Mix    swash.Mix
	Grip   pitch.GripSpec
	// Neutral is the height of the plate, all arms neutral, for which the head is
	// drawn.
	Neutral units.Length
}

// Parts returns the rig's parts, for the caller to change.
func (r *Rig) Parts() Parts { return r.parts.clone() }

// clone returns parts that can be changed without changing p.
func (p Parts) clone() Parts {
	p.Plate.Legs = slices.Clone(p.Plate.Legs)
	for i, chain := range p.Cranks {
		p.Cranks[i] = make([]Member, len(chain))
		for k, member := range chain {
			p.Cranks[i][k] = member.clone()
		}
	}
	p.Servos = slices.Clone(p.Servos)
	p.Mix = slices.Clone(p.Mix)
	return p
}

// Head puts the parts together. The errors are those of swash.NewPlate,
// swash.NewBellCranks, the linkages of the chains, swash.NewControl and pitch.NewGrip.
func (p *Parts) Head() (*pitch.Head, error) {
	mechanism, err := p.mechanism()
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
// for them. The machine file stays the one that it was. The errors are those of
// Parts.Head, a *units.FieldError for more or fewer servos than the rig has, and a
// *FieldError for a mode whose targets cannot be worked out.
func (r *Rig) With(p Parts) (*Rig, error) {
	if have, want := len(p.Servos), len(r.Servos); have != want {
		return nil, &units.FieldError{Field: "servos", Words: "swash: servos:", Reason: fmt.Sprintf("must be one for each of the %d servos of the machine, not %d", want, have)}
	}
	head, err := p.Head()
	if err != nil {
		return nil, err
	}
	changed := *r
	changed.Head, changed.parts, changed.Modes = head, p.clone(), nil
	changed.Servos = slices.Clone(r.Servos)
	for i := range changed.Servos {
		changed.Servos[i].Arm = p.arm(i)
	}
	return &changed, changed.buildModes()
}

// arm returns the radius of a servo's arm, and 0 where it has none.
func (p *Parts) arm(servo int) units.Length {
	if p.Plate.Legs != nil {
		return p.Plate.Legs[servo].Arm.Radius
	}
	return firstArm(p.Cranks[servo])
}

// mechanism builds what stands between the servos and the plate.
func (p *Parts) mechanism() (swash.Mechanism, error) {
	if p.Plate.Legs != nil {
		return swash.NewPlate(p.Plate)
	}
	spec := swash.BellCrankSpec{Height: p.Plate.Height}
	for i, to := range []*linkage.Linkage{&spec.Collective, &spec.Right, &spec.Forward} {
		var err error
		if *to, err = chain(p.Cranks[i]); err != nil {
			return nil, err
		}
	}
	return swash.NewBellCranks(spec)
}

// LinkNames returns the name of every link under the plate, in the order of Parts.Links.
func (r *Rig) LinkNames() []string { return slices.Clone(r.links) }

// Links returns the length of every link under the plate, in the order of the
// servos, for reading and changing.
func (p *Parts) Links() []*units.Length {
	var links []*units.Length
	for i := range p.Plate.Legs {
		links = append(links, &p.Plate.Legs[i].Arm.Link)
	}
	for _, chain := range p.Cranks {
		for _, member := range chain {
			if link := member.link(); link != nil {
				links = append(links, link)
			}
		}
	}
	return links
}

// clone returns a copy whose links can be changed without changing the member's.
func (p Member) clone() Member {
	if p.ArmToArm != nil {
		p.ArmToArm = pointerTo(*p.ArmToArm)
	}
	if p.ArmToLine != nil {
		p.ArmToLine = pointerTo(*p.ArmToLine)
	}
	return p
}

func pointerTo[T any](v T) *T { return &v }
