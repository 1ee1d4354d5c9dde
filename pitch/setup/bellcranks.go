package setup

import (
	"errors"
	"fmt"

	"example.org/levelhead/pitch/internal/words"
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
		chain, err := chainOf(m, path+".chain", f.Chain.Chain)
		if err != nil {
			return nil, err
		}
		r.parts.Chains[i] = chain
		if err := r.addServo(path+".servo", f.Name, f.Chain.Servo, chain[0].Radius()); err != nil {
			return nil, err
		}
		r.servos[i].Control = control(f.Name)
	}
	mechanism, err := r.parts.Mechanism()
	if err != nil {
		function, _ := words.Field(units.FieldNames{"Collective": ".collective", "Right": ".right", "Forward": ".forward"}, err)
		return nil, blame(m, "plate.bell_cranks"+function, err)
	}
	return mechanism, nil
}

// chainOf returns what the members of a chain describe. It reports the first member that
// cannot be built, or else why they do not join.
func chainOf(m *machine.Machine, path string, members []machine.Member) ([]linkage.Spec, error) {
	if len(members) == 0 {
		return nil, fail(m, path, "must have one member or more")
	}
	var specs []linkage.Spec
	for k, member := range members {
		spec, err := specOf(member)
		if err == nil {
			_, err = spec.Build()
		}
		if err != nil {
			return nil, blame(m, fmt.Sprintf("%s[%d]", path, k)+memberField(member, err), err)
		}
		specs = append(specs, spec)
	}
	if _, err := join(specs); err != nil {
		return nil, blame(m, path, err)
	}
	return specs, nil
}

// join builds the linkages of a chain, and joins them.
func join(chain []linkage.Spec) (linkage.Linkage, error) {
	var built []linkage.Linkage
	for _, spec := range chain {
		l, err := spec.Build()
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

// memberField returns the path within a member of the field that an error speaks of.
func memberField(p machine.Member, err error) string {
	if !errors.As(err, new(*units.FieldError)) {
		return ""
	}
	field, _ := words.Field(memberFields, err)
	switch {
	case p.ArmToArm != nil:
		return ".arm_to_arm" + field
	case p.ArmToLine != nil:
		return ".arm_to_line" + field
	}
	return ".lever"
}

var errMember = errors.New("must have exactly one of arm_to_arm, arm_to_line and lever")

// specOf returns what a member of the file describes.
func specOf(p machine.Member) (linkage.Spec, error) {
	switch {
	case p.ArmToArm != nil && p.ArmToLine == nil && p.Lever == nil:
		return linkage.ArmsSpec{
			Driving: armOf(p.ArmToArm.Driving, p.ArmToArm.Link),
			Driven:  armOf(p.ArmToArm.Driven, p.ArmToArm.Link),
		}, nil
	case p.ArmToLine != nil && p.ArmToArm == nil && p.Lever == nil:
		return linkage.LineSpec{
			Arm:   armOf(p.ArmToLine.Arm, p.ArmToLine.Link),
			Ball:  p.ArmToLine.Ball,
			Along: p.ArmToLine.Along,
		}, nil
	case p.Lever != nil && p.ArmToArm == nil && p.ArmToLine == nil:
		return leverOf(p.Lever)
	}
	return nil, errMember
}

func leverOf(l *machine.Lever) (linkage.Spec, error) {
	switch {
	case l.Ratio != nil && l.Radius == nil:
		return linkage.LeverSpec{Ratio: *l.Ratio, In: linkage.Angle, Out: linkage.Angle}, nil
	case l.Radius != nil && l.Ratio == nil:
		return linkage.LeverSpec{Ratio: float64(*l.Radius), In: linkage.Angle, Out: linkage.Length}, nil
	}
	return nil, errors.New("must have exactly one of ratio and radius")
}

func armOf(a machine.CrankArm, link units.Length) linkage.ArmSpec {
	return linkage.ArmSpec{Shaft: a.Shaft, Axis: a.Axis, Neutral: a.Neutral, Radius: a.Radius, Link: link}
}
