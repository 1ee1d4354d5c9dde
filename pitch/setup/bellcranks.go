package setup

import (
	"errors"
	"fmt"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/swash"
	"example.org/levelhead/units"
)

// buildBellCranks builds a machine whose servos each move one control: collective, right
// cyclic or forward cyclic.
func (r *Rig) buildBellCranks() (swash.Mechanism, error) {
	m := r.Machine
	if m.Plate.Guide != nil {
		return nil, m.fail("plate.guide", "must be left out, because bell cranks set the tilt themselves")
	}
	r.parts.Plate.Height = m.Plate.NeutralHeight
	for i, f := range m.functions() {
		path := "plate.bell_cranks." + f.name
		if err := m.checkChain(path, f.chain.Chain); err != nil {
			return nil, err
		}
		r.parts.Cranks[i] = f.chain.Chain
		if err := r.addServo(path+".servo", f.name, f.chain.Servo, firstArm(f.chain.Chain)); err != nil {
			return nil, err
		}
		for k := range f.links() {
			r.links = append(r.links, f.linkName(k, f.links()))
		}
	}
	mechanism, err := r.parts.mechanism()
	if err != nil {
		function, _ := fieldOf(units.FieldNames{"Collective": ".collective", "Right": ".right", "Forward": ".forward"}, err)
		return nil, m.blame("plate.bell_cranks"+function, err)
	}
	return mechanism, nil
}

// function is one function of a bell-crank machine.
type function struct {
	name  string
	chain *CrankChain
}

func (m *Machine) functions() []function {
	b := m.Plate.BellCranks
	return []function{{"collective", &b.Collective}, {"right", &b.Right}, {"forward", &b.Forward}}
}

// control says a function in the words of the sticks: "right" is right cyclic.
func (f function) control() string {
	if f.name == "collective" {
		return f.name
	}
	return f.name + " cyclic"
}

// linkName names link k of n in the function's chain.
func (f function) linkName(k, n int) string {
	if n == 1 {
		return f.control() + " link"
	}
	return f.control() + ", " + ordinal(k) + " link"
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
func (f function) links() int {
	n := 0
	for _, member := range f.chain.Chain {
		if member.link() != nil {
			n++
		}
	}
	return n
}

// checkChain reports the first member that cannot be built, or else why they do not
// join.
func (m *Machine) checkChain(path string, members []Member) error {
	if len(members) == 0 {
		return m.fail(path+".chain", "must have one member or more")
	}
	for k, member := range members {
		if _, err := member.build(); err != nil {
			return m.blame(fmt.Sprintf("%s.chain[%d]", path, k)+member.field(err), err)
		}
	}
	if _, err := chain(members); err != nil {
		return m.blame(path+".chain", err)
	}
	return nil
}

// chain joins the linkages of one or more members.
func chain(members []Member) (linkage.Linkage, error) {
	var built []linkage.Linkage
	for _, member := range members {
		l, err := member.build()
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

// memberFields are the fields of a member by those of a linkage.ArmsSpec or LineSpec.
var memberFields = units.FieldNames{
	"Driving.Link":    ".link",
	"Driving.Radius":  ".driving.radius",
	"Driving.Axis":    ".driving.axis",
	"Driving.Neutral": ".driving.neutral",
	"Driven.Radius":   ".driven.radius",
	"Driven.Axis":     ".driven.axis",
	"Driven.Neutral":  ".driven.neutral",
	"Arm.Link":        ".link",
	"Arm.Radius":      ".arm.radius",
	"Arm.Axis":        ".arm.axis",
	"Along":           ".along",
}

// field returns the path within a member of the field that an error speaks of.
func (p Member) field(err error) string {
	if !errors.As(err, new(*units.FieldError)) {
		return ""
	}
	field, _ := fieldOf(memberFields, err)
	switch {
	case p.ArmToArm != nil:
		return ".arm_to_arm" + field
	case p.ArmToLine != nil:
		return ".arm_to_line" + field
	}
	return ".lever"
}

var errMember = errors.New("must have exactly one of arm_to_arm, arm_to_line and lever")

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
	return nil, errors.New("must have exactly one of ratio and radius")
}

func (a CrankArm) spec(link units.Length) linkage.ArmSpec {
	return linkage.ArmSpec{Shaft: a.Shaft, Axis: a.Axis, Neutral: a.Neutral, Radius: a.Radius, Link: link}
}

// link returns the length of a member's link, and nil where it has none.
func (p Member) link() *units.Length {
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
func firstArm(chain []Member) units.Length {
	switch first := chain[0]; {
	case first.ArmToArm != nil:
		return first.ArmToArm.Driving.Radius
	case first.ArmToLine != nil:
		return first.ArmToLine.Arm.Radius
	}
	return 0
}
