package machine

import (
	"errors"
	"maps"

	"example.org/levelhead/servo/linkage"
	"example.org/levelhead/units"
)

// Member is one linkage of a chain: one of its fields is given. Two arms on one
// shaft are a bell crank: the output of one member is the input of the next.
//
// These are all the geometry types of machine files. Another one is a field here, and a type
// that is a Geometry.
type Member struct {
	ArmToArm  *ArmToArm  `json:"arm_to_arm,omitempty"`
	ArmToLine *ArmToLine `json:"arm_to_line,omitempty"`
	Lever     *Lever     `json:"lever,omitempty"`
}

// Geometry is a geometry type as a machine file has it.
type Geometry interface {
	// Spec returns the linkage that is described. The error is a *ChoiceError where the
	// geometry is itself a choice of fields.
	Spec() (linkage.Spec, error)
	// Fields are the fields in the file, such as ".driving.radius", by those of the Spec.
	Fields() units.FieldNames
	// SetArm changes the radius of the driving arm. A link is cut anew, so that what the arm
	// moves stands at neutral where it is drawn, at an output of 0. The error says of the
	// member that it has no arm to change.
	SetArm(radius units.Length) error
}

// Geometry returns what a member gives, and its name in the file. The error is a *ChoiceError.
func (m Member) Geometry() (field string, g Geometry, err error) { return choose[Geometry](m) }

// CrankArm is an arm on a shaft.
type CrankArm struct {
	Shaft   linkage.Point     `json:"shaft"`
	Axis    linkage.Direction `json:"axis"`
	Neutral linkage.Direction `json:"neutral"`
	Radius  units.Length      `json:"radius"`
}

func (a CrankArm) spec(link units.Length) linkage.ArmSpec {
	return linkage.ArmSpec{Shaft: a.Shaft, Axis: a.Axis, Neutral: a.Neutral, Radius: a.Radius, Link: link}
}

// ball returns where the arm's ball stands at neutral.
func (a CrankArm) ball() linkage.Point { return a.Shaft.Along(a.Neutral, a.Radius) }

// armFields are the fields of a CrankArm that is called so in the file, by those of the
// linkage.ArmSpec that is called so in its Spec; with others.
func armFields(spec, file string, others units.FieldNames) units.FieldNames {
	fields := units.FieldNames{
		spec + ".Shaft":   file + ".shaft",
		spec + ".Axis":    file + ".axis",
		spec + ".Neutral": file + ".neutral",
		spec + ".Radius":  file + ".radius",
	}
	maps.Copy(fields, others)
	return fields
}

// ArmToArm is an arm whose link turns another arm.
type ArmToArm struct {
	Driving CrankArm     `json:"driving"`
	Driven  CrankArm     `json:"driven"`
	Link    units.Length `json:"link"`
}

// Spec implements Geometry.
func (a *ArmToArm) Spec() (linkage.Spec, error) {
	return linkage.ArmsSpec{Driving: a.Driving.spec(a.Link), Driven: a.Driven.spec(a.Link)}, nil
}

// Fields implements Geometry.
func (a *ArmToArm) Fields() units.FieldNames {
	return armFields("Driving", ".driving", armFields("Driven", ".driven", units.FieldNames{"Driving.Link": ".link"}))
}

// SetArm implements Geometry.
func (a *ArmToArm) SetArm(radius units.Length) error {
	a.Driving.Radius = radius
	a.Link = a.Driving.ball().Distance(a.Driven.ball())
	return nil
}

// ArmToLine is an arm whose link moves a ball along a straight line.
type ArmToLine struct {
	Arm   CrankArm          `json:"arm"`
	Link  units.Length      `json:"link"`
	Ball  linkage.Point     `json:"ball"` // where it is drawn at neutral
	Along linkage.Direction `json:"along"`
}

// Spec implements Geometry.
func (a *ArmToLine) Spec() (linkage.Spec, error) {
	return linkage.LineSpec{Arm: a.Arm.spec(a.Link), Ball: a.Ball, Along: a.Along}, nil
}

// Fields implements Geometry.
func (a *ArmToLine) Fields() units.FieldNames {
	return armFields("Arm", ".arm", units.FieldNames{"Arm.Link": ".link", "Ball": ".ball", "Along": ".along"})
}

// SetArm implements Geometry.
func (a *ArmToLine) SetArm(radius units.Length) error {
	a.Arm.Radius = radius
	a.Link = a.Arm.ball().Distance(a.Ball)
	return nil
}

// Lever is a fixed ratio from an angle to an angle, or from an angle to a length by
// a radius: one of its fields is given.
type Lever struct {
	Ratio  *float64      `json:"ratio,omitempty"`
	Radius *units.Length `json:"radius,omitempty"`
}

// Spec implements Geometry.
func (l *Lever) Spec() (linkage.Spec, error) {
	if _, _, err := choose[any](*l); err != nil {
		return nil, err
	}
	if l.Ratio != nil {
		return linkage.LeverSpec{Ratio: *l.Ratio, In: linkage.Angle, Out: linkage.Angle}, nil
	}
	return linkage.LeverSpec{Ratio: float64(*l.Radius), In: linkage.Angle, Out: linkage.Length}, nil
}

// Fields implements Geometry: all that can be wrong with a lever is its one number.
func (l *Lever) Fields() units.FieldNames { return units.FieldNames{"Ratio": ""} }

// SetArm implements Geometry.
func (l *Lever) SetArm(units.Length) error { return errNoArm }

var errNoArm = errors.New("is a lever, so the servo has no arm to change")
