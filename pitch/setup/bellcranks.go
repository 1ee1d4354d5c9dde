package setup

import (
	"errors"
	"fmt"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// buildBellCranks builds a machine whose servos each drive one function.
func (r *Rig) buildBellCranks() (swash.Mechanism, error) {
	m := r.Machine
	if m.Plate.Guide != nil {
		return nil, m.fail("plate.guide", "given, but bell cranks give the lean itself: no guide changes it")
	}
	r.cranks.Height = m.Plate.NeutralHeight
	for i, f := range r.functions() {
		path := "plate.bell_cranks." + f.name
		chain, err := m.chain(path, f.chain.Chain)
		if err != nil {
			return nil, err
		}
		*f.to = chain
		if err := r.addServo(path+".servo", f.name, f.chain.Servo, f.chain.arm()); err != nil {
			return nil, err
		}
		for k, member := range f.chain.Chain {
			if length := member.link(); length > 0 {
				r.links = append(r.links, r.crankLink(i, k, f.name, length))
			}
		}
	}
	mechanism, err := swash.NewBellCranks(r.cranks)
	if err != nil {
		path := "plate.bell_cranks"
		if e := (*swash.SpecError)(nil); errors.As(err, &e) && e.Leg >= 0 {
			path += "." + r.functions()[e.Leg].name
		}
		return nil, m.blame(path, err)
	}
	return mechanism, nil
}

// function is one function of a bell-crank machine, and where its linkage goes.
type function struct {
	name  string
	chain *CrankChain
	to    *linkage.Linkage
}

func (r *Rig) functions() []function {
	b := r.Machine.Plate.BellCranks
	return []function{
		{"collective", &b.Collective, &r.cranks.Collective},
		{"right", &b.Right, &r.cranks.Right},
		{"forward", &b.Forward, &r.cranks.Forward},
	}
}

// crankLink is the link of member k in function i's chain.
func (r *Rig) crankLink(i, k int, name string, length units.Length) rigLink {
	if n := len(r.functions()[i].chain.Chain); n > 1 {
		name = fmt.Sprintf("%s link %d of %d", name, k+1, n)
	} else {
		name += " link"
	}
	return rigLink{name, length, func(length units.Length) (swash.Mechanism, error) {
		changed := *r
		f := changed.functions()[i]
		members := append([]Member(nil), f.chain.Chain...)
		members[k] = members[k].withLink(length)
		chain, err := r.Machine.chain("plate.bell_cranks."+f.name, members)
		if err != nil {
			return nil, err
		}
		*f.to = chain
		return swash.NewBellCranks(changed.cranks)
	}}
}

func (m *Machine) chain(path string, members []Member) (linkage.Linkage, error) {
	if len(members) == 0 {
		return nil, m.fail(path+".chain", "there are no members")
	}
	var built []linkage.Linkage
	for k, member := range members {
		at := fmt.Sprintf("%s.chain[%d]", path, k)
		l, err := member.build()
		if err != nil {
			return nil, m.blame(at+member.field(err), err)
		}
		built = append(built, l)
	}
	if len(built) == 1 {
		return built[0], nil
	}
	chain, err := linkage.NewChain(built...)
	if err != nil {
		return nil, m.blame(path+".chain", err)
	}
	return chain, nil
}

// field returns the path within a member of the field that an error speaks of.
func (p Member) field(err error) string {
	var spec *linkage.SpecError
	if !errors.As(err, &spec) {
		return ""
	}
	field := map[string]string{
		"Link":            ".link",
		"Driving.Link":    ".link",
		"Driving.Radius":  ".driving.radius",
		"Driving.Axis":    ".driving.axis",
		"Driving.Neutral": ".driving.neutral",
		"Driven.Radius":   ".driven.radius",
		"Driven.Axis":     ".driven.axis",
		"Driven.Neutral":  ".driven.neutral",
		"Radius":          ".arm.radius",
		"Axis":            ".arm.axis",
		"Along":           ".along",
	}[spec.Field]
	switch {
	case p.ArmToArm != nil:
		return ".arm_to_arm" + field
	case p.ArmToLine != nil:
		return ".arm_to_line" + field
	}
	return ".lever"
}

var errMember = errors.New("wants one of arm_to_arm, arm_to_line and lever")

func (p Member) build() (linkage.Linkage, error) {
	switch {
	case p.ArmToArm != nil && p.ArmToLine == nil && p.Lever == nil:
		return linkage.NewArmToArm(linkage.ArmsSpec{
			Driving: p.ArmToArm.Driving.spec(p.ArmToArm.Link),
			Driven:  p.ArmToArm.Driven.spec(p.ArmToArm.Link),
		})
	case p.ArmToLine != nil && p.ArmToArm == nil && p.Lever == nil:
		return linkage.NewArmToLine(linkage.LineSpec{
			Arm:   p.ArmToLine.Arm.spec(p.ArmToLine.Link),
			Ball:  p.ArmToLine.Ball,
			Along: p.ArmToLine.Along,
		})
	case p.Lever != nil && p.ArmToArm == nil && p.ArmToLine == nil:
		return p.Lever.build()
	}
	return nil, errMember
}

func (l *Lever) build() (linkage.Linkage, error) {
	switch {
	case l.Ratio != nil && l.Radius == nil:
		return linkage.NewLever(*l.Ratio, linkage.Angle, linkage.Angle)
	case l.Radius != nil && l.Ratio == nil:
		return linkage.NewLever(float64(*l.Radius), linkage.Angle, linkage.Length)
	}
	return nil, errors.New("wants one of ratio and radius")
}

func (a CrankArm) spec(link units.Length) linkage.ArmSpec {
	return linkage.ArmSpec{Shaft: a.Shaft, Axis: a.Axis, Neutral: a.Neutral, Radius: a.Radius, Link: link}
}

// link returns the length of a member's link, and 0 where it has none.
func (p Member) link() units.Length {
	switch {
	case p.ArmToArm != nil:
		return p.ArmToArm.Link
	case p.ArmToLine != nil:
		return p.ArmToLine.Link
	}
	return 0
}

// withLink returns the member with its link changed.
func (p Member) withLink(length units.Length) Member {
	switch {
	case p.ArmToArm != nil:
		changed := *p.ArmToArm
		changed.Link = length
		return Member{ArmToArm: &changed}
	case p.ArmToLine != nil:
		changed := *p.ArmToLine
		changed.Link = length
		return Member{ArmToLine: &changed}
	}
	return p
}

// arm returns the radius of the servo's own arm, and 0 where the chain begins with
// a lever.
func (c *CrankChain) arm() units.Length {
	switch first := c.Chain[0]; {
	case first.ArmToArm != nil:
		return first.ArmToArm.Driving.Radius
	case first.ArmToLine != nil:
		return first.ArmToLine.Arm.Radius
	}
	return 0
}
