package setup

import (
	"example.org/levelhead/pitch"
	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// Link is a link under the plate.
type Link struct {
	Name   string
	Length units.Length // between its balls
	Servo  int          // behind it, in the order of Parts.Servos
}

// Links returns the links under the plate, in the order of the servos, and each chain's from
// its servo on. Levers have none.
func (p *Parts) Links() []Link {
	var links []Link
	for i, leg := range p.Plate.Legs {
		links = append(links, Link{legLink(p.name(i)), leg.Arm.Link, i})
	}
	for i, chain := range p.Chains {
		n := linked(chain)
		k := 0
		for _, spec := range chain {
			if spec.Link() != 0 {
				links = append(links, Link{chainLink(p.name(i), k, n), spec.Link(), i})
				k++
			}
		}
	}
	return links
}

// SetLink changes the length of a link, which stands at that place in Links. A place where
// there is none changes nothing.
func (p *Parts) SetLink(link int, length units.Length) {
	if link >= 0 && link < len(p.Plate.Legs) {
		p.Plate.Legs[link].Arm.Link = length
		return
	}
	k := len(p.Plate.Legs)
	for _, chain := range p.Chains {
		for i, spec := range chain {
			if spec.Link() == 0 {
				continue
			}
			if k == link {
				chain[i] = spec.WithLink(length)
				return
			}
			k++
		}
	}
}

// linked returns how many links a chain has.
func linked(chain []linkage.Spec) int {
	n := 0
	for _, spec := range chain {
		if spec.Link() != 0 {
			n++
		}
	}
	return n
}

// name returns that of a servo, and "" where it has none.
func (p *Parts) name(servo int) string {
	if servo < len(p.names) {
		return p.names[servo]
	}
	return ""
}

// Body is a part that moves.
type Body struct {
	Name string
	// Servo is the one that moves it by itself, in the order of Parts.Servos; -1 where all
	// move it together.
	Servo int
}

// The names of the bodies that all servos move.
const (
	platePart = "swashplate"
	ringPart  = "rotating ring"
	hornPart  = "pitch horn"
	armPart   = "mixing arm"
)

// Bodies returns what moves between the servos and a blade: servo arms, cranks, the
// swashplate, and the head above it.
func (p *Parts) Bodies() []Body {
	var bodies []Body
	for i := range p.Servos {
		if p.arm(i) != 0 {
			bodies = append(bodies, Body{p.name(i) + " servo arm", i})
		}
	}
	for i, chain := range p.Chains {
		for k := range linked(chain) - 1 {
			bodies = append(bodies, Body{chainCrank(p.name(i), k), i})
		}
	}
	bodies = append(bodies, Body{platePart, -1}, Body{ringPart, -1})
	if p.Grip.Mixer != (pitch.MixingArm{}) {
		bodies = append(bodies, Body{armPart, -1})
	}
	return append(bodies, Body{hornPart, -1})
}

// JointKind is what kind of joint one is: each has its own play.
type JointKind int

// The kinds of joints.
const (
	BallJoint JointKind = iota // a ball link
	Gear                       // of a servo
	Bearing                    // a crank or a mixing arm on its shaft or pin
)

// Joint is a place that can have play on the way from the servos to a blade.
type Joint struct {
	Name string
	Kind JointKind
	// Servo is the one whose gear it is, and -1 for other joints.
	Servo int
	// Link is the link along which its play is, by its place in Links; -1 for a gear, and
	// for what is above the plate.
	Link int
	// Share is by how much of its play the pitch link seems longer, for what is above the
	// plate; 0 below it.
	Share float64
}

// Joints returns the joints with play, from the servos to the blade under the gauge.
func (p *Parts) Joints() []Joint {
	var joints []Joint
	add := func(name string, kind JointKind, link int) {
		joints = append(joints, Joint{Name: name, Kind: kind, Servo: -1, Link: link})
	}
	for i := range p.Servos {
		joints = append(joints, Joint{Name: p.name(i) + " servo gear", Kind: Gear, Servo: i, Link: -1})
	}
	for i := range p.Plate.Legs {
		add(p.name(i)+" ball on the arm", BallJoint, i)
		add(p.name(i)+" ball on the plate", BallJoint, i)
	}
	link := 0
	for i, chain := range p.Chains {
		n := linked(chain)
		for k := range n {
			name := chainLink(p.name(i), k, n)
			add(name+", first ball", BallJoint, link)
			add(name+", second ball", BallJoint, link)
			// The play of a crank between two links is along both.
			for _, crank := range []int{k - 1, k} {
				if crank >= 0 && crank+1 < n {
					add(chainCrank(p.name(i), crank)+", towards the "+ordinal(k)+" link", Bearing, link)
				}
			}
			link++
		}
	}
	return append(joints, above(p.Grip.Mixer)...)
}

// above returns the joints between the plate and a blade. Play at an end of a mixing arm
// reaches the pitch link by that end's share. It is taken along the pitch link, as the plate's
// links are near to.
func above(mixer pitch.MixingArm) []Joint {
	var joints []Joint
	add := func(name string, kind JointKind, share float64) {
		joints = append(joints, Joint{name, kind, -1, -1, share})
	}
	add("pitch link, lower ball", BallJoint, 1)
	add("pitch link, ball on the pitch horn", BallJoint, 1)
	if mixer == (pitch.MixingArm{}) {
		return joints
	}
	plate, bar := mixer.Shares()
	ahead := plate // of what stands before a washout arm
	if mixer.WashoutIn != 0 {
		plate *= float64(mixer.WashoutIn / mixer.WashoutOut)
		add("washout arm, ring's ball", BallJoint, ahead)
		add("washout arm, on its pin", Bearing, ahead+plate)
	}
	add("mixing arm, plate's ball", BallJoint, plate)
	add("mixing arm, flybar's ball", BallJoint, bar)
	add("flybar, on its pin", Bearing, bar)
	return joints
}
