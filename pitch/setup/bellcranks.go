package setup

import (
	"errors"
	"fmt"

	"example.org/levelhead/pitch/machine"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// buildBellCranks builds a machine whose servos each move one control: collective, right
// cyclic or forward cyclic.
func (r *Rig) buildBellCranks() (swash.Mechanism, error) {
	m := r.file
	if m.Plate.Guide != nil {
		return nil, fail(m, "plate.guide", "must be left out, because bell cranks set the tilt themselves")
	}
	r.parts.Plate.Height = m.Plate.NeutralHeight
	for i, f := range m.Plate.BellCranks.Functions() {
		path := "plate.bell_cranks." + f.Name
		if err := checkChain(m, path, f.Chain.Chain); err != nil {
			return nil, err
		}
		r.parts.Cranks[i] = f.Chain.Chain
		if err := r.addServo(path+".servo", f.Name, f.Chain.Servo, firstArm(f.Chain.Chain)); err != nil {
			return nil, err
		}
		r.servos[i].Control = control(f)
		for k := range linksOf(f) {
			r.links = append(r.links, linkName(f, k, linksOf(f)))
		}
	}
	mechanism, err := r.parts.Mechanism()
	if err != nil {
		path := "plate.bell_cranks"
		if e := (*swash.SpecError)(nil); errors.As(err, &e) && e.Leg >= 0 {
			path += "." + m.Plate.BellCranks.Functions()[e.Leg].Name
		}
		return nil, blame(m, path, err)
	}
	return mechanism, nil
}

// control says a function in the words of the sticks: "right" is right cyclic.
func control(f machine.Function) string {
	if f.Name == "collective" {
		return f.Name
	}
	return f.Name + " cyclic"
}

// linkName names link k of n in the function's chain.
func linkName(f machine.Function, k, n int) string {
	if n == 1 {
		return control(f) + " link"
	}
	return control(f) + ", " + ordinal(k) + " link"
}

// ordinal says the number of a thing counted from 0: "first" for 0.
func ordinal(k int) string {
	words := [...]string{"first", "second", "third", "fourth", "fifth", "sixth"}
	if k < len(words) {
		return words[k]
	}
	return fmt.Sprintf("no. %d", k+1)
}

// links returns how many links the function's chain has: levers have none.
func linksOf(f machine.Function) int {
	n := 0
	for _, member := range f.Chain.Chain {
		if linkOf(member) != nil {
			n++
		}
	}
	return n
}

// checkChain reports the first member that cannot be built, or else why they do not
// join.
func checkChain(m *machine.Machine, path string, members []machine.Member) error {
	if len(members) == 0 {
		return fail(m, path+".chain", "must have one member or more")
	}
	for k, member := range members {
		if _, err := linkageOf(member); err != nil {
			return blame(m, fmt.Sprintf("%s.chain[%d]", path, k)+fieldOf(member, err), err)
		}
	}
	if _, err := chain(members); err != nil {
		return blame(m, path+".chain", err)
	}
	return nil
}

// chain joins the linkages of one or more members.
func chain(members []machine.Member) (linkage.Linkage, error) {
	var built []linkage.Linkage
	for _, member := range members {
		l, err := linkageOf(member)
		if err != nil {
			return nil, err
		}
		built = append(built, l)
	}
	if len(built) == 1 {
		return built[0], nil
	}
	return linkage.NewChain(built...)
}

// field returns the path within a member of the field that an error speaks of.
func fieldOf(p machine.Member, err error) string {
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

var errMember = errors.New("must have exactly one of arm_to_arm, arm_to_line and lever")

func linkageOf(p machine.Member) (linkage.Linkage, error) {
	switch {
	case p.ArmToArm != nil && p.ArmToLine == nil && p.Lever == nil:
		return linkage.NewArmToArm(linkage.ArmsSpec{
			Driving: armOf(p.ArmToArm.Driving, p.ArmToArm.Link),
			Driven:  armOf(p.ArmToArm.Driven, p.ArmToArm.Link),
		})
	case p.ArmToLine != nil && p.ArmToArm == nil && p.Lever == nil:
		return linkage.NewArmToLine(linkage.LineSpec{
			Arm:   armOf(p.ArmToLine.Arm, p.ArmToLine.Link),
			Ball:  p.ArmToLine.Ball,
			Along: p.ArmToLine.Along,
		})
	case p.Lever != nil && p.ArmToArm == nil && p.ArmToLine == nil:
		return leverOf(p.Lever)
	}
	return nil, errMember
}

func leverOf(l *machine.Lever) (linkage.Linkage, error) {
	switch {
	case l.Ratio != nil && l.Radius == nil:
		return linkage.NewLever(*l.Ratio, linkage.Angle, linkage.Angle)
	case l.Radius != nil && l.Ratio == nil:
		return linkage.NewLever(float64(*l.Radius), linkage.Angle, linkage.Length)
	}
	return nil, errors.New("must have exactly one of ratio and radius")
}

func armOf(a machine.CrankArm, link units.Length) linkage.ArmSpec {
	return linkage.ArmSpec{Shaft: a.Shaft, Axis: a.Axis, Neutral: a.Neutral, Radius: a.Radius, Link: link}
}

// link returns the length of a member's link, and nil where it has none.
func linkOf(p machine.Member) *units.Length {
	switch {
	case p.ArmToArm != nil:
		return &p.ArmToArm.Link
	case p.ArmToLine != nil:
		return &p.ArmToLine.Link
	}
	return nil
}

// firstArm returns the radius of the servo's own arm, and 0 where the chain begins with
// a lever.
func firstArm(chain []machine.Member) units.Length {
	switch first := chain[0]; {
	case first.ArmToArm != nil:
		return first.ArmToArm.Driving.Radius
	case first.ArmToLine != nil:
		return first.ArmToLine.Arm.Radius
	}
	return 0
}
